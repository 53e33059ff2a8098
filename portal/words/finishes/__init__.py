"""Finishes in words, and colors as screens have them. Pure."""
