"""Slanting lines inside a closed outline."""

from portal.drawings.scenes.scene import Point


def hatch_lines(outline: tuple[Point, ...], spacing: float) -> list[tuple[Point, Point]]:
    """Draw lines at 45 degrees, `spacing` mm apart along x, inside the closed `outline` (points in mm, any winding).

    Outlines that cross themselves are filled by the even-odd rule.
    """
    offsets = [x - y for x, y in outline]
    first = int(min(offsets) // spacing)
    last = int(max(offsets) // spacing) + 1
    lines = []
    for number in range(first, last + 1):
        crossings = _crossings(outline, (number + 0.5) * spacing)
        lines += list(zip(crossings[::2], crossings[1::2], strict=False))
    return lines


def _crossings(outline: tuple[Point, ...], offset: float) -> list[Point]:
    """Where the line x - y = offset crosses the outline, from lower left to upper right."""
    found = []
    for (x1, y1), (x2, y2) in zip(outline, outline[1:] + outline[:1], strict=True):
        a, b = x1 - y1 - offset, x2 - y2 - offset
        if (a < 0) != (b < 0):
            t = a / (a - b)
            found.append((x1 + t * (x2 - x1), y1 + t * (y2 - y1)))
    return sorted(found)
