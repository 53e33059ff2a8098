"""Pulls as a drawing: the bank of fronts from in front, every pull on it, and a cross for every hole."""

from collections.abc import Iterator

from portal.drawings.scenes.coordinates import Coordinates, bits_for, letter, tightest
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Bar, Center, Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.content_tables.bits import TWIST
from portal.layouts.length import Length
from portal.layouts.pulls import words
from portal.layouts.pulls.dimensions import Front
from portal.layouts.pulls.layout import PullsLayout
from portal.layouts.pulls.placing import PlacedPull, numbered
from portal.words.drawn import drawing_words

_THICK = 12.0  # mm of a pull as drawn; its sheet says what it is
_MOST_SIZES = 8  # dimensioned one by one, either way; of more, the description has each
_BESIDE = 10.0  # mm between a pull's holes and the bar that says how far apart they are
_FLOOR = 300.0  # mm; a bank that hangs higher is drawn without the floor


def pulls_scene(layout: PullsLayout) -> Scene:
    """Draw the bank in mm, from its left end and the floor. Holes are centers: the pull decides how wide they are."""
    items: list[Item] = []
    for mark, front in lettered_fronts(layout):
        items += _front(mark, front)
    for pull in layout.pulls:
        items += _pull(layout, pull)
    items += [*_holes(layout), *_bars(layout), *_floor(layout), *_lines(layout), *_sizes(layout)]
    return Scene(words.drawing(layout), words.description(layout, lettered_fronts(layout)), tuple(items))


def pulls_coordinates(layout: PullsLayout) -> Coordinates:
    """Give the middle of each pull from the edges of its own front, then its holes each way: a pull whose middle is a
    little off still fits, one whose holes were marked one by one does not."""
    marks = {front.name: mark for mark, front in lettered_fronts(layout)}
    rows = tuple(_row(layout, marks[pull.front.name], pull) for pull in layout.pulls)
    return Coordinates(words.COLUMNS, rows, words.MEASURED_FROM, tightest(layout.checks), words.work(layout),
                       drawing_words.PULLS, _sized(layout), words.FIRST, found=_found(layout))


def _row(layout: PullsLayout, mark: str, pull: PlacedPull) -> tuple[str, ...]:
    bank = layout.bank
    across = words.told(bank, pull.x)
    if pull.x * 2 == pull.front.width:
        across = words.in_the_middle(across)
    start = (mark, pull.front.name, across, words.told(bank, pull.y))
    if bank.pull.centers is None:
        return (*start, words.ONE_HOLE, words.NO_CHECK)
    check = words.check_of((words.bare_of(bank, hole.from_top if pull.upright else hole.from_left)
                            for hole in pull.holes), upright=pull.upright)
    return (*start, words.each_way(words.bare_of(bank, bank.pull.centers / 2), upright=pull.upright), check)


def _sized(layout: PullsLayout) -> tuple[str, ...]:
    """What decides whether a pull fits, and which bit is sold for its holes."""
    drill = layout.bank.pull.drill
    return (*words.sizes(layout.bank), *(bits_for({drill: TWIST.sold_for(drill)}, TWIST.source) if drill else ()))


def _found(layout: PullsLayout) -> tuple[tuple[str, str], ...]:
    """What is measured once more: the pull that is there, and each front, since each is drilled from its own edges."""
    bank = layout.bank
    centers = words.told(bank, bank.pull.centers) if bank.pull.centers else words.ONE_HOLE
    fronts = [(words.found_front(mark), words.measured(front)) for mark, front in lettered_fronts(layout)]
    return ((words.FOUND_PULL, centers), *fronts)


def lettered_fronts(layout: PullsLayout) -> list[tuple[str, Front]]:
    """Give the fronts in their order, A first."""
    return [(letter(index), front) for index, front in enumerate(layout.bank.fronts)]


