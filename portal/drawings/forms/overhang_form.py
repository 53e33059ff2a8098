"""A top from above, the edge that reaches out in front, and its thickness from the side."""

from portal.drawings.forms.form_drawing import (
    LEFT,
    RIGHT,
    Fold,
    FormDrawing,
    Known,
    Listed,
    Spot,
    across,
    down,
    level,
    look,
    upright,
)
from portal.drawings.forms.form_words import FOLDS, LETTERS, LISTS, SEEN
from portal.drawings.fronts.front import Shape, Stroke, Word, box

_WIDTH, _OVER = Spot("width", 304, 96), Spot("overhang", 112, 208)
_LENGTH, _THICK = Spot("length", 180, 290), Spot("thickness", 204, 352)
_BACK, _EDGE = 28.0, 246.0


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw the top over its cabinets, the overhang at its share of the width."""
    share = known["overhang"] / known["width"] if known.get("width") and "overhang" in known else .36
    cabinets = _EDGE - (_EDGE - _BACK) * min(max(share, .1), .8)
    thick = min(max(known.get("thickness", 30.0) / 3, 6.0), 24.0)
    over = LEFT + 90 * min(max(share, .1), .8)
    return (
        Stroke(box(LEFT, _BACK, RIGHT, _EDGE), look(known, "fs", "length", "width")),
        level(LEFT, RIGHT, cabinets, look(known, "thin hid", "overhang")),
        Word(LEFT + 12, cabinets - 10, LETTERS["cabinets below"], "start", "in"),
        down(RIGHT - 14, _BACK, _EDGE), down(LEFT + 22, cabinets, _EDGE),
        Word(_OVER.x + 58, 214, LETTERS["reaches out"], "start", "in"),
        Word(_WIDTH.x, 64, LETTERS["across"], "middle", "in"),
        upright(LEFT, _EDGE, 300), upright(RIGHT, _EDGE, 300), across(LEFT, RIGHT, _LENGTH.y),
        Stroke(box(LEFT, 334, 140, 334 + thick), look(known, "fs", "thickness")),
        Stroke(box(over, 334 + thick, 132, 384), "fw"), down(146, 334, 334 + thick),
        Word(_THICK.x + 58, 358, LETTERS["thickness"], "start"),
    )  # fmt: skip


OVERHANG = FormDrawing(
    SEEN["above and side"], 398, (_WIDTH, _OVER, _LENGTH, _THICK),
    (Listed("", "top", LISTS["top"]), Listed("", "shop", LISTS["shop"]),
     Listed("limits", "maker_limits", LISTS["maker limits"]), Listed("brackets", "brackets", LISTS["brackets"])),
    (Fold(FOLDS["material"], ("material", "density", "fragile"), of="top"),
     Fold(FOLDS["least radius"], ("smallest_radius",), of="shop"),
     Fold(FOLDS["maker limits"], ("limits",), of="maker_limits"),
     Fold(FOLDS["brackets"], ("brackets",), of="brackets"),
     Fold(FOLDS["fastening"], ("fastening", "span", "corner_radius", "edge_profile")),
     Fold(FOLDS["seats"], ("seats", "load")), Fold(FOLDS["fixings"], ("fixings",)), Fold(FOLDS["aisles"], ("aisles",))),
    draw,
)  # fmt: skip
