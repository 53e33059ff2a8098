"""Crews at the desk: the list, the week over all houses."""