def _front(mark: str, front: Front) -> Iterator[Item]:
    left, bottom, width, height = mm(front.left), mm(front.bottom), mm(front.width), mm(front.height)
    yield Rect(Layer.FRONT, left, bottom, width, height)
    if front.rail:
        rail = mm(front.rail)
        inner = (left + rail, bottom + rail, width - 2 * rail, height - 2 * rail)
        yield Rect(Layer.CLEARANCE, *inner, note=words.FRAME)
    yield Label(left + min(width * 0.12, 60.0), bottom, mark, Side.ABOVE)


def _pull(layout: PullsLayout, pull: PlacedPull) -> Iterator[Item]:
    x, y, half = mm(pull.from_bank), mm(pull.from_floor), mm(layout.bank.pull.length) / 2
    across, up = (_THICK / 2, half) if pull.upright else (half, _THICK / 2)
    yield Rect(Layer.PULL, x - across, y - up, 2 * across, 2 * up)


def _holes(layout: PullsLayout) -> Iterator[Item]:
    for pull, number, hole in numbered(layout.pulls):
        at_x, at_y = pull.front.left + hole.from_left, pull.front.top - hole.from_top
        drill = layout.bank.pull.drill
        note = words.hole_note(layout.bank, pull.front, number)
        yield Center(Layer.HOLE, mm(at_x), mm(at_y), note, mm(drill) if drill else 0.0)


def _bars(layout: PullsLayout) -> Iterator[Item]:
    """From hole to hole of each pull, beside it."""
    centers = layout.bank.pull.centers
    for pull in layout.pulls if centers else ():
        front, (one, other) = pull.front, pull.holes
        (x1, y1), (x2, y2) = ((mm(front.left + hole.from_left), mm(front.top - hole.from_top)) for hole in (one, other))
        assert centers
        yield Bar(x1, y1, x2, y2, words.apart(words.told(layout.bank, centers)), _BESIDE)


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
        yield Label((left + right) / 2, 0, words.FLOOR, Side.BELOW)


def _lines(layout: PullsLayout) -> Iterator[Item]:
    """Heights that run through the bank, dimensioned from the floor where it is drawn."""
    left, right, low = _ends(layout)
    for height, _ in layout.lines:
        y = mm(height)
        yield Line(Layer.CENTER_LINE, left - 30, y, right + 30, y)
        if low < _FLOOR:
            yield Dimension(left, 0, left, y, height.marked, Side.LEFT)


def _up_and_down(fronts: tuple[Front, ...]) -> list[tuple[Length, Length]]:
    """From where to where each front reaches; where that is too much to dimension, one front of each height, the one
    nearest to where the dimensions stand."""
    every = list(dict.fromkeys((front.bottom, front.top) for front in fronts))
    if len(every) <= _MOST_SIZES:
        return every
    nearest = {front.height: front for front in sorted(fronts, key=lambda front: front.right)}
    return [(front.bottom, front.top) for front in nearest.values()]


def _sizes(layout: PullsLayout) -> Iterator[Item]:
    """How wide and how high the fronts are and where they hang, each size once; of a long bank the whole, and each
    height once."""
    left, right, low = _ends(layout)
    fronts = layout.bank.fronts
    high = max(mm(front.top) for front in fronts)
    across = dict.fromkeys((front.left, front.right) for front in fronts)
    up = _up_and_down(fronts)
    for begin, end in across if len(across) <= _MOST_SIZES else ():
        yield Dimension(mm(begin), low, mm(end), low, (end - begin).marked, Side.BELOW)
    for begin, end in up if len(up) <= _MOST_SIZES else ():
        yield Dimension(right, mm(begin), right, mm(end), (end - begin).marked, Side.RIGHT)
    if len(across) > 1:
        whole = max(front.right for front in fronts) - min(front.left for front in fronts)
        yield Dimension(left, high, right, high, whole.marked, Side.ABOVE)
    if 0 < low < _FLOOR:
        lowest = min(front.bottom for front in fronts)
        yield Dimension(right, 0, right, low, lowest.marked, Side.RIGHT)
