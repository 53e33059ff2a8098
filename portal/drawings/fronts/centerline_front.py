"""The center line of a sink from the front: window over top over cabinet, and the faucet where the line runs."""

from collections.abc import Iterator, Sequence
from typing import Any

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts import silhouettes
from portal.drawings.fronts.front import (
    CARD,
    FIRM,
    HIGH,
    OUTLINE,
    WIDE,
    Frame,
    Front,
    Shape,
    Stroke,
    Word,
    around,
    basin,
    box,
    line,
    n,
    span,
    within,
)
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Rect
from portal.layouts.centerline import words as line_words

_TOP, _STONE, _LETTERS, _MARGIN = 150.0, 8.0, 220.0, 150.0


def centerline_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, WIDE, _TOP)
    return [_front(kept, frame) for kept in every]


def centerline_card(every: Sequence[Kept]) -> Front:
    """Draw the wall on a card, with each line that the sink may have."""
    frame = _frame(every, CARD, 56)
    shapes: list[Shape] = [*_window(every[0], frame, 40), *_cabinet(every[0], frame, 63, CARD)]
    shapes += _top(every[0], frame, CARD, 56, 7)
    shapes += [Stroke(line(x, 44, x, CARD - 4), "hid thin") for x in {frame.x(_sink(kept)[0]) for kept in every}]
    return Front("", "", tuple(shapes), CARD, CARD)


def _front(kept: Kept, frame: Frame) -> Front:
    middle, half = _sink(kept)
    x, lettered = frame.x(middle), _place(kept)
    shapes: list[Shape] = [
        *_window(kept, frame, 92), *_cabinet(kept, frame, _TOP + _STONE, HIGH), *_top(kept, frame, WIDE, _TOP, _STONE),
        basin(frame.x(middle - half), frame.x(middle + half), _TOP + _STONE, 194),
        *silhouettes.faucet(x, _TOP, min(max(frame.scale / 0.21, 0.6), 1.2), -1),
        Stroke(line(x, _TOP + 4, x, _LETTERS - 17), "dim"), within(Word(x, _LETTERS, lettered, look="w")),
    ]
    return Front(words.sink(lettered), words.LINE, tuple(shapes), WIDE, HIGH)


def _frame(every: Sequence[Kept], width: float, ground: float) -> Frame:
    rects = [one for kept in every for one in kept.rects(Layer.CABINET, Layer.FRONT, Layer.EDGE)]
    left, right = span(x for one in rects for x in (one.x, one.x + one.width))
    return around(left - _MARGIN, right + _MARGIN, width, ground)


def _sink(kept: Kept) -> tuple[float, float]:
    """The middle of the sink and half its width, in mm."""
    sink = kept.rects(Layer.EDGE)[0]
    return sink.x + sink.width / 2, sink.width / 2


def _place(kept: Kept) -> str:
    """In the middle of what the sink stands, or how far off it."""
    found = {name: kept.layout.get(field) for name, field in ((line_words.WINDOW, "off_window"),
                                                              (line_words.CABINET, "off_cabinet"))}
    known: dict[str, Any] = {name: off for name, off in found.items() if off}
    inside = [name for name, off in known.items() if not off["mm"]]
    if inside or not known:
        return words.on(inside or [line_words.CABINET])
    name, off = next(iter(known.items()))
    return words.off(off["text"].removeprefix("-"), name)


def _box(one: Rect, frame: Frame, top: float, bottom: float) -> str:
    return box(frame.x(one.x), top, frame.x(one.x + one.width), bottom)


def _window(kept: Kept, frame: Frame, sill: float) -> Iterator[Shape]:
    for one in (rect for rect in kept.rects(Layer.FRONT)):
        middle = frame.x(one.x + one.width / 2)
        yield Stroke(f"{_box(one, frame, -2, sill - 4)}M{n(middle)} -2V{n(sill - 4)}", "fg", OUTLINE)
        left, right = frame.x(one.x), frame.x(one.x + one.width)
        yield Stroke(line(left - 6, sill, right + 6, sill), width=FIRM if sill > 50 else OUTLINE)


def _cabinet(kept: Kept, frame: Frame, top: float, bottom: float) -> Iterator[Shape]:
    for one in kept.rects(Layer.CABINET):
        yield Stroke(_box(one, frame, top, bottom + 4), "fw wd")


def _top(kept: Kept, frame: Frame, width: float, top: float, thick: float) -> Iterator[Shape]:
    """The top from end to end where it was measured, else past both sides of the picture."""
    ends = [one.x1 for one in kept.lines(Layer.FRONT) if one.x1 == one.x2]
    left, right = span(map(frame.x, ends)) if len(ends) > 1 else (-4.0, width + 4)
    yield Stroke(box(max(left, -4), top, min(right, width + 4), top + thick), "fs")
