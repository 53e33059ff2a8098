"""Lengths of a layout as numbers to draw with and as words to measure by."""

from portal.layouts.length import Length


def mm(length: Length) -> float:
    return float(length.mm)


def both(length: Length) -> str:
    """As one measures it, in its own system and the other: `1-3/8 in (34.925 mm)`, `35 mm (about 1-3/8 in)`."""
    if length.unit.is_inch:
        return f"{length.shown().text} ({length.millimeters(3).text})"
    return f"{length.shown().text} ({length.inches().text})"
