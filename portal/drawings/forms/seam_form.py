"""A run of stone from above with its first cut-out, and the slab that it is cut from."""

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
from portal.drawings.fronts.front import Shape, Stroke, Word, box

_LENGTH, _DEPTH = Spot("length", 180, 32), Spot("depth", 306, 150)
_NAME, _START, _WIDE = Spot("cutouts.0.name", 142, 150), Spot("cutouts.0.from_left", 86, 238), Spot(
    "cutouts.0.width", 142, 292)
_SLAB, _DEEP = Spot("slab.length", 150, 432), Spot("slab.depth", 306, 372)
_TOP, _EDGE = 92.0, 206.0


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw the run with its cut-outs, and the slab as long beside it as it is."""
    along = Along(known, "length")
    left, right = along.span("cutouts.0.from_left", "cutouts.0.width", (.18, .4))
    end = LEFT + 240 if "slab.length" not in known else max(along.at("slab.length", .8), 130.0)
    more = [along.span(f"cutouts.{row}.from_left", f"cutouts.{row}.width", (0, 0)) for row in range(1, 4)
            if f"cutouts.{row}.width" in known and f"cutouts.{row}.from_left" in known]
    return (
        *wall(_TOP - 6), broken(_TOP, _EDGE, look(known, "fs", "length", "depth")),
        Stroke(box(left, 118, right, 182), look(known, "f", "cutouts.0.from_left", "cutouts.0.width")),
        *(Stroke(box(*_of(one)), "f") for one in more), across(LEFT, RIGHT, _LENGTH.y), upright(LEFT, 22, 66),
        upright(RIGHT, 22, 66), down(RIGHT - 12, _TOP, _EDGE), upright(LEFT, _EDGE + 6, 248),
        upright(left, 182, 302), upright(right, 182, 302), across(LEFT, left, _START.y), across(left, right, _WIDE.y),
        lettered(left, _START, LETTERS["from the left end"]), lettered(right, _WIDE, LETTERS["cut-out"]),
        Stroke(box(LEFT, 328, end, 410), look(known, "fs", "slab.length", "slab.depth")),
        Word(LEFT + 12, 350, LETTERS["slab"], "start", "in"), across(LEFT, end, _SLAB.y), upright(LEFT, 410, 442),
        upright(end, 410, 442), down(min(end, RIGHT - 12) - 6, 328, 410),
    )  # fmt: skip


def _of(one: tuple[float, float]) -> tuple[float, float, float, float]:
    return one[0], 118, one[1], 182


SEAM = FormDrawing(
    SEEN["above"], 458, (_LENGTH, _DEPTH, _NAME, _START, _WIDE, _SLAB, _DEEP),
    (Listed("", "top", LISTS["top"]), Listed("cutouts.0", "sink", LISTS["sink"]),
     Listed("slab", "slab", LISTS["slab"]), Listed("minimums", "shop", LISTS["shop"])),
    (Fold(FOLDS["sink"], ("cutouts.0",), of="sink"), Fold(FOLDS["slab"], ("slab",), of="slab"),
     Fold(FOLDS["shop"], ("minimums",), of="shop"),
     Fold(FOLDS["thickness"], ("thickness", "thicker_by", "material", "density", "edge_profile")),
     Fold(FOLDS["other cut-outs"], ("cutouts",)),
     Fold(FOLDS["dishwasher"], ("dishwasher",)), Fold(FOLDS["seam wanted"], ("proposed",))),
    draw,
)  # fmt: skip
