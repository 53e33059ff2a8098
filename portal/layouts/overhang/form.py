"""The blanks of a top that reaches past its cabinets, and what is published for them."""

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.form import CHOICE, COUNT, FLAG, STONE_WORK, WORDS, Blank, Form, Part, needed, pick
from portal.layouts.island import AISLES, KNEES, PLANNING
from portal.layouts.overhang.dimensions import MOST_AISLES

CAUTIONS = STONE_WORK

FORM: Form = (
    Part("", "The top", (
        needed("length", "Length of the edge that reaches out"), needed("width", "Width across it, overhang included"),
        needed("thickness", "Thickness"), needed("overhang", "How far it should reach past the cabinets"),
        Blank("span", "Widest gap between cabinets that it spans"),
        Blank("corner_radius", "Radius of its corners"), Blank("smallest_radius", "Least radius that the shop cuts"),
    ), needed=True, picks=(pick("top", "length", "thickness", width="depth"), pick("shop", "smallest_radius"))),
    Part("seats", "Seats", (
        needed("count", "How many, side by side", COUNT),
        needed("height", "Height of the counter", CHOICE, choices=tuple(KNEES)))),
    Part("brackets", "Brackets, from their maker's sheet", (
        needed("reach", "How far they reach out under the top"), needed("spacing", "How far apart they may stand")),
         picks=(pick("brackets", "reach", "spacing"),)),
    Part("aisles", "Aisle", (
        needed("name", "Where it is", WORDS), needed("use", "What it is for", CHOICE, choices=tuple(AISLES)),
        needed("room", "From the cabinets to what stands opposite"),
        Blank("edge", "How far the top reaches into it"),
        Blank("on_overhang_side", "Is it on the side of this overhang?", FLAG),
        Blank("on_far_side", "Or is it across the island from it?", FLAG, hint="Other aisles are told, not drawn."),
    ), rows=MOST_AISLES),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give what is published for knees and aisles; for brackets there is nothing."""
    knees = [Suggestion("overhang", f"{seat.depth.text} of knee depth at a counter {height} high", PLANNING)
             for height, seat in KNEES.items()]
    aisles = [Suggestion("aisles.use", f"{use}: {least.text}", PLANNING) for use, least in AISLES.items()]
    return (*knees, *aisles, Suggestion("brackets.reach", "no published size is known: ask its maker", PRACTICE))
