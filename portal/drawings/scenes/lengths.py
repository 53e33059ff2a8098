"""Lengths of a layout as numbers to draw with."""

from portal.layouts.length import Length


def mm(length: Length) -> float:
    """Give a length in mm, as near as a float comes."""
    return float(length.mm)
