"""Pulls as a drawing: the bank of fronts from in front, every pull on it, and a cross for every hole."""

from collections.abc import Iterator

from portal.drawings.scenes.coordinates import Coordinates, letter, tightest
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import both, mm
from portal.drawings.scenes.scene import Center, Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.length import Length
from portal.layouts.pulls import Front, PlacedPull, PullsLayout, metric_by_name, numbered
from portal.words.plurals import spelled

_THICK = 12.0  # mm of a pull as drawn; its sheet says what it is
_FLOOR = 300.0  # mm; a bank that hangs higher is drawn without the floor

_FIRST = (
    "Measure each front, and the pull in your hand from hole to hole, yourself.",
    "Look behind each front: nothing may be in the way of the drill or of the screws.",
)

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
        (marks[pull.front.name], pull.front.name, str(number), _told(layout, hole.from_left),
         _told(layout, hole.from_top))
        for pull, number, hole in numbered(layout.pulls)
    )
    columns = ("Front", "Name", "Hole", "From the left edge", "From the top edge")
    measured = "Measured to the center of each hole, from the edges of its own front, seen from in front."
    return Coordinates(columns, rows, measured, tightest(layout.checks), _work(layout),
                       "The fronts seen from in front.", _sizes(layout), _FIRST)


def _told(layout: PullsLayout, at: Length) -> str:
    """A metric pull is set out in mm: inches rounded one by one would move its holes apart or together."""
    centers = layout.bank.pull.centers
    if centers is None or centers.unit.is_inch:
        return both(at)
    return f"{at.millimeters().text} ({at.inches().text})"


def _work(layout: PullsLayout) -> str:
    holes = sum(len(pull.holes) for pull in layout.pulls)
    return f"Drill {spelled(holes, 'hole')} for {spelled(len(layout.pulls), 'pull')}."


def _sizes(layout: PullsLayout) -> tuple[str, ...]:
    """What decides whether the pull fits: from hole to hole, exactly, and the drill."""
    pull = layout.bank.pull
    drill = f"Drill size: {both(pull.drill)}." if pull.drill else "Drill size: from the maker's sheet."
    if pull.centers is None:
        return (f"One hole for each pull. {drill}",)
    return (f"Hole to hole of each pull: {_exactly(pull.centers)}. {drill}", *_warning(pull.centers))


def _exactly(centers: Length) -> str:
    if centers.unit.is_inch:
        return both(centers)
    return f"{centers.text} exactly ({centers.inches().text})"


def _warning(centers: Length) -> tuple[str, ...]:
    said = metric_by_name(centers)
    return (said,) if said else ()


def lettered_fronts(layout: PullsLayout) -> list[tuple[str, Front]]:
    return [(letter(index), front) for index, front in enumerate(layout.bank.fronts)]


def _front(mark: str, front: Front) -> Iterator[Item]:
    left, bottom, width, height = mm(front.left), mm(front.bottom), mm(front.width), mm(front.height)
    yield Rect(Layer.FRONT, left, bottom, width, height)
    if front.rail:
        rail = mm(front.rail)
        inner = (left + rail, bottom + rail, width - 2 * rail, height - 2 * rail)
        yield Rect(Layer.CLEARANCE, *inner, note="inner edge of its frame")
    yield Label(left + min(width * 0.12, 60.0), bottom, mark, Side.ABOVE)


def _pull(layout: PullsLayout, pull: PlacedPull) -> Iterator[Item]:
    x, y, half = mm(pull.from_bank), mm(pull.from_floor), mm(layout.bank.pull.length) / 2
    across, up = (_THICK / 2, half) if pull.upright else (half, _THICK / 2)
    yield Rect(Layer.PULL, x - across, y - up, 2 * across, 2 * up)


def _holes(layout: PullsLayout) -> Iterator[Item]:
    for pull, number, hole in numbered(layout.pulls):
        at_x, at_y = pull.front.left + hole.from_left, pull.front.top - hole.from_top
        drill = layout.bank.pull.drill
        note = f"{pull.front.name}, hole {number}{f', drill {both(drill)}' if drill else ''}"
        yield Center(Layer.HOLE, mm(at_x), mm(at_y), note, mm(drill) if drill else 0.0)


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
        f"{mark}, {front.name} ({_SWINGS[front.type]}): {_told_holes(layout, front)}."
        for mark, front in lettered_fronts(layout)
    )
    return f"The fronts from in front. {' '.join(layout.effects)} {' '.join(_sizes(layout))} {fronts}"


def _told_holes(layout: PullsLayout, front: Front) -> str:
    """Where the holes of one front are, from its own edges."""
    holes = [hole for pull in layout.pulls if pull.front is front for hole in pull.holes]
    return (
        f"{_listed(layout, [hole.from_left for hole in holes])} from its left edge, "
        f"{_listed(layout, [hole.from_top for hole in holes])} from its top edge"
    )


def _listed(layout: PullsLayout, lengths: list[Length]) -> str:
    return " and ".join(dict.fromkeys(_told(layout, length) for length in lengths))
