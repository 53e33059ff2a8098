"""Distances on a deck, in mm as plain numbers, rounded to the nanometre so that an exact tie passes its check."""

from math import hypot

Rounded = tuple[float, float, float, float, float]
"""Center x and y, half width, half depth, corner radius."""


def to_area(x: float, y: float, area: Rounded) -> float:
    """Measure from a point to the limit of a rectangle with rounded corners; negative inside it."""
    center_x, center_y, half_width, half_depth, corner = area
    across = abs(x - center_x) - half_width + corner
    deep = abs(y - center_y) - half_depth + corner
    if across <= 0 or deep <= 0:
        return round(max(across, deep) - corner, 6)
    return round(hypot(across, deep) - corner, 6)


def between(x1: float, y1: float, x2: float, y2: float) -> float:
    """Measure from point to point."""
    return round(hypot(x1 - x2, y1 - y2), 6)


def between_areas(one: Rounded, other: Rounded) -> float:
    """Measure from limit to limit of two rectangles, their corners taken as square; negative when they overlap."""
    across = abs(one[0] - other[0]) - one[2] - other[2]
    deep = abs(one[1] - other[1]) - one[3] - other[3]
    if across <= 0 or deep <= 0:
        return round(max(across, deep), 6)
    return round(hypot(across, deep), 6)
