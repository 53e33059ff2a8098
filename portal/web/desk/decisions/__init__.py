"""Decisions at the desk: in words, by drawing, on paper, and their sheets."""
