"""What is printed at full size: one template for a top; for fronts, which are drilled one by one, a template each."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from portal.drawings.scenes.coordinates import letter
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Item, Line, Rect, Scene
from portal.drawings.sheets.edges import Edge, edges_of, front_edges
from portal.words.drawn.sheet_words import fronts

_AROUND = 18.0  # mm about the holes; little, so that a template is one sheet of paper where it can be
_SEEN = 5.0  # mm beyond an edge, so that it is seen to be one
_NEAR = 250.0  # mm; an edge of the top farther off than this is no edge to lay a template on, the cut-out's is

Hole = Circle | Center


@dataclass(frozen=True)
class Part:
    """What one template shows: a `region` of the scene (mm), and the `holes` in it. `fronts`: the letters of the fronts
    that it is for, all of one size and drilled alike, and `front` the first of them; none for work in one piece."""

    region: Box
    holes: tuple[Hole, ...]
    fronts: tuple[str, ...] = ()
    front: Rect | None = None

    @property
    def name(self) -> str:
        """Name it: `front A` or `fronts A, B and D`; empty for one piece."""
        return fronts(self.fronts)

    def edges(self, scene: Scene) -> list[Edge]:
        """Give the lines that have a name on it."""
        if not self.front:
            return edges_of(scene.items)
        on_it = filter(self.shows, scene.only(Layer.PULL, Layer.CLEARANCE))
        return [*front_edges(self.front, self.name), *edges_of(on_it)]

    def shows(self, item: Item) -> bool:
        """Say whether the template shows it. Of a bank, a front's template shows that front alone: no hole of its
        neighbour, no line that runs through."""
        if self.front is None:
            return True
        limits, front = Box.around(item.limits()), Box.around(self.front.limits())
        x, y = (limits.left + limits.right) / 2, (limits.bottom + limits.top) / 2
        return not isinstance(item, Line) and front.left <= x <= front.right and front.bottom <= y <= front.top


def holes_of(scene: Scene) -> list[Hole]:
    """Find the holes to drill."""
    return [i for i in scene.only(Layer.HOLE) if isinstance(i, Circle | Center)]


def fronts_of(scene: Scene) -> list[tuple[str, Rect]]:
    """Find the fronts by their letters, as drawing and table name them."""
    rects = [i for i in scene.only(Layer.FRONT) if isinstance(i, Rect)]
    return [(letter(index), rect) for index, rect in enumerate(rects)]


def template_parts(scene: Scene) -> list[Part]:
    """Find the templates to print at 1:1; none when there are no holes."""
    holes = tuple(holes_of(scene))
    if not holes:
        return []
    drilled = [(name, front, _within(front, holes)) for name, front in fronts_of(scene)]
    if sum(len(inside) for _, _, inside in drilled) == len(holes):
        return _alike([each for each in drilled if each[2]])
    return [Part(_on_piece(holes, scene), holes)]


def _within(front: Rect, holes: Sequence[Hole]) -> tuple[Hole, ...]:
    return tuple(hole for hole in holes if front.x <= hole.x <= front.x + front.width
                 and front.y <= hole.y <= front.y + front.height)


def _alike(drilled: list[tuple[str, Rect, tuple[Hole, ...]]]) -> list[Part]:
    """One template for all fronts of one size with the same holes."""
    found: dict[object, Part] = {}
    for name, front, holes in drilled:
        places = [(round(hole.x - front.x, 3), round(hole.y - front.y, 3), hole.diameter) for hole in holes]
        key = (round(front.width, 3), round(front.height, 3), *sorted(places))
        first = found.get(key) or Part(_on_front(holes, front), holes, front=front)
        found[key] = replace(first, fronts=(*first.fronts, name))
    return list(found.values())


def _on_piece(holes: Sequence[Hole], scene: Scene) -> Box:
    """As far as the two datums and the line at which it is folded; where the drawing has none, as far as the nearest
    level line and the nearest upright line that the template can be laid on."""
    about, edges = _about(holes, scene.bounds), [edge for edge in edges_of(scene.items) if edge.is_laid_on]
    datums = [edge for edge in edges if edge.layer is Layer.DATUM]
    if datums:
        behind = [e.at for e in edges if e.layer is Layer.WALL and e.level and about.top - _AROUND < e.at]
        levels = [*(e.at for e in datums if e.level), *([min(behind)] if behind else [])]
        return _around_all(about, levels, [e.at for e in datums if not e.level])
    upright = [e.at for e in edges if not e.level and about.left - _NEAR <= e.at <= about.right + _NEAR]
    level = [e for e in edges if e.level and about.bottom - _NEAR <= e.at <= about.top + _NEAR]
    left, right = _as_far_as(upright, about.left, about.right)
    bottom, top = _as_far_as([e.at for e in level if e.is_real] or [e.at for e in level], about.bottom, about.top)
    return Box(left, bottom, right, top)


def _on_front(holes: Sequence[Hole], front: Rect) -> Box:
    """As far as the nearest level edge, and the nearest upright edge or the middle, which the template is laid on."""
    edges = Box.around(front.limits())
    about = _about(holes, edges)
    left, right = _as_far_as((edges.left, (edges.left + edges.right) / 2, edges.right), about.left, about.right)
    bottom, top = _as_far_as((edges.top, edges.bottom), about.bottom, about.top)  # tables measure from the top
    return Box(left, bottom, right, top)


def _as_far_as(lines: Sequence[float], low: float, high: float) -> tuple[float, float]:
    """From `low` to `high`, stretched until it shows the nearest of the lines, if there are any."""
    if not lines:
        return low, high
    nearest = min(lines, key=lambda at: round(max(low - at, at - high), 3))
    return min(low, nearest - _SEEN), max(high, nearest + _SEEN)


def _around_all(box: Box, levels: Sequence[float], uprights: Sequence[float]) -> Box:
    """Stretch it until it shows all of these lines that are no farther off than an edge may be."""
    low, high, left, right = box.bottom, box.top, box.left, box.right
    for at in levels:
        if low - _NEAR <= at <= high + _NEAR:
            low, high = min(low, at - _SEEN), max(high, at + _SEEN)
    for at in uprights:
        if left - _NEAR <= at <= right + _NEAR:
            left, right = min(left, at - _SEEN), max(right, at + _SEEN)
    return Box(left, low, right, high)


def _about(holes: Sequence[Hole], limits: Box) -> Box:
    """The holes with room about them, as far as there is something to see."""
    around, most = Box.around(p for hole in holes for p in hole.limits()).grown(_AROUND), limits.grown(_SEEN)
    return Box(max(around.left, most.left), max(around.bottom, most.bottom),
               min(around.right, most.right), min(around.top, most.top))
