"""The straight lines of a scene that have a name: what a template is laid on, and what is written along each."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Item, Line, Rect
from portal.words.drawn import sheet_words as words

_REAL = (Layer.WALL, Layer.EDGE, Layer.FRONT)  # what a hand can feel when the template is laid
_LAID_ON = (*_REAL, Layer.CUT_OUT, Layer.CENTER_LINE, Layer.DATUM)


@dataclass(frozen=True)
class Edge:
    """A level or an upright line in mm of the scene, from its lower or left end. `of`: the whole thing whose side it
    is, None for a line that stands for itself."""

    layer: Layer
    name: str
    x1: float
    y1: float
    x2: float
    y2: float
    of: Box | None = None

    @property
    def level(self) -> bool:
        """Say whether it runs across the page."""
        return self.y1 == self.y2

    @property
    def at(self) -> float:
        """Give how high a level line runs, how far right an upright one."""
        return self.y1 if self.level else self.x1

    @property
    def is_real(self) -> bool:
        """Say whether a hand can feel it."""
        return self.layer in _REAL

    @property
    def is_laid_on(self) -> bool:
        """Say whether a template can be laid on it: a real edge, a cut edge, or a center line that is marked first."""
        return self.layer in _LAID_ON

    def within(self, box: Box) -> "Edge | None":
        """Give the part of it inside `box`; None if there is none."""
        x1, x2 = max(self.x1, box.left), min(self.x2, box.right)
        y1, y2 = max(self.y1, box.bottom), min(self.y2, box.top)
        return Edge(self.layer, self.name, x1, y1, x2, y2, self.of) if x1 <= x2 and y1 <= y2 else None


def edges_of(items: Iterable[Item]) -> list[Edge]:
    """Find all that have a name, in the order in which they are drawn."""
    return [edge for item in items for edge in _edges(item)]


def front_edges(front: Rect, of: str) -> list[Edge]:
    """Give the four edges of a front by their names, and its middle. `of`: such as `front A`."""
    left, bottom, right, top = front.x, front.y, front.x + front.width, front.y + front.height
    middle = (left + right) / 2
    above, below, leftmost, rightmost, centered = words.front_edges(of)
    return [
        Edge(Layer.FRONT, above, left, top, right, top),
        Edge(Layer.FRONT, below, left, bottom, right, bottom),
        Edge(Layer.FRONT, leftmost, left, bottom, left, top),
        Edge(Layer.FRONT, rightmost, right, bottom, right, top),
        Edge(Layer.CENTER_LINE, centered, middle, bottom, middle, top),
    ]


def laid_on(edges: list[Edge], shown: Box) -> str:
    """Say where a template lies: by a level line and an upright one of those that it shows, in a sentence.

    The two datums where the drawing has them, since the table is measured from the same; else real edges before lines
    that must be marked first. Empty when there is neither.
    """
    seen = [edge for edge in edges if edge.is_laid_on and edge.within(shown)]
    if datums := [edge for edge in seen if edge.layer is Layer.DATUM]:
        return words.lay_on([edge.name if edge.level else words.marked_first(edge.name) for edge in datums])
    found = [_best([edge for edge in seen if edge.level]), _best([edge for edge in seen if not edge.level])]
    named = [name for name in found if name]
    return words.lay_on(named) if named else ""


def named_whole(edge: Edge, shown: Box) -> Edge:
    """Say of a side of something that hangs below the top and is shown only in part that it goes on."""
    whole = edge.of
    if edge.layer is not Layer.UNDERNEATH or whole is None:
        return edge
    inside = (shown.left <= whole.left and whole.right <= shown.right and shown.bottom <= whole.bottom
              and whole.top <= shown.top)
    return edge if inside else replace(edge, name=words.goes_on(edge.name))


def _best(edges: list[Edge]) -> str:
    """Real edges, and of a front one, since its others may be seen and be sheets away; else a cut edge, or what must be
    marked."""
    real = [edge for edge in edges if edge.is_real]
    if any(edge.layer is Layer.FRONT for edge in real):
        return real[0].name
    names = words.any_of(dict.fromkeys(edge.name for edge in real))
    marked = [edge for edge in edges if edge.layer is Layer.CENTER_LINE]
    return names or (words.marked_first(marked[0].name) if marked else edges[0].name if edges else "")


def _edges(item: Item) -> Iterator[Edge]:
    match item:
        case Line(layer=layer, note=note) if item.x1 == item.x2 or item.y1 == item.y2:
            name = note or words.LINES.get(layer, "")
            ends = min(item.x1, item.x2), min(item.y1, item.y2), max(item.x1, item.x2), max(item.y1, item.y2)
            if name:
                yield Edge(layer, name, *ends)
        case Rect(layer=layer, note=note):
            yield from _sides(item, note or words.LINES.get(layer, ""))


def _sides(rect: Rect, name: str) -> Iterator[Edge]:
    left, bottom, right, top = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    if name:
        whole = Box(left, bottom, right, top)
        yield Edge(rect.layer, name, left, top, right, top, whole)
        yield Edge(rect.layer, name, left, bottom, right, bottom, whole)
        yield Edge(rect.layer, name, left, bottom, left, top, whole)
        yield Edge(rect.layer, name, right, bottom, right, top, whole)
