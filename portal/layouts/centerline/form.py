"""The blanks of a wall with its window, cabinet and sink, and what is published for them."""

from dataclasses import replace

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.content_tables.materials import MATERIAL
from portal.layouts.form import STONE_WORK, WORDS, Blank, Form, Part, needed, pick, source_of_minimums
from portal.layouts.island import PLANNING

CAUTIONS = STONE_WORK

_LEFT, _RIGHT = needed("left", "Its left limit, from the datum"), needed("right", "Its right limit, from the datum")

FORM: Form = (
    Part("", "The wall and the sink", (
        Blank("datum", "Where we measure from", WORDS, hint="Empty: the left end of the wall."),
        needed("sink_width", "Width of the sink, rim included", hint="Measure the sink itself."),
        needed("clip_room", "Room for clips and a hand, on each side"),
        source_of_minimums("The maker of the sink"),
        replace(MATERIAL, hint="Decides the cautions of the cut. Empty: those of stone are taken."),
    ), needed=True, picks=(pick("sink", "clip_room", "source", sink_width="width"), pick("top", "material"))),
    Part("window", "The window", (_LEFT, _RIGHT), hint="Empty: there is no window to line up with."),
    Part("cabinet", "The cabinet, inside", (_LEFT, _RIGHT), needed=True),
    Part("counter", "The free counter around the sink", (
        needed("left", "Where it begins on the left, from the datum"),
        needed("right", "Where it ends on the right, from the datum"),
        Blank("least_left", "Least counter to be left on the left", hint="Empty: nobody asks."),
        Blank("least_right", "Least counter to be left on the right", hint="Empty: nobody asks."),
    ), hint="From one end or appliance to the other. Empty: not measured."),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give what is published for the size of a sink and the counter beside it; for clips there is nothing."""
    return (
        Suggestion("sink_width", "a size without limits may be off by 1 percent, 0.33 in on 33 in: measure the sink",
                   "ASME A112.19.3-2000, 2.4"),
        Suggestion("counter.least_left", "24 in on one side of the sink and 18 in on the other", PLANNING),
        Suggestion("clip_room", "no published room is known: take it from the sink maker's sheet", PRACTICE),
    )
