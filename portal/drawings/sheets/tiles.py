"""A 1:1 template larger than the paper, spread over sheets that overlap and join again."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from portal.drawings.scenes.scene import Box, Center, Circle, SceneError
from portal.drawings.sheets.paper import Page, Paper, sideways, upright

OVERLAP = 15.0  # mm that neighbours both show
_CLEAR = 2.0  # mm of paper about a hole that no joint cuts
MOST = 40  # sheets; more is no template but wallpaper, and a mark off by one joint adds up


Spans = Sequence[tuple[float, float]]
"""Middle and half width along one axis, in mm."""


class Spot(NamedTuple):
    """Something round in mm of the scene. A line that runs up is as wide as a joint beside it must be seen apart."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Join:
    """A line that two neighbours share, by name, in mm of the scene; `marks` lie on it in both."""

    name: str
    line: tuple[float, float, float, float]
    marks: tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class Tile:
    """What one sheet shows of the scene (`box`, mm of the scene), and the joins on it."""

    column: int
    row: int
    box: Box
    joins: tuple[Join, ...]


@dataclass(frozen=True)
class Tiling:
    """All sheets of a template, row by row from the top, and the way the paper is turned."""

    page: Page
    columns: int
    rows: int
    tiles: tuple[Tile, ...]


def tile(
    region: Box, paper: Paper, holes: Sequence[Circle | Center] = (), mark: str = "", beside: Sequence[Spot] = ()
) -> Tiling:
    """Cover `region` (mm of the scene) with sheets of `paper` at 1:1.

    The paper is turned, and the sheets are shifted, so that as few `holes` as possible lie on a joint or are whole on
    no sheet, one more row or column being worth that; then so that it takes the fewest sheets, and no joint runs
    through what is `beside`: a flange, a center line. `mark` begins the names of the joins, where there are several
    templates. Raises SceneError when it would take more than 40 sheets.
    """
    grids = [grid for page in (sideways(paper), upright(paper)) for grid in _grids(region, page)]
    if not grids:
        size = f"{region.width:.0f} x {region.height:.0f} mm"
        raise SceneError(f"template is {size}, more than {MOST} sheets: give the part around the holes only")
    spots = [Spot(hole.x, hole.y, hole.diameter / 2 + _CLEAR) for hole in holes]
    _, page, (columns, rows), (left, top) = min(
        (_placed(region, page, counts, spots, beside) for page, counts in grids), key=lambda one: one[0]
    )
    tiles = [_marked(_tile(c, r, columns, rows, (left, top), page), mark) for r in range(rows) for c in range(columns)]
    return Tiling(page, columns, rows, tuple(tiles))


def _grids(region: Box, page: Page) -> list[tuple[Page, tuple[int, int]]]:
    """The fewest columns and rows that cover the region, and one more of either where there is more than one sheet."""
    columns, rows = _counts(region, page)
    more = [(columns + 1, rows), (columns, rows + 1)] if columns * rows > 1 else []
    return [(page, counts) for counts in [(columns, rows), *more] if math.prod(counts) <= MOST]


def _placed(
    region: Box, page: Page, counts: tuple[int, int], holes: Sequence[Spot], beside: Sequence[Spot]
) -> tuple[tuple[float, ...], Page, tuple[int, int], tuple[float, float]]:
    """What is wrong with this grid at its best, and where its upper left corner is then."""
    room = page.template
    across, left = _start((region.left, region.right), counts[0], room.width,
                          [(s.x, s.radius) for s in holes], [(s.x, s.radius) for s in beside])
    down, top = _start((-region.top, -region.bottom), counts[1], room.height,
                       [(-s.y, s.radius) for s in holes], [(-s.y, s.radius) for s in beside])
    cost = (across[0] + down[0], math.prod(counts), across[1] + down[1])
    return cost, page, counts, (left, -top)


def _counts(region: Box, page: Page) -> tuple[int, int]:
    def count(length: float, room: float) -> int:
        return max(1, math.ceil((length - OVERLAP) / (room - OVERLAP) - 1e-9))

    return count(region.width, page.template.width), count(region.height, page.template.height)


def _start(
    ends: tuple[float, float], count: int, room: float, holes: Spans, beside: Spans
) -> tuple[tuple[int, int, float], float]:
    """Where the first of `count` sheets starts along one axis, and what that costs: holes cut, other things cut, and
    how unevenly the spare room is shared."""
    (low, high), step = ends, room - OVERLAP
    spare = max(0.0, count * step + OVERLAP - (high - low))

    def cost(start: float) -> tuple[int, int, float]:
        sheets = [(start + i * step, start + i * step + room) for i in range(count)]
        joints = [start + i * step + room - OVERLAP / 2 for i in range(count - 1)]
        split = sum(not any(a <= x - r and x + r <= b for a, b in sheets) for x, r in holes)
        return split + _through(joints, holes), _through(joints, beside), abs(start - (low - spare / 2))

    best = min((low - spare * n / 40 for n in range(41)), key=cost)
    return cost(best), best


def _through(joints: list[float], things: Spans) -> int:
    """How many of these things a joint cuts."""
    return sum(any(abs(x - joint) < r for joint in joints) for x, r in things)


def _tile(column: int, row: int, columns: int, rows: int, start: tuple[float, float], page: Page) -> Tile:
    """One sheet of the grid whose upper left corner is at `start`."""
    room = page.template
    left = start[0] + column * (room.width - OVERLAP)
    top = start[1] - row * (room.height - OVERLAP)
    box = Box(left, top - room.height, left + room.width, top)
    joins = []
    if column > 0:
        joins.append(_upright(column - 1, row, columns, box.left + OVERLAP / 2, box))
    if column < columns - 1:
        joins.append(_upright(column, row, columns, box.right - OVERLAP / 2, box))
    if row > 0:
        joins.append(_level(column, row - 1, columns, rows, box.top - OVERLAP / 2, box))
    if row < rows - 1:
        joins.append(_level(column, row, columns, rows, box.bottom + OVERLAP / 2, box))
    return Tile(column, row, box, tuple(joins))


def _marked(one: Tile, mark: str) -> Tile:
    return replace(one, joins=tuple(replace(join, name=mark + join.name) for join in one.joins))


def _upright(column: int, row: int, columns: int, x: float, box: Box) -> Join:
    ys = (box.bottom + box.height * 0.2, box.bottom + box.height * 0.8)
    name = f"J{row * (columns - 1) + column + 1}"
    return Join(name, (x, box.bottom, x, box.top), ((x, ys[0]), (x, ys[1])))


def _level(column: int, row: int, columns: int, rows: int, y: float, box: Box) -> Join:
    xs = (box.left + box.width * 0.2, box.left + box.width * 0.8)
    name = f"J{rows * (columns - 1) + row * columns + column + 1}"
    return Join(name, (box.left, y, box.right, y), ((xs[0], y), (xs[1], y)))
