"""Queries about how the staff are signed in: sessions, the second factor, and what was done to accounts."""
