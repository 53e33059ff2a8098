"""An overhang from the side: how far the top reaches past the cabinets, what holds it, and a stool under it."""

from collections.abc import Iterator, Sequence

from portal.drawings.fronts import front_words as words
from portal.drawings.fronts import silhouettes
from portal.drawings.fronts.front import (
    CARD,
    FIRM,
    LOW,
    OUTLINE,
    WIDE,
    Frame,
    Front,
    Shape,
    Stroke,
    Word,
    box,
    dimension,
    line,
)
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Dimension, Side

_HIGH, _STOOL, _SEAT, _ROOM = 914.4, 350.0, 254.0, 380.0
"""In mm: of a top whose height nobody gave; a stool's width, and how far its seat lies below the top (common
practice); how much of the floor before the top is drawn."""
_FLOOR, _LETTERS, _UP = 146.0, 166.0, 104.0


def overhang_fronts(every: Sequence[Kept]) -> list[Front]:
    """Draw the options of one question, all at one scale."""
    frame = _frame(every, WIDE, _FLOOR, _UP, 24.0)
    return [_front(kept, frame) for kept in every]


def overhang_card(every: Sequence[Kept]) -> Front:
    """Draw the top on a card: as far as every option reaches it is there, the rest is dashed."""
    frame = _frame(every, CARD, CARD - 6, 56.0, 6.0)
    outs = sorted(_out(kept) for kept in every)
    shapes: list[Shape] = [*_block(every[0], frame, outs[0])]
    if outs[-1] > outs[0]:
        top = frame.y(_height(every[0]))
        shapes.append(Stroke(box(frame.x(-outs[-1]), top, frame.x(-outs[0]), top + 7), "hid"))
    shapes += _stool(every[0], frame)
    return Front("", "", tuple(shapes), CARD, CARD)


def _front(kept: Kept, frame: Frame) -> Front:
    out, top = _out(kept), frame.y(_height(kept))
    seats = len(kept.circles(Layer.CLEARANCE))
    brackets = kept.layout.get("brackets") or 0
    told = next((one.text for one in kept.scene.items if isinstance(one, Dimension) and one.side is Side.LEFT), "")
    shapes: list[Shape] = [
        *_block(kept, frame, out), *_bracket(kept, frame, out), *(_stool(kept, frame) if seats else ()),
        Stroke(line(-4, _FLOOR, WIDE + 4, _FLOOR), width=OUTLINE),
        dimension(frame.x(-out), frame.x(0), top - 9), Word(frame.x(-out / 2), top - 17, told),
        Stroke(line(frame.x(-out), top - 2, frame.x(-out), top - 14), "dim"),
        Stroke(line(frame.x(0), top - 2, frame.x(0), top - 14), "dim"),
    ]
    lettered = words.under(seats, brackets)
    if lettered:
        shapes.append(Word(WIDE / 2, _LETTERS, lettered))
    given = kept.part("seats").get("height") is not None
    return Front(words.overhang(told, lettered), words.SIDE if given else words.SIDE_ONLY, tuple(shapes), WIDE, LOW)


def _out(kept: Kept) -> float:
    """How far it reaches past the cabinets, in mm."""
    return kept.lines(Layer.CABINET)[0].y1


def _whole(kept: Kept) -> float:
    return kept.rects(Layer.EDGE)[0].height


def _height(kept: Kept) -> float:
    return kept.length("seats", "height") or _HIGH


def _frame(every: Sequence[Kept], width: float, ground: float, up: float, side: float) -> Frame:
    """0 is the face of the cabinets; the overhang and whoever sits there are left of it."""
    out = max(map(_out, every))
    back = max(_whole(kept) - _out(kept) for kept in every)
    scale = min((width - 2 * side) / (out + _ROOM + back), up / max(map(_height, every)))
    return Frame((back - out - _ROOM) / 2 - width / 2 / scale, scale, ground)


def _block(kept: Kept, frame: Frame, out: float) -> Iterator[Shape]:
    back, top = _whole(kept) - _out(kept), frame.y(_height(kept))
    thick = max(frame.size(kept.length_of("thickness") or 30.0), 5.0)
    yield Stroke(box(frame.x(0), top + thick, frame.x(back), frame.ground), "fw", OUTLINE)
    yield Stroke(box(frame.x(-out), top, frame.x(back), top + thick), "fs", OUTLINE)


def _bracket(kept: Kept, frame: Frame, out: float) -> Iterator[Shape]:
    """As far out as it reaches under the top."""
    brackets = kept.rects(Layer.SUPPORT)
    if brackets:
        top = frame.y(_height(kept)) + max(frame.size(kept.length_of("thickness") or 30.0), 5.0) + 2
        reach = frame.x(brackets[0].y - out)
        yield Stroke(f"{line(reach, top, frame.x(0), top)}V{top + 14:.0f}", width=FIRM)


def _stool(kept: Kept, frame: Frame) -> Iterator[Shape]:
    seat = _height(kept) - _SEAT
    half = frame.size(_STOOL / 2)
    yield from silhouettes.stool(frame.x(-_out(kept) - _STOOL * 0.25), frame.ground, frame.y(seat), half)
