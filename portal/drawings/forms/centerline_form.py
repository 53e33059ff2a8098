"""A wall from the front: the window, the cabinet below it and the sink between them, all from one datum."""

from portal.drawings.forms.form_drawing import (
    LEFT,
    RIGHT,
    Fold,
    FormDrawing,
    Known,
    Listed,
    Spot,
    across,
    lettered,
    level,
    look,
    upright,
)
from portal.drawings.forms.form_words import FOLDS, LETTERS, LISTS, SEEN
from portal.drawings.fronts.front import Shape, Stroke, Word, box

_ONE, _OTHER = Spot("window.left", 86, 32), Spot("window.right", 86, 86)
_SINK = Spot("sink_width", 180, 274)
_CABINET, _END = Spot("cabinet.left", 86, 372), Spot("cabinet.right", 86, 426)
_COUNTER = 230.0


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw window, sink and cabinet from what is known, all at one scale along the wall."""
    far = max([known[path] for path in ("window.right", "cabinet.right") if path in known], default=0.0)

    def at(path: str, usual: float) -> float:
        share = known[path] / (far * 1.1) if far and path in known else usual
        return LEFT + (RIGHT - LEFT) * min(max(share, 0.0), 1.0)

    one, other = sorted((at("window.left", .26), at("window.right", .74)))
    left, right = sorted((at("cabinet.left", .2), at("cabinet.right", .84)))
    half = at("sink_width", .4) / 2 - LEFT / 2
    middle = (one + other) / 2 if "window.left" in known else (left + right) / 2
    return (
        upright(LEFT, 14, 440), across(LEFT, one, _ONE.y), upright(one, 22, 118), across(LEFT, other, _OTHER.y),
        upright(other, 76, 118), Stroke(box(one, 118, other, 206), look(known, "fg", "window.left", "window.right")),
        Word((one + other) / 2, 168, LETTERS["window"], "middle", "in"), upright(middle, 110, 322, "thin hid"),
        Stroke(box(left, _COUNTER + 12, right, 340), look(known, "fw", "cabinet.left", "cabinet.right")),
        Stroke(box(LEFT, _COUNTER, RIGHT, _COUNTER + 12), "fs"),
        Stroke(box(middle - half, _COUNTER + 12, middle + half, 306), look(known, "f", "sink_width")),
        across(middle - half, middle + half, _SINK.y), level(LEFT - 8, RIGHT + 8, 340),
        Word(middle, 322, LETTERS["sink"], "middle", "in"), upright(left, 340, 382), across(LEFT, left, _CABINET.y),
        upright(right, 340, 436), across(LEFT, right, _END.y),
        lettered(one, _ONE, LETTERS["left side"]), lettered(other, _OTHER, LETTERS["right side"]),
        lettered(left, _CABINET, LETTERS["left, inside"]), lettered(right, _END, LETTERS["right, inside"]),
    )  # fmt: skip


CENTERLINE = FormDrawing(
    SEEN["front"], 456, (_ONE, _OTHER, _SINK, _CABINET, _END),
    (Listed("", "sink", LISTS["sink"]), Listed("", "top", LISTS["top"])),
    (Fold(FOLDS["clips"], ("clip_room", "source"), of="sink"), Fold(FOLDS["material"], ("material",), of="top"),
     Fold(FOLDS["datum"], ("datum",)), Fold(FOLDS["free counter"], ("counter",))),
    draw,
)  # fmt: skip
