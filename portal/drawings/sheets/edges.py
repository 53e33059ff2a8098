"""The straight lines of a scene that have a name: what a template is laid on, and what is written along each."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Item, Line, Rect

_NAMES = {
    Layer.WALL: "wall", Layer.EDGE: "edge of the top", Layer.CUT_OUT: "edge of the cut-out",
    Layer.CABINET: "side of the cabinet, below", Layer.UNDERNEATH: "below the top", Layer.CENTER_LINE: "center line",
    Layer.FRONT: "edge of a front", Layer.PULL: "the pull", Layer.CLEARANCE: "line that is no edge",
}  # fmt: skip
"""For drawings that were kept before their lines had names of their own."""

_REAL = (Layer.WALL, Layer.EDGE, Layer.FRONT)  # what a hand can feel when the template is laid
_LAID_ON = (*_REAL, Layer.CUT_OUT, Layer.CENTER_LINE)


@dataclass(frozen=True)
class Edge:
    """A level or an upright line in mm of the scene, from its lower or left end."""

    layer: Layer
    name: str
    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def level(self) -> bool:
        return self.y1 == self.y2

    @property
    def at(self) -> float:
        """How high a level line runs, how far right an upright one."""
        return self.y1 if self.level else self.x1

    @property
    def is_real(self) -> bool:
        return self.layer in _REAL

    @property
    def is_laid_on(self) -> bool:
        return self.layer in _LAID_ON

    def within(self, box: Box) -> "Edge | None":
        """The part of it inside `box`; None if there is none."""
        x1, x2 = max(self.x1, box.left), min(self.x2, box.right)
        y1, y2 = max(self.y1, box.bottom), min(self.y2, box.top)
        return Edge(self.layer, self.name, x1, y1, x2, y2) if x1 <= x2 and y1 <= y2 else None


def edges_of(items: Iterable[Item]) -> list[Edge]:
    """All that have a name, in the order in which they are drawn."""
    return [edge for item in items for edge in _edges(item)]


def front_edges(front: Rect, of: str) -> list[Edge]:
    """The four edges of a front by their names, and its middle. `of`: such as `front A`."""
    left, bottom, right, top = front.x, front.y, front.x + front.width, front.y + front.height
    middle = (left + right) / 2
    return [
        Edge(Layer.FRONT, f"top edge of {of}", left, top, right, top),
        Edge(Layer.FRONT, f"bottom edge of {of}", left, bottom, right, bottom),
        Edge(Layer.FRONT, f"left side of {of}", left, bottom, left, top),
        Edge(Layer.FRONT, f"right side of {of}", right, bottom, right, top),
        Edge(Layer.CENTER_LINE, f"middle of {of}", middle, bottom, middle, top),
    ]


def laid_on(edges: list[Edge], shown: Box) -> str:
    """The sentence that says where a template lies: by a level line and an upright one of those that it shows.

    Real edges come before lines that must be marked first. Empty when there is neither.
    """
    seen = [edge for edge in edges if edge.is_laid_on and edge.within(shown)]
    found = [_best([edge for edge in seen if edge.level]), _best([edge for edge in seen if not edge.level])]
    return f"Lay each line on the real one: {'; '.join(filter(None, found))}." if any(found) else ""


def _best(edges: list[Edge]) -> str:
    """Real edges, and of a front one, since its others may be seen and be sheets away; else a cut edge, or what must be
    marked."""
    real = [edge for edge in edges if edge.is_real]
    if any(edge.layer is Layer.FRONT for edge in real):
        return real[0].name
    names = " or the ".join(dict.fromkeys(edge.name for edge in real))
    marked = [edge for edge in edges if edge.layer is Layer.CENTER_LINE]
    return names or (f"{marked[0].name} (mark it first)" if marked else edges[0].name if edges else "")


def _edges(item: Item) -> Iterator[Edge]:
    match item:
        case Line(layer=layer, note=note) if item.x1 == item.x2 or item.y1 == item.y2:
            name = note or _NAMES.get(layer, "")
            ends = min(item.x1, item.x2), min(item.y1, item.y2), max(item.x1, item.x2), max(item.y1, item.y2)
            if name:
                yield Edge(layer, name, *ends)
        case Rect(layer=layer, note=note):
            yield from _sides(item, note or _NAMES.get(layer, ""))


def _sides(rect: Rect, name: str) -> Iterator[Edge]:
    left, bottom, right, top = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    if name:
        yield Edge(rect.layer, name, left, top, right, top)
        yield Edge(rect.layer, name, left, bottom, right, bottom)
        yield Edge(rect.layer, name, left, bottom, left, top)
        yield Edge(rect.layer, name, right, bottom, right, top)
