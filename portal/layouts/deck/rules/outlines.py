"""Outlines of zones: convex polygons, corners counterclockwise, cut by straight lines. In mm as plain numbers."""

from math import acos, atan2, ceil, cos, pi, sin

from portal.layouts.deck.rules.distances import Rounded, to_area

Outline = tuple[tuple[float, float], ...]

_INSIDE = 0.05
"""How far, in mm, the polygon that stands for a round limit lies inside of it at most."""


_NOTHING = 1e-6
"""In mm; distances are rounded to it."""

_ON_THE_LINE = 1e-8
"""In mm; less than any distance is told to, and more than plain numbers are off."""


def box(left: float, right: float, front: float, back: float) -> Outline:
    """Make an upright rectangle."""
    return (left, front), (right, front), (right, back), (left, back)


def cut(outline: Outline, across: float, deep: float, most: float) -> Outline:
    """Keep what lies at most so far in a direction: `across * x + deep * y <= most`. Empty when nothing is left. A
    corner on the line stays, so that two lines through one place leave a stretch of them."""
    off = [across * x + deep * y - most - _ON_THE_LINE for x, y in outline]
    if max(off, default=0.0) <= 0:
        return outline
    kept: list[tuple[float, float]] = []
    for index, (point, over) in enumerate(zip(outline, off, strict=True)):
        before, over_before = outline[index - 1], off[index - 1]
        if (over > 0) != (over_before > 0):
            share = over_before / (over_before - over)
            kept.append((before[0] + share * (point[0] - before[0]), before[1] + share * (point[1] - before[1])))
        if over <= 0:
            kept.append(point)
    return tuple(kept)


def near(outline: Outline, area: Rounded, most: float, x: float, y: float) -> Outline:
    """Keep what lies at most so far from a rectangle with rounded corners; up to _INSIDE less about its corners, never
    more, and the place (x, y), if that is near enough. Empty where there is no more than a point to keep."""
    if all(to_area(at_x, at_y, area) <= most for at_x, at_y in outline):
        return outline
    if max(area[2:]) + most < _NOTHING:
        return ()
    around = _grown(area, most, (x, y))
    for (x1, y1), (x2, y2) in zip(around, (*around[1:], around[0]), strict=True):
        across, deep = y2 - y1, x1 - x2
        outline = cut(outline, across, deep, across * x1 + deep * y1)
    return outline


def _grown(area: Rounded, by: float, toward: tuple[float, float]) -> Outline:
    """Points on the limit of all that is nearer than `by`, counterclockwise; one of them straight toward a place."""
    x, y, half_width, half_depth, corner = area
    wide, high, radius = half_width - corner, half_depth - corner, corner + by
    steps = ceil(pi / 4 / acos(1 - min(_INSIDE / radius, 0.5))) if radius else 1
    points = []
    for quarter, (right, back) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        at_x, at_y = x + right * wide, y + back * high
        own = atan2(toward[1] - at_y, toward[0] - at_x) % (2 * pi) / (pi / 2) - quarter
        turns = sorted({*(step / steps for step in range(steps + 1)), *([own] if 0 < own < 1 else [])})
        points += [(at_x + radius * cos((quarter + turn) * pi / 2), at_y + radius * sin((quarter + turn) * pi / 2))
                   for turn in turns]
    return tuple(points)
