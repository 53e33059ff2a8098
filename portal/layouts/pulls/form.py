"""The blanks of a bank of fronts and its pull. `PLACED` is what a designer may propose; the rest is measured."""

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.form import CHOICE, FLAG, WOOD_WORK, WORDS, Blank, Form, Part, needed, pick, source_of_minimums
from portal.layouts.pulls.dimensions import ENDS, MOST_CORNERS, MOST_FRONTS, TYPES
from portal.layouts.pulls.sizes import GUIDE, THIRDS

CAUTIONS = WOOD_WORK

PLACED = frozenset({"drawers", "doors", "two_over"})

FORM: Form = (
    Part("fronts", "Front", (
        needed("name", "What we call it", WORDS), needed("type", "What it is", CHOICE, choices=TYPES),
        needed("width", "Width"), needed("height", "Height"),
        needed("from_left", "Its left edge, from the left end of the bank"),
        needed("from_floor", "Its lower edge, from the floor"),
        Blank("rail", "Width of its frame", hint="Empty: a flat front."),
        Blank("pull_end", "Where a door's pull is", CHOICE, choices=ENDS, hint="At the top of a base door."),
    ), needed=True, rows=8, most=MOST_FRONTS, picks=(pick("front", "name", "type", "width", "height", "rail"),)),
    Part("pull", "The pull", (
        Blank("name", "What we call it", WORDS),
        Blank("centers", "Hole to hole", hint="As its box says: 160 mm is not 6-5/16 in. Empty: a knob with one hole."),
        needed("length", "Length over all"), needed("projection", "How far it stands out"),
        Blank("inch_sheet", "Does its own sheet give inches?", FLAG),
        Blank("drill", "Drill size for its screws", hint="From the maker's sheet. Empty: the crew looks it up there."),
        Blank("base", "Width of its foot, or of the knob's", hint="Where it touches the front. Empty: not measured."),
    ), needed=True, picks=(pick("pull", "name", "centers", "length", "projection", "inch_sheet", "drill", "base"),)),
    Part("minimums", "Least distances", (
        needed("to_edge", "From the middle of a hole to the edge of a front"),
        source_of_minimums("The maker of the fronts or the carpenter"),
    ), needed=True, picks=(pick("front_limits", "to_edge", "source"),)),
    Part("drawers", "On drawers", (
        needed("from_top", "Along the upper edge: how far below it", hint="Empty: not wanted."),)),
    Part("doors", "On doors", (
        needed("from_side", "Nearest hole from the side that opens"), needed("from_end", "Nearest hole from the end"),
    ), hint="Needed as soon as there is a door."),
    Part("", "Wide drawers", (
        Blank("two_over", "Two pulls on drawers wider than", hint="Empty: always one."),)),
    Part("inside_corners", "Inside corner", (
        needed("one", "One front", WORDS), needed("other", "The front across the corner", WORDS),
        needed("one_gap", "From the other run's faces to the first front"),
        needed("other_gap", "From the first run's faces to the other front"),
    ), rows=2, most=MOST_CORNERS, hint="Drawers that open past each other. Name them as above."),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give what makers and practice say of sizes of pulls and of wide drawers."""
    table = "; ".join(f"{least} to {most} in wide: {' or '.join(sizes)}" for least, most, sizes in THIRDS)
    return (
        Suggestion("pull.length", f"about a third of the drawer's width. {table}", GUIDE),
        Suggestion("pull.centers", "metric pulls are 96, 128, 160, 192, 224, 256 or 320 mm: give the mm of the sheet",
                   "32 mm system"),
        Suggestion("two_over", "30 in or 36 in", PRACTICE),
    )
