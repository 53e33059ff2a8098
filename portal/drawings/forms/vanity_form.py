"""A vanity from the front: the counter, the mirror over it, and whoever stands before it."""

from portal.drawings.forms.form_drawing import (
    Fold,
    FormDrawing,
    Known,
    Listed,
    Spot,
    down,
    level,
    look,
    upright,
)
from portal.drawings.forms.form_words import FOLDS, LETTERS, LISTS, SEEN
from portal.drawings.fronts.front import Disc, Shape, Stroke, Word, box

_NAME, _HEAD, _EYES = Spot("people.0.name", 54, 40), Spot("people.0.height", 54, 262), Spot("people.0.eyes", 54, 366)
_MIRROR, _OVER, _COUNTER = Spot("mirror.height", 190, 150), Spot("minimums.above_splash", 190, 272), Spot(
    "counter", 190, 402)
_CEILING, _TAP, _SPLASH = Spot("ceiling", 306, 84), Spot("tap", 306, 214), Spot("splash", 306, 296)
_FLOOR, _STONE = 470.0, 330.0


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw the person's eyes against the mirror: higher up, the taller they are."""
    eyes = 176 - (min(max(known.get("people.0.eyes", 1550.0), 1000.0), 2000.0) - 1550) * .11
    head = eyes - min(max((known.get("people.0.height", 0.0) - known.get("people.0.eyes", 0.0)) * .2, 14.0), 40.0)
    person = look(known, "f", "people.0.eyes", "people.0.height")
    return (
        level(6, 354, 10), level(6, 354, _FLOOR), Disc(54, (head + eyes + 14) / 2, (eyes + 14 - head) / 2, person),
        Stroke(f"M30 {_FLOOR:.0f}V{eyes + 48:.0f}q0-24 24-24t24 24V{_FLOOR:.0f}", person),
        Stroke(f"M78 {eyes:.1f}H128", "thin hid"), down(14, head, _FLOOR), down(94, eyes, _FLOOR),
        Word(54, 236, LETTERS["height"]), Word(54, 340, LETTERS["eyes"]),
        Stroke(box(128, 60, 252, 244), look(known, "fg", "mirror.height")), down(190, 60, 244),
        Word(190, 52, LETTERS["mirror"]), down(190, 244, 300), Stroke(box(120, 300, 352, _STONE), look(
            known, "fs", "splash")),
        Stroke(box(112, _STONE, 356, _STONE + 12), "fs"),
        Stroke(box(120, _STONE + 12, 348, _FLOOR), look(known, "fw", "counter")), down(138, _STONE, _FLOOR),
        Word(190, 442, LETTERS["counter"], "middle", "in"),
        Stroke(f"M262 {_STONE:.0f}V262q0-10-12-10h-12v12", look(known, "", "tap"), 4),
        down(274, 252, _STONE), down(344, 300, _STONE), upright(306, 10, 60), Word(306, 120, LETTERS["ceiling"]),
        Word(306, 250, LETTERS["tap"]), Word(306, 332, LETTERS["splash"]),
    )  # fmt: skip


VANITY = FormDrawing(
    SEEN["front"], 482, (_NAME, _HEAD, _EYES, _MIRROR, _OVER, _COUNTER, _CEILING, _TAP, _SPLASH),
    (Listed("mirror", "mirror", LISTS["mirror"]), Listed("lights", "lamp", LISTS["lamp"])),
    (Fold(FOLDS["mirror"], ("mirror",), of="mirror"), Fold(FOLDS["lamp"], ("lights",), of="lamp"),
     Fold(FOLDS["limits"], ("minimums",)), Fold(FOLDS["wall and seat"], ("wall", "seated", "knees")),
     Fold(FOLDS["others there"], ("people",)), Fold(FOLDS["window and tub"], ("window", "tub"))),
    draw,
)  # fmt: skip
