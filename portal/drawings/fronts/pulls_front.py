"""Fronts with their pulls, from the front and to scale: what one sees who stands before them."""

from collections.abc import Iterator, Sequence

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts.front import CARD, LOW, OUTLINE, WIDE, Frame, Front, Shape, Stroke, Word, box, line, n, span
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Center, Rect

_FLOOR, _LETTERS, _ROOM = 142.0, 163.0, 132.0
"""In units: where the floor or the lowest edge lies, the baseline of the count, and how high a bank may be drawn."""
_PULL, _SIDE = 5.0, 12.0


def pulls_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, WIDE - 2 * _SIDE, _ROOM, _FLOOR, WIDE)
    return [_front(kept, frame) for kept in every]


def pulls_card(every: Sequence[Kept]) -> Front:
    """Draw the fronts on a card: pulls that all options have there are solid, the others dashed."""
    frame = _frame(every, CARD - 8, CARD - 8, CARD - 4, CARD)
    places = [[_pull(one) for one in kept.rects(Layer.PULL)] for kept in every]
    shapes: list[Shape] = [*_bank(every[0], frame)]
    for path in dict.fromkeys(_path(frame, *ends) for found in places for ends in found):
        sure = all(path in [_path(frame, *ends) for ends in found] for found in places)
        shapes.append(Stroke(path, "" if sure else "hid", 4.0 if sure else 2.5))
    return Front("", "", tuple(shapes), CARD, CARD)


def _frame(every: Sequence[Kept], width: float, height: float, ground: float, whole: float) -> Frame:
    rects = [one for kept in every for one in kept.rects(Layer.FRONT)]
    left, right = span(x for one in rects for x in (one.x, one.x + one.width))
    low, high = span(y for one in rects for y in (one.y, one.y + one.height))
    low = 0.0 if every[0].lines(Layer.WALL) else low
    scale = min(width / (right - left), height / (high - low))
    return Frame((left + right) / 2 - whole / 2 / scale, scale, ground + low * scale)


def _front(kept: Kept, frame: Frame) -> Front:
    rects, found = kept.rects(Layer.FRONT), kept.rects(Layer.PULL)
    holes = sum(isinstance(one, Center) for one in kept.scene.only(Layer.HOLE))
    lettered = words.pulls(len(found), holes)
    shapes: list[Shape] = [*_bank(kept, frame)]
    if kept.lines(Layer.WALL):
        shapes.append(Stroke(line(-4, _FLOOR, WIDE + 4, _FLOOR), width=OUTLINE))
    shapes += [Stroke(_path(frame, *_pull(one)), width=_PULL) for one in found]
    shapes.append(Word(WIDE / 2, _LETTERS, lettered))
    return Front(words.fronts(len(rects), lettered), words.FRONTS, tuple(shapes), WIDE, LOW)


def _bank(kept: Kept, frame: Frame) -> Iterator[Shape]:
    """Each front; the frame of one that has a frame, thin."""
    fronts = "".join(_box(one, frame) for one in kept.rects(Layer.FRONT))
    rails = "".join(_box(one, frame) for one in kept.rects(Layer.CLEARANCE))
    yield Stroke(fronts, "fw", 2.0)
    if rails:
        yield Stroke(rails, "thin jt")


def _box(one: Rect, frame: Frame) -> str:
    return box(frame.x(one.x), frame.y(one.y + one.height), frame.x(one.x + one.width), frame.y(one.y))


def _pull(one: Rect) -> tuple[float, float, float, float]:
    """From end to end of a pull, in mm; a knob is a short one."""
    if one.width >= one.height:
        middle = one.y + one.height / 2
        return one.x, middle, one.x + one.width, middle
    middle = one.x + one.width / 2
    return middle, one.y, middle, one.y + one.height


def _path(frame: Frame, x1: float, y1: float, x2: float, y2: float) -> str:
    if abs(frame.x(x1) - frame.x(x2)) < 0.1:
        return f"M{n(frame.x(x1))} {n(frame.y(y2))}V{n(frame.y(y1))}"
    return f"M{n(frame.x(x1))} {n(frame.y(y1))}H{n(frame.x(x2))}"
