"""A mirror over a vanity, from the front: glass, lamps and tap where they will be, and the eyes of who stands there."""

from collections.abc import Iterator, Sequence

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts.front import (
    CARD,
    FAT,
    LOW,
    OUTLINE,
    WIDE,
    Frame,
    Front,
    Shape,
    Stroke,
    Word,
    box,
    line,
    n,
    span,
    within,
)
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Dimension, Rect, Side

_BELOW, _ABOVE = 160.0, 90.0
"""In mm: how much of the cabinet is drawn, and how much wall above what hangs highest."""
_MIDDLE = 112.0  # of the picture; right of it stand the names of those whose eyes are drawn


def vanity_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, LOW, _MIDDLE)
    return [_front(kept, frame) for kept in every]


def vanity_card(every: Sequence[Kept]) -> Front:
    """Draw the wall on a card: the mirror dashed where the options differ."""
    frame = _frame(every, CARD, CARD / 2)
    glass = {_box(_glass(kept), frame) for kept in every}
    shapes: list[Shape] = [*_counter(every[0], frame, CARD, CARD)]
    shapes += [Stroke(path, "fg" if len(glass) == 1 else "hid", 2.0) for path in sorted(glass)]
    return Front("", "", tuple(shapes), CARD, CARD)


def _front(kept: Kept, frame: Frame) -> Front:
    frames = [one for one in kept.rects(Layer.FRONT, Layer.REFERENCE) if one is not _glass(kept)]
    lamps = _lamps(kept)
    shapes: list[Shape] = [
        *_counter(kept, frame, WIDE, LOW),
        *(Stroke(_box(one, frame), "fw") for one in frames if one not in lamps),
        Stroke(_box(_glass(kept), frame), "fg", OUTLINE),
        *(Stroke(_box(one, frame), "f", OUTLINE) for one in lamps), *_eyes(kept, frame),
    ]
    edges = [one.text for one in kept.scene.items if isinstance(one, Dimension) and one.side is Side.LEFT]
    low, high = (edges[1], edges[2]) if len(edges) > 2 else ("", "")
    return Front(words.vanity(low, high, len(lamps)), words.HEIGHTS, tuple(shapes), WIDE, LOW)


def _glass(kept: Kept) -> Rect:
    """The mirror stands first; its frame follows."""
    return kept.rects(Layer.FRONT, Layer.REFERENCE)[0]


def _lamps(kept: Kept) -> list[Rect]:
    """Lamps have a center line through their middle."""
    middles = {one.y1 for one in kept.lines(Layer.CENTER_LINE)}
    return [one for one in kept.rects(Layer.FLANGE, Layer.REFERENCE)
            if one is not _glass(kept) and any(abs(one.y + one.height / 2 - y) < 0.5 for y in middles)]


def _frame(every: Sequence[Kept], height: float, middle: float) -> Frame:
    counter = min(kept.rects(Layer.CABINET)[0].height for kept in every)
    rects = [one for kept in every for one in kept.rects(Layer.FRONT, Layer.FLANGE, Layer.REFERENCE)]
    eyes = [one.y1 for kept in every for one in kept.lines(Layer.UNDERNEATH)]
    top = max([one.y + one.height for one in rects] + eyes) + _ABOVE
    scale = height / (top - counter + _BELOW)
    return Frame(-middle / scale, scale, height + (counter - _BELOW) * scale)


def _box(one: Rect, frame: Frame) -> str:
    return box(frame.x(one.x), frame.y(one.y + one.height), frame.x(one.x + one.width), frame.y(one.y))


def _counter(kept: Kept, frame: Frame, width: float, height: float) -> Iterator[Shape]:
    """The cabinet, the top on it, the splash where there is one, and the tap."""
    cabinet = kept.rects(Layer.CABINET)[0]
    left, right = max(frame.x(cabinet.x), -4.0), min(frame.x(cabinet.x + cabinet.width), width + 4)
    top = frame.y(cabinet.height)
    yield Stroke(box(left, top, right, height + 4), "fw wd")
    for splash in kept.lines(Layer.CLEARANCE):
        yield Stroke(line(left, frame.y(splash.y1), right, frame.y(splash.y1)), "thin jt")
    yield Stroke(box(left, top, right, top + 6), "fs")
    for one in kept.rects(Layer.PULL):
        x, high = frame.x(one.x + one.width / 2), frame.y(one.y + one.height)
        pen = FAT if width > CARD else 3.0
        yield Stroke(f"M{n(x)} {n(top - 2)}V{n(high + pen / 2)}h{n(-pen * 2)}v{n(pen / 2)}", width=pen)


def _eyes(kept: Kept, frame: Frame) -> Iterator[Shape]:
    """Dashed across the glass, each named where it ends."""
    glass = _glass(kept)
    lines = [one for one in kept.lines(Layer.UNDERNEATH) if one.x1 == -one.x2]
    end = max(frame.x(glass.x + glass.width) + 8, *(frame.x(one.x + one.width) + 6 for one in _lamps(kept)), 0.0)
    for at in lines:
        yield Stroke(line(frame.x(glass.x) - 8, frame.y(at.y1), end, frame.y(at.y1)), "hid thin")
    heights = span([one.y1 for one in lines] or [0.0])
    for label in kept.labels:
        if label.side is Side.RIGHT and heights[0] <= label.y <= heights[1]:
            yield within(Word(end + 6, frame.y(label.y) + 5, label.text, "start"))
