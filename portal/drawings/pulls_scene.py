"""Pulls as a drawing: the bank of fronts from in front, every pull on it, and a cross for every hole."""

from collections.abc import Iterator

from portal.drawings.coordinates import Coordinates, letter, tightest
from portal.drawings.layers import Layer
from portal.drawings.lengths import both, mm
from portal.drawings.scene import Center, Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.length import Length
from portal.layouts.pulls import Front, PlacedPull, PullsLayout, numbered

_THICK = 12.0  # mm of a pull as drawn; its sheet says what it is
_FLOOR = 300.0  # mm; a bank that hangs higher is drawn without the floor

_SWINGS = {"drawer": "drawer", "door hinged left": "door, hinges left", "door hinged right": "door, hinges right"}


def pulls_scene(layout: PullsLayout) -> Scene:
    """Draw the bank in mm, from its left end and the floor. Holes are centers: the pull decides how wide they are."""
    items: list[Item] = []
    for mark, front in lettered_fronts(layout):
        items += _front(mark, front)
    for pull in layout.pulls:
        items += _pull(layout, pull)
    items += [*_holes(layout), *_floor(layout), *_lines(layout)]
    return Scene(f"Pulls: {layout.title}", _description(layout), tuple(items))


def pulls_coordinates(layout: PullsLayout) -> Coordinates:
    """Each hole from the edges of its own front."""
    marks = {front.name: mark for mark, front in lettered_fronts(layout)}
    rows = tuple(
        (marks[pull.front.name], pull.front.name, str(number), both(hole.from_left), both(hole.from_top))
        for pull, number, hole in numbered(layout.pulls)
    )
    columns = ("Front", "Name", "Hole", "From the left edge", "From the top edge")
    measured = "Measured to the center of each hole, from the edges of its own front, seen from in front."
    return Coordinates(columns, rows, measured, tightest(layout.checks))


def lettered_fronts(layout: PullsLayout) -> list[tuple[str, Front]]:
    return [(letter(index), front) for index, front in enumerate(layout.bank.fronts)]


def _front(mark: str, front: Front) -> Iterator[Item]:
    left, bottom, width, height = mm(front.left), mm(front.bottom), mm(front.width), mm(front.height)
    yield Rect(Layer.FRONT, left, bottom, width, height)
    if front.rail:
        rail = mm(front.rail)
        yield Rect(Layer.CLEARANCE, left + rail, bottom + rail, width - 2 * rail, height - 2 * rail)
    yield Label(left + min(width * 0.12, 60.0), bottom, mark, Side.ABOVE)


def _pull(layout: PullsLayout, pull: PlacedPull) -> Iterator[Item]:
    x, y, half = mm(pull.from_bank), mm(pull.from_floor), mm(layout.bank.pull.length) / 2
    across, up = (_THICK / 2, half) if pull.upright else (half, _THICK / 2)
    yield Rect(Layer.PULL, x - across, y - up, 2 * across, 2 * up)


def _holes(layout: PullsLayout) -> Iterator[Item]:
    for pull, number, hole in numbered(layout.pulls):
        at_x, at_y = pull.front.left + hole.from_left, pull.front.top - hole.from_top
        yield Center(Layer.HOLE, mm(at_x), mm(at_y), f"{pull.front.name}, hole {number}")


def _ends(layout: PullsLayout) -> tuple[float, float, float]:
    """Left end, right end and lowest edge of the bank."""
    fronts = layout.bank.fronts
    return (
        min(mm(f.left) for f in fronts), max(mm(f.left + f.width) for f in fronts), min(mm(f.bottom) for f in fronts),
    )  # fmt: skip


def _floor(layout: PullsLayout) -> Iterator[Item]:
    left, right, low = _ends(layout)
    if low < _FLOOR:
        yield Line(Layer.WALL, left, 0, right, 0)
        yield Label((left + right) / 2, 0, "floor", Side.BELOW)


def _lines(layout: PullsLayout) -> Iterator[Item]:
    """Heights that run through the bank, dimensioned from the floor where it is drawn."""
    left, right, low = _ends(layout)
    for height, _ in layout.lines:
        y = mm(height)
        yield Line(Layer.CENTER_LINE, left - 30, y, right + 30, y)
        if low < _FLOOR:
            yield Dimension(left, 0, left, y, height.shown().text, Side.LEFT)


def _description(layout: PullsLayout) -> str:
    fronts = " ".join(
        f"{mark}, {front.name} ({_SWINGS[front.type]}): {_told_holes([p for p in layout.pulls if p.front is front])}."
        for mark, front in lettered_fronts(layout)
    )
    return f"The fronts from in front. {' '.join(layout.effects)} {fronts}"


def _told_holes(pulls: list[PlacedPull]) -> str:
    """Where the holes of one front are, from its own edges."""
    holes = [hole for pull in pulls for hole in pull.holes]
    return (
        f"{_listed([hole.from_left for hole in holes])} from its left edge, "
        f"{_listed([hole.from_top for hole in holes])} from its top edge"
    )


def _listed(lengths: list[Length]) -> str:
    return " and ".join(dict.fromkeys(length.shown().text for length in lengths))
