"""The blanks of a top that reaches past its cabinets, and what is published for them."""

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.content_tables.materials import MATERIAL
from portal.layouts.form import CHOICE, COUNT, EDGE_PROFILE, FLAG, STONE_WORK, WORDS, Blank, Form, Part, needed, pick
from portal.layouts.island import AISLES, KNEES, PLANNING
from portal.layouts.overhang.dimensions import MOST_AISLES, MOST_FIXINGS

CAUTIONS = STONE_WORK
SHEETS = "fabricators' sheets; that of your maker comes first"

FORM: Form = (
    Part("", "The top", (
        needed("length", "Length of the edge that reaches out"), needed("width", "Width across it, overhang included"),
        needed("thickness", "Thickness"), needed("overhang", "How far it should reach past the cabinets"),
        MATERIAL,
        Blank("density", "Density, in kg per cubic meter", COUNT,
              hint="From the sheet of the slab. Empty: the least that the material has, since it holds itself down."),
        Blank("fragile", "Is the stone fragile, with fissures or filled?", FLAG,
              hint="Then no published limit holds for it, and its own is asked for below."),
        Blank("fastening", "How it is fastened down", WORDS, hint="Empty: it lies loose, and must not tip."),
        Blank("span", "Widest gap between cabinets that it spans"),
        Blank("corner_radius", "Radius of its corners"), Blank("smallest_radius", "Least radius that the shop cuts"),
        EDGE_PROFILE,
    ), needed=True, picks=(
        pick("top", "length", "thickness", "material", "density", "fragile", width="depth"),
        pick("shop", "smallest_radius"))),
    Part("seats", "Seats", (
        needed("count", "How many, side by side", COUNT),
        needed("height", "Height of the counter", CHOICE, choices=tuple(KNEES)))),
    Part("limits", "What its maker or fabricator allows without support", (
        Blank("alone", "How far it may reach out"), Blank("span", "How far it may span"),
        needed("source", "Who says so", WORDS)),
         hint="For what is not natural stone, or is fragile. Of natural stone the lesser of this and the published.",
         picks=(pick("maker_limits", "alone", "span", "source"),)),
    Part("load", "Load on the edge to reckon with", (
        needed("pounds", "In pounds", COUNT), needed("source", "Who says so", WORDS)),
         hint="Nothing is published for a top in a home. Empty: what would lift the top is told, without a verdict.",
         picks=(pick("edge_load", "pounds", "source"),)),
    Part("brackets", "Brackets, from their maker's sheet", (
        needed("reach", "How far they reach out under the top"),
        Blank("spacing", "How far apart they may stand", hint="Empty: as far as stone may span."),
        Blank("set_back", "How far before the edge they must end"),
        Blank("inset", "How far from an end of the top the outer ones may stand, at most",
              hint="Empty: as far as the stone may reach out alone."),
        Blank("rating", "What each carries, in pounds", COUNT), Blank("source", "Who says so", WORDS)),
         picks=(pick("brackets", "reach", "spacing", "set_back", "inset", "rating", "source"),)),
    Part("fixings", "Gable or stud that a bracket can be fixed to", (
        needed("from_left", "From the left end of the edge"),), rows=4, most=MOST_FIXINGS,
         hint="Empty: brackets may stand anywhere."),
    Part("aisles", "Aisle", (
        needed("name", "Where it is", WORDS), needed("use", "What it is for", CHOICE, choices=tuple(AISLES)),
        needed("room", "From the cabinets to what stands opposite"),
        Blank("edge", "How far the top reaches into it"),
        Blank("on_overhang_side", "Is it on the side of this overhang?", FLAG),
        Blank("on_far_side", "Or is it across the island from it?", FLAG, hint="Other aisles are told, not drawn."),
    ), rows=MOST_AISLES),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give what is published for knees and aisles, and what fabricators' sheets say where nothing is."""
    knees = [Suggestion("overhang", f"{seat.depth.text} of knee depth at a counter {height} high", PLANNING)
             for height, seat in KNEES.items()]
    aisles = [Suggestion("aisles.use", f"{use}: {least.text}", PLANNING) for use, least in AISLES.items()]
    return (
        *knees, *aisles, Suggestion("brackets.reach", "no published size is known: ask its maker", PRACTICE),
        Suggestion("brackets.spacing", "every 16 to 24 in; by another sheet up to 36 in", SHEETS),
        Suggestion("brackets.inset", "12 in", SHEETS),
        Suggestion("limits.alone", "quartz of 3 cm 14 in, and a third of the width; solid surface 6 in", SHEETS),
        Suggestion("load.pounds", "no published load is known for a top in a home: ask your firm", PRACTICE),
    )
