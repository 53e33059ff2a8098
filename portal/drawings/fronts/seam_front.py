"""A long top from the front: what stands on it, what is under it, and where one will see a seam."""

from collections.abc import Iterator, Sequence

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts.front import (
    CARD,
    FIRM,
    LOW,
    WIDE,
    Frame,
    Front,
    Shape,
    Stroke,
    Word,
    around,
    box,
    line,
    within,
)
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Dimension, Rect, Side

_TOP, _STONE, _FLOOR, _LETTERS = 76.0, 9.0, 142.0, 163.0
_SIDE = 10.0


def seam_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, WIDE, _SIDE)
    return [_front(kept, frame) for kept in every]


def seam_card(every: Sequence[Kept]) -> Front:
    """Draw the top on a card, with each seam that it may have."""
    frame = _frame(every, CARD, 4.0)
    run = every[0].rects(Layer.EDGE)[0]
    shapes: list[Shape] = [
        Stroke(box(frame.x(0), 40, frame.x(run.width), 78), "fw wd"),
        Stroke(box(frame.x(0), 30, frame.x(run.width), 40), "fs"),
    ]
    seams = {frame.x(one.x1) for kept in every for one in kept.lines(Layer.SEAM)}
    shapes += [Stroke(line(x, 18, x, 48), "hid thin") for x in sorted(seams)]
    return Front("", "", tuple(shapes), CARD, CARD)


def _frame(every: Sequence[Kept], width: float, side: float) -> Frame:
    length = max(kept.rects(Layer.EDGE)[0].width for kept in every)
    return around(0, length, width - 2 * side, _TOP, side)


def _front(kept: Kept, frame: Frame) -> Front:
    run = kept.rects(Layer.EDGE)[0]
    under = _TOP + _STONE
    lettered = words.seams(one.text for one in kept.scene.items
                           if isinstance(one, Dimension) and one.side is Side.BELOW)
    shapes: list[Shape] = [
        Stroke(box(frame.x(0), under, frame.x(run.width), _FLOOR), "fw wd"),
        *(Stroke(box(left, under, right, _FLOOR) + line(left + 8, under + 12, right - 8, under + 12), "f")
          for left, right in ((frame.x(one.x), frame.x(one.x + one.width)) for one in kept.rects(Layer.UNDERNEATH))),
        *(shape for one in _cutouts(kept) for shape in _cutout(one, frame)),
        Stroke(box(frame.x(0), _TOP, frame.x(run.width), under), "fs"),
        *(Stroke(line(frame.x(one.x1), _TOP - 12, frame.x(one.x1), under + 12), width=FIRM)
          for one in kept.lines(Layer.SEAM)),
        *_names(kept, frame), Stroke(line(-4, _FLOOR, WIDE + 4, _FLOOR)), Word(WIDE / 2, _LETTERS, lettered),
    ]
    return Front(words.run(_named(kept), lettered), words.RUN, tuple(shapes), WIDE, LOW)


def _cutouts(kept: Kept) -> list[Rect]:
    return kept.rects(Layer.CUT_OUT, Layer.REFERENCE)


def _cutout(one: Rect, frame: Frame) -> Iterator[Shape]:
    """What is let into the top: dashed below it."""
    left, right = frame.x(one.x), frame.x(one.x + one.width)
    yield Stroke(f"{line(left, _TOP + _STONE, left, _TOP + _STONE + 16)}H{right:.1f}V{_TOP + _STONE:.0f}", "hid")


def _named(kept: Kept) -> list[str]:
    """The names of what is cut out and of what stands under the top, as the measured drawing letters them."""
    return [*dict.fromkeys(one.text for one in kept.labels if one.side is not Side.ABOVE)]


def _names(kept: Kept, frame: Frame) -> Iterator[Shape]:
    """Above each cut-out its name, with the seams between them."""
    for one in _cutouts(kept):
        middle = one.x + one.width / 2
        name = next((label.text for label in kept.labels if abs(label.x - middle) < 1), "")
        if name:
            yield within(Word(frame.x(middle), _TOP - 20, name))
    for seam in kept.lines(Layer.SEAM):
        yield within(Word(frame.x(seam.x1), _TOP - 42, words.SEAM))
        yield Stroke(line(frame.x(seam.x1), _TOP - 12, frame.x(seam.x1), _TOP - 38), "dim")
