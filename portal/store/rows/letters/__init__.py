"""Rows of what becomes of letters: who wants none, and what came back."""
