"""A bank of fronts as one stands before it: the first front with its pull, from the left end and from the floor."""

from portal.drawings.forms.form_drawing import (
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

_NAME, _TYPE = Spot("fronts.0.name", 166, 166), Spot("fronts.0.type", 166, 218)
_WIDTH, _HEIGHT = Spot("fronts.0.width", 166, 32), Spot("fronts.0.height", 306, 158)
_LEFT, _FLOOR = Spot("fronts.0.from_left", 82, 284), Spot("fronts.0.from_floor", 306, 300)
_PULL = Spot("drawers.from_top", 112, 100)
_MOST, _LEAST = 88.0, 20.0


def draw(known: Known) -> tuple[Shape, ...]:
    """Draw the first front, its pull at its height, and the others that are known as outlines behind it."""
    high, wide = known.get("fronts.0.height", 0.0), known.get("fronts.0.width", 0.0)
    drop = known.get("drawers.from_top", 0.0)
    pull = 74 + min(max(174 * drop / high, _LEAST), _MOST) if high and drop else 126.0
    half = min(max(90 * known["pull.length"] / wide, 8.0), 90.0) if wide and "pull.length" in known else 36.0
    beside = 76 - 40 if known.get("fronts.0.from_left", 1.0) else 76.0
    return (
        upright(beside, 60, 336), level(20, 350, 336), Word(350, 352, LETTERS["floor"], "end"),
        *(Stroke(box(76 + by, 74 - by / 2, 256 + by, 248 - by / 2), "f thin") for by in _behind(known)),
        Stroke(box(76, 74, 256, 248), look(known, "fw", "fronts.0.width", "fronts.0.height")),
        Stroke(f"M{166 - half:.1f} {pull:.1f}h{2 * half:.1f}", look(known, "", "pull.length", "drawers.from_top"), 5),
        across(76, 256, _WIDTH.y), upright(76, 22, 66), upright(256, 22, 66), down(280, 74, 248), down(280, 248, 336),
        down(92, 74, pull), across(beside, 76, _LEFT.y), upright(76, 248, 294),
        Word(306, 124, LETTERS["height"]), Word(306, 268, LETTERS["from the floor"]),
        Word(92, 326, LETTERS["from the left end"], "start"),
    )  # fmt: skip


def _behind(known: Known) -> list[float]:
    """How far each other front that is known stands out behind the first, the farthest first."""
    rows = {path.split(".")[1] for path in known if path.startswith("fronts.") and path.endswith(".width")} - {"0"}
    return [6.0 * (at + 1) for at in reversed(range(min(len(rows), 3)))]


PULLS = FormDrawing(
    SEEN["front"], 362, (_NAME, _TYPE, _WIDTH, _HEIGHT, _LEFT, _FLOOR, _PULL),
    (Listed("fronts.0", "front", LISTS["front"]), Listed("pull", "pull", LISTS["pull"]),
     Listed("minimums", "front_limits", LISTS["front limits"])),
    (Fold(FOLDS["front"], ("fronts.0",), of="front"), Fold(FOLDS["pull"], ("pull",), of="pull"),
     Fold(FOLDS["front limits"], ("minimums",), of="front_limits"),
     Fold(FOLDS["other fronts"], ("fronts",)), Fold(FOLDS["doors"], ("doors",)),
     Fold(FOLDS["wide drawers"], ("two_over",)), Fold(FOLDS["inside corners"], ("inside_corners",))),
    draw,
)  # fmt: skip
