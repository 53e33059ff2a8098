"""Crews over all houses, read in few queries."""
