"""Where the names of lines and holes stand on one page of a template: on the page, clear of holes and of each other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Item
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
    found: list[Name] = []
    for tries in (*_of_rings(rings, page), *_of_lines(seen)):
        best = min(tries, key=lambda name: _trouble(name, page, [*taken, *(one.box for one in found)], lines))
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


def _trouble(name: Name, page: Box, taken: Iterable[Box], lines: Iterable[Edge]) -> tuple[float, int, int]:
    """How far the words run off the page, what they cover, and how many lines run through them."""
    box, inner = name.box, page.grown(-_INSIDE)
    off = (max(0.0, inner.left - box.left) + max(0.0, box.right - inner.right)
           + max(0.0, inner.bottom - box.bottom) + max(0.0, box.top - inner.top))
    return off, sum(_meet(box, other) for other in taken), sum(line.within(box) is not None for line in lines)


def _meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.bottom < other.top and other.bottom < one.top


def _ring(item: Circle | Center) -> Box:
    reach = _reach(item)
    return Box(item.x - reach, item.y - reach, item.x + reach, item.y + reach)


def _reach(item: Circle | Center) -> float:
    """As far as its rim, or the cross through a hole."""
    return item.diameter * 0.65 if item.layer is Layer.HOLE else item.diameter / 2

