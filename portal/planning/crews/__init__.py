"""Crews by the names that plans give them."""
