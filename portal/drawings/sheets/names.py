"""Where the names of lines and holes stand on one page of a template: on the page, clear of holes and of each other."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Item, Line, Point, Polyline, Rect
from portal.drawings.sheets.edges import Edge
from portal.drawings.sheets.lettering import BOLD, PLAIN, width_mm
from portal.drawings.sheets.paper import POINTS

_HOLE = 11.0  # points
_LINE = 8.5
_INSIDE = 2.0  # mm that words keep from the end of the page
_APART = 1.2  # mm from a line to its words
_ALONG = (0.5, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)  # where along a line its name is tried


@dataclass(frozen=True)
class Name:
    """Words of `size` points whose middle is at (x, y) mm of the scene; `upright` words read from the right."""

    text: str
    x: float
    y: float
    size: float
    font: str = PLAIN
    upright: bool = False

    @property
    def box(self) -> Box:
        """Give the space that the words take, in mm of the scene."""
        along, across = width_mm(self.text, self.size, self.font) / 2 + 0.5, self.size / POINTS / 2
        wide, high = (across, along) if self.upright else (along, across)
        return Box(self.x - wide, self.y - high, self.x + wide, self.y + high)


def names_on(page: Box, items: Sequence[Item], edges: Sequence[Edge], joints: Sequence[Edge]) -> list[Name]:
    """Place the names of all holes and lines that `page` (mm of the scene) shows; of `joints` only the place is
    taken."""
    rings = [item for item in items if isinstance(item, Circle | Center)]
    taken = [_ring(item) for item in rings]
    seen = [part for edge in edges if (part := edge.within(page))]
    lines = [*seen, *joints]
    curves, along = _curves(items), {edge.name for edge in seen}
    found: list[Name] = []
    for tries in (*_of_rings(rings, page), *_of_lines(seen)):
        more = _beside(tries, page) if curves and tries[0].text in along else []
        best = min([*tries, *more],
                   key=lambda name: _trouble(name, page, [*taken, *(one.box for one in found)], lines, curves))
        found.append(best)
    return found


def _of_rings(rings: Sequence[Circle | Center], page: Box) -> Iterator[list[Name]]:
    """Holes first: whatever is drilled must be named, and nearest."""
    for ring in sorted(rings, key=lambda one: one.layer is not Layer.HOLE):
        if ring.note and page.left <= ring.x <= page.right and page.bottom <= ring.y <= page.top:
            drilled = ring.layer is Layer.HOLE
            reach = max(_reach(one) for one in rings if (one.x, one.y) == (ring.x, ring.y))
            size, font = (_HOLE, BOLD) if drilled else (_LINE, PLAIN)
            away = reach + _APART + size / POINTS / 2
            sides = (-away, away) if drilled else (away, -away, away + 5, -away - 5)
            yield [Name(ring.note, ring.x + aside, ring.y + side, size, font)
                   for side in sides for aside in (0.0, 20.0, -20.0, 40.0, -40.0)]


def _of_lines(edges: Iterable[Edge]) -> list[list[Name]]:
    """One name for all that lie end to end: the four sides of a cut-out are one edge."""
    tries: dict[str, list[Name]] = {}
    for edge in edges:
        tries.setdefault(edge.name, []).extend(_of_line(edge))
    return list(tries.values())


def _of_line(edge: Edge) -> list[Name]:
    away = _APART + _LINE / POINTS / 2
    dx, dy = edge.x2 - edge.x1, edge.y2 - edge.y1
    middles = [(edge.x1 + dx * share, edge.y1 + dy * share) for share in _ALONG]
    if edge.level:
        return [Name(edge.name, x, y + side, _LINE) for x, y in middles for side in (-away, away)]
    return [Name(edge.name, x + side, y, _LINE, upright=True) for x, y in middles for side in (away, -away)]


def _beside(tries: Sequence[Name], page: Box) -> list[Name]:
    """The same names of lines a little farther along, each moved onto the page where it runs off. One of a hole stays
    by its hole."""
    found = []
    for name in tries:
        for by in (10.0, -10.0, 30.0, -30.0):
            box = name.box
            dx, dy = (0.0, by) if name.upright else (by, 0.0)
            dx = min(max(dx, page.left + _INSIDE - box.left), page.right - _INSIDE - box.right)
            dy = min(max(dy, page.bottom + _INSIDE - box.bottom), page.top - _INSIDE - box.top)
            found.append(replace(name, x=name.x + dx, y=name.y + dy))
    return found


def _curves(items: Iterable[Item]) -> list[list[Point]]:
    """Points close together along what is round or dotted and has no straight line for a name to keep off. None in
    drawings that were kept before they had datums: these are printed as they were."""
    found = list(items)
    if not any(item.layer is Layer.DATUM for item in found if isinstance(item, Line)):
        return []
    curves = [_rounded(item) for item in found if isinstance(item, Rect) and item.radius]
    return [*curves, *(_along(item.points) for item in found if isinstance(item, Polyline))]


def _rounded(rect: Rect) -> list[Point]:
    left, right, low, high = rect.x, rect.x + rect.width, rect.y, rect.y + rect.height
    r = rect.radius
    corners = ((right - r, high - r, 0), (left + r, high - r, 90), (left + r, low + r, 180), (right - r, low + r, 270))
    return _along([(x + r * math.cos(math.radians(start + turn)), y + r * math.sin(math.radians(start + turn)))
                   for x, y, start in corners for turn in range(0, 91, 15)])


def _along(corners: Sequence[Point]) -> list[Point]:
    """Points no farther apart than letters are high."""
    found: list[Point] = []
    for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        steps = int(math.hypot(x2 - x1, y2 - y1) // 2) + 1
        found += [(x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps) for step in range(steps)]
    return found


def _trouble(
    name: Name, page: Box, taken: Iterable[Box], lines: Iterable[Edge], curves: Iterable[Sequence[Point]]
) -> tuple[float, int, int]:
    """How far the words run off the page, what they cover, and how many lines run through them."""
    box, inner = name.box, page.grown(-_INSIDE)
    off = (max(0.0, inner.left - box.left) + max(0.0, box.right - inner.right)
           + max(0.0, inner.bottom - box.bottom) + max(0.0, box.top - inner.top))
    through = sum(line.within(box) is not None for line in lines)
    through += sum(any(box.left < x < box.right and box.bottom < y < box.top for x, y in curve) for curve in curves)
    return off, sum(_meet(box, other) for other in taken), through


def _meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.bottom < other.top and other.bottom < one.top


def _ring(item: Circle | Center) -> Box:
    reach = _reach(item)
    return Box(item.x - reach, item.y - reach, item.x + reach, item.y + reach)


def _reach(item: Circle | Center) -> float:
    """As far as its rim, or the cross through a hole."""
    return item.diameter * 0.65 if item.layer is Layer.HOLE else item.diameter / 2

