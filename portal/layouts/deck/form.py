"""The blanks of a deck, in the order in which one measures: the top, what is cut and hangs below, what stands on it."""

from portal.layouts.content_tables.materials import MATERIAL
from portal.layouts.deck.dimensions import EDGES, ENDS, SIDES, USES
from portal.layouts.deck.read import MOST_ACCESSORIES, MOST_HOLES
from portal.layouts.form import CHOICE, FLAG, STONE_WORK, WORDS, Blank, Form, Part, needed, pick, source_of_minimums

CAUTIONS = STONE_WORK

_FROM_LEFT = needed("from_left", "From the left end of the top")
_FROM_FRONT = needed("from_front", "From the front edge")
_CENTER_LEFT = needed("from_left", "Its center from the left end of the top")
_CENTER_FRONT = needed("from_front", "Its center from the front edge")
_WIDTH, _DEPTH = needed("width", "Width"), needed("depth", "Depth, front to back")
_CORNER = Blank("corner_radius", "Radius of its corners", hint="Empty: square corners.")
_SHEET = "From the maker's sheet."

FORM: Form = (
    Part("top", "The top", (
        _WIDTH, _DEPTH, needed("thickness", "Thickness"),
        Blank("splash", "Thickness of the splash or wall finish on it", hint="Empty: nothing stands on it."),
    ), needed=True, picks=(pick("top", "depth", "thickness", "splash", width="length", **{"/material": "material"}),)),
    Part("", "What the top is made of", (MATERIAL,)),
    Part("cutout", "The sink cut-out", (_FROM_LEFT, _FROM_FRONT, _WIDTH, _DEPTH, _CORNER), needed=True,
         picks=(pick("sink", "corner_radius", width="cutout_width", depth="cutout_depth"),)),
    Part("bowls", "Bowl", (_FROM_LEFT, _FROM_FRONT, _WIDTH, _DEPTH, _CORNER), rows=2,
         hint="Only where the bowls are not the cut-out itself."),
    Part("cabinet", "The cabinet below, from the left end of the top", (
        needed("left_side", "Inner face of its left side"), needed("right_side", "Inner face of its right side"))),
    Part("underneath", "Underneath", (
        needed("name", "What hangs there", WORDS, hint="Such as a clip, a rail, a vent or a pipe."),
        _FROM_LEFT, _FROM_FRONT, Blank("width", "Width"), Blank("depth", "Depth, front to back"),
        Blank("diameter", "Or its diameter, if it is round", hint="Then measure to its center."), _CORNER,
    ), rows=4),
    Part("faucet", "The faucet", (
        Blank("name", "What we call it", WORDS, hint="Empty: the faucet."),
        needed("holes", "How many holes it takes", CHOICE, choices=("1", "3", "1 or 3")),
        needed("hole", "Diameter of its hole", hint=_SHEET), needed("base", "Width of its base", hint=_SHEET),
        needed("thickest_top", "Thickest top that it takes", hint=_SHEET),
        Blank("outer_to_outer", "With three holes: outer hole to outer hole, center to center"),
        Blank("outer_least", "The least that it allows"), Blank("outer_most", "The most that it allows"),
        Blank("swing", "Room that its lever or spout needs, from its center"),
        Blank("lever_swing", "With three holes: room that each lever needs, from its center"),
        Blank("clearance_behind", "Room that it needs behind its center"),
        Blank("reach", "Reach of its spout"),
    ), needed=True, picks=(pick(
        "faucet", "name", "holes", "hole", "base", "thickest_top", "outer_to_outer", "outer_least", "outer_most",
        "swing", "lever_swing", "clearance_behind", "reach", plate__length="plate_length",
        plate__width="plate_width"),)),
    Part("faucet.plate", "A plate under the faucet", (
        needed("length", "Length of the plate"), needed("width", "Width of the plate")),
        hint="Only if there is one: look in the box."),
    Part("accessories", "Accessory", (
        needed("name", "What it is", WORDS), Blank("use", "What it is for", CHOICE, choices=USES),
        needed("hole", "Diameter of its hole", hint=_SHEET), needed("flange", "Diameter of its flange", hint=_SHEET),
        Blank("reach", "Reach"), Blank("thickest_top", "Thickest top that it takes"),
        Blank("shares", "What serves instead, if it gets no hole", WORDS, hint="Such as: the faucet has a spray."),
        Blank("may_omit", "May it be left out?", FLAG, hint="An air gap may be left out only if you say so."),
        Blank("side", "On which side of the faucet", CHOICE, choices=SIDES),
        Blank("lasts", "How long it lasts", WORDS, hint="As its maker or your practice says. Empty: what is usual."),
        Blank("lasts_source", "Who says how long", WORDS, hint="It stands beside it on the page."),
    ), rows=MOST_ACCESSORIES, picks=(pick(
        "accessory", "name", "use", "hole", "flange", "reach", "thickest_top", "lasts", "lasts_source"),)),
    Part("minimums", "Least distances; those of a hole from its edge", (
        needed("between_holes", "To the next hole"), needed("to_cutout", "To the cut-out"),
        needed("to_back", "To the back edge"), needed("to_edge", "To the other edges"),
        Blank("to_cabinet_side", "To a side of the cabinet", hint="Needed where the cabinet is given."),
        Blank("to_underneath", "To what hangs underneath", hint="Needed where something hangs there."),
        Blank("cutout_to_front", "From the cut-out to the front edge"),
        Blank("cutout_to_back", "From the cut-out to the back edge"),
        Blank("cutout_to_ends", "From the cut-out to the ends of the top"),
        Blank("cutout_radius", "Radius of the corners of the cut-out", hint="The least that the shop can cut."),
        Blank("into_bowl", "From the edge of the bowl to where the water lands"),
        Blank("slop", "What bit and tape may be off", hint="Taken off what a hole may drift."),
        source_of_minimums("The fabricator or the maker"),
    ), needed=True, hint="From the fabricator's or the maker's sheet. We never guess them.", picks=(pick(
        "shop", "between_holes", "to_cutout", "to_back", "to_edge", "to_cabinet_side", "to_underneath",
        "cutout_to_front", "cutout_to_back", "cutout_to_ends", "into_bowl", "slop", "source",
        cutout_radius="smallest_radius"),)),
    Part("existing_holes", "Hole that is there already", (
        Blank("name", "What we call it", WORDS), _CENTER_LEFT, _CENTER_FRONT, needed("diameter", "Diameter"),
    ), rows=MOST_HOLES, hint="Only in an old top."),
    Part("cap", "A cap for a hole that stays open", (needed("width", "Width of the cap"),), hint="Only in an old top.",
         picks=(pick("cap", "width"),)),
    Part("place", "Where the faucet goes", (
        Blank("center_line", "Its center line from the left end", hint="Empty: the middle of the cut-out."),
        Blank("row_from_front", "Row of holes from the front edge", hint="Empty: found between cut-out and splash."),
        Blank("pitch", "From one thing to the next", hint="Empty: found from bases, flanges and least distances."),
    )),
    Part("measure_from", "Where the crew measures from", (
        Blank("end", "Along the top from its", CHOICE, choices=ENDS),
        Blank("edge", "In from its", CHOICE, choices=EDGES),
    )),
    Part("window", "The window over the sink, from the left end of the top", (
        needed("left", "Its left side"), needed("right", "Its right side")),
        hint="Only for the picture that the household sees. Empty: the wall is drawn without one."),
    Part("", "How they are ranked", (
        Blank("rank_by_lifetime", "Does a hole for soap rank lower?", FLAG,
              hint="A dispenser is worn out long before the top is. Empty: yes."),
    )),
)  # fmt: skip
