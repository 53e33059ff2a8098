"""Distances on a deck, in mm as plain numbers, rounded to the nanometre so that an exact tie passes its check."""

from math import hypot, sqrt

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


def away_from(x: float, y: float, area: Rounded) -> tuple[float, float]:
    """Give the direction, of length 1, in which a point outside a rectangle gets away from it the fastest."""
    center_x, center_y, half_width, half_depth, corner = area
    across = max(abs(x - center_x) - half_width + corner, 0.0)
    deep = max(abs(y - center_y) - half_depth + corner, 0.0)
    long = hypot(across, deep)
    if not long:
        raise ValueError("the point is inside the rectangle")
    return (across / long if x > center_x else -across / long), (deep / long if y > center_y else -deep / long)


def within(y: float, area: Rounded, apart: float) -> tuple[float, float] | None:
    """Give the stretch along a row, from x to x, that is nearer to a rectangle than `apart`; None where none is."""
    center_x, center_y, half_width, half_depth, corner = area
    deep = max(abs(y - center_y) - half_depth + corner, 0.0)
    round_by = apart + corner
    if round_by <= deep:
        return None
    half = half_width - corner + sqrt(round_by**2 - deep**2)
    return center_x - half, center_x + half


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
