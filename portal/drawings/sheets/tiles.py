"""A 1:1 template larger than the paper, spread over sheets that overlap and join again."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from portal.drawings.scene import Box, Center, Circle, SceneError
from portal.drawings.sheets.paper import Page, Paper, sideways, upright

OVERLAP = 15.0  # mm that neighbours both show
MOST = 40  # sheets; more is no template but wallpaper, and a mark off by one joint adds up


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


def tile(region: Box, paper: Paper, holes: Sequence[Circle | Center] = (), mark: str = "") -> Tiling:
    """Cover `region` (mm of the scene) with sheets of `paper` at 1:1, turned so that it takes the fewest.

    The sheets are shifted, where there is room to spare, so that as many `holes` as possible are whole on one.
    `mark` begins the names of the joins, where there are several templates.
    Raises SceneError when it would take more than 40 sheets.
    """
    page = min((sideways(paper), upright(paper)), key=lambda p: math.prod(_counts(region, p)))
    columns, rows = _counts(region, page)
    if columns * rows > MOST:
        size = f"{region.width:.0f} x {region.height:.0f} mm"
        raise SceneError(f"template is {size}, more than {MOST} sheets: give the part around the holes only")
    room = page.template
    left = _start(region.left, region.right, columns, room.width, [(h.x, h.diameter / 2) for h in holes])
    top = -_start(-region.top, -region.bottom, rows, room.height, [(-h.y, h.diameter / 2) for h in holes])
    tiles = [_marked(_tile(c, r, columns, rows, (left, top), page), mark) for r in range(rows) for c in range(columns)]
    return Tiling(page, columns, rows, tuple(tiles))


def _counts(region: Box, page: Page) -> tuple[int, int]:
    def count(length: float, room: float) -> int:
        return max(1, math.ceil((length - OVERLAP) / (room - OVERLAP) - 1e-9))

    return count(region.width, page.template.width), count(region.height, page.template.height)


def _start(low: float, high: float, count: int, room: float, holes: list[tuple[float, float]]) -> float:
    """Where the first of `count` sheets starts along one axis: most holes whole, then the spare room shared evenly."""
    step = room - OVERLAP
    spare = max(0.0, count * step + OVERLAP - (high - low))
    starts = [low - spare * n / 40 for n in range(41)]

    def split(start: float) -> int:
        sheets = [(start + i * step, start + i * step + room) for i in range(count)]
        return sum(not any(a <= x - r and x + r <= b for a, b in sheets) for x, r in holes)

    return min(starts, key=lambda s: (split(s), abs(s - (low - spare / 2))))


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
