"""A top from above: its width and depth, where its sink lies, and the sides of the cabinet below."""

from portal.drawings.forms.form_drawing import (
    LEFT,
    RIGHT,
    Along,
    Fold,
    FormDrawing,
    Known,
    Listed,
    Spot,
    across,
    broken,
    down,
    lettered,
    look,
    upright,
    wall,
)
from portal.drawings.forms.form_words import FOLDS, LETTERS, LISTS, SEEN
from portal.drawings.fronts.front import Disc, Shape, Stroke, Word, box

_TOP, _EDGE = 92.0, 274.0
_WIDTH, _DEPTH = Spot("top.width", 180, 32), Spot("top.depth", 306, 182)
_FRONT, _SINK = Spot("cutout.from_front", 142, 250), Spot("cutout.from_left", 86, 306)
_ONE, _OTHER = Spot("cabinet.left_side", 86, 360), Spot("cabinet.right_side", 86, 414)


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw the top with its sink, one hole and the next, from what is known."""
    along = Along(known, "top.width")
    left, right = along.span("cutout.from_left", "cutout.width", (.34, .31))
    one, other = along.at("cabinet.left_side", .3), along.at("cabinet.right_side", .72)
    middle = along.at("place.center_line", 2.0) if "place.center_line" in known else (left + right) / 2
    measured = min(max(left + 16, 92.0), right - 8)
    return (
        *wall(_TOP - 6), Word(46, _TOP - 22, LETTERS["wall"], "start"),
        broken(_TOP, _EDGE, look(known, "fs", "top.width", "top.depth")),
        Stroke(box(left, 140, right, 226), look(known, "f", "cutout.from_left", "cutout.width")),
        Word(left + 8, 160, LETTERS["sink"], "start", "in"),
        upright(middle, _TOP - 12, 236, "thin hid"),
        Disc(middle, 116, 7, "f bl"), Disc(middle + 40, 116, 6, "f bl hid"),
        *(upright(x, _TOP, _EDGE, "thin hid") for x in (one, other)),
        across(LEFT, RIGHT, _WIDTH.y), upright(LEFT, 22, 66), upright(RIGHT, 22, 66),
        down(RIGHT - 12, _TOP, _EDGE), down(measured, 226, _EDGE),
        Word(_FRONT.x + 58, 256, LETTERS["to edge"], "start", "in"),
        upright(LEFT, _EDGE + 8, 424), upright(left, _EDGE, 316), across(LEFT, left, _SINK.y),
        upright(one, _EDGE, 370), across(LEFT, one, _ONE.y), upright(other, _EDGE, 424),
        across(LEFT, other, _OTHER.y), lettered(left, _SINK, LETTERS["cut-out"]),
        lettered(one, _ONE, LETTERS["left side"]), lettered(other, _OTHER, LETTERS["right side"]),
        Word(min(other + 8, 296), 306, LETTERS["cabinet"], "start"),
    )  # fmt: skip


DECK = FormDrawing(
    SEEN["above"], 444, (_WIDTH, _DEPTH, _FRONT, _SINK, _ONE, _OTHER),
    (Listed("top", "top", LISTS["top"]), Listed("cutout", "sink", LISTS["sink"]),
     Listed("faucet", "faucet", LISTS["faucet"]), Listed("accessories.0", "accessory", LISTS["also"]),
     Listed("minimums", "shop", LISTS["shop"])),
    (Fold(FOLDS["sink"], ("cutout",), of="sink"), Fold(FOLDS["faucet"], ("faucet",), of="faucet"),
     Fold(FOLDS["also"], ("accessories.0",), of="accessory"), Fold(FOLDS["shop"], ("minimums",), of="shop"),
     Fold(FOLDS["thickness and splash"], ("top", "material")),
     Fold(FOLDS["holes there"], ("existing_holes", "cap")),
     Fold(FOLDS["more beside"], ("accessories",)),
     Fold(FOLDS["below"], ("bowls", "underneath")),
     Fold(FOLDS["where it goes"], ("place", "measure_from", "window", "rank_by_lifetime"))),
    draw,
)  # fmt: skip
