"""What may be kept: things that are measured once, or read off their sheet once, with the fields that are asked of
each. A kind's form says by its `picks` which of them fills which of its blanks."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import MATERIALS
from portal.layouts.deck.dimensions import USES
from portal.layouts.form import CHOICE, COUNT, FLAG, LENGTH, WORDS, Blank
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError
from portal.layouts.pulls.dimensions import TYPES
from portal.layouts.vanity.dimensions import HELD

_MOST = 100_000


@dataclass(frozen=True)
class What:
    """A thing by its title, and its fields. Besides them each kept one has a name, and a source: who measured it, or
    whose sheet says it."""

    title: str
    fields: tuple[Blank, ...]


WHATS: dict[str, What] = {
    "top": What("Top", (
        Blank("length", "Length, along the wall"), Blank("depth", "Depth, front to back, all overhang included"),
        Blank("thickness", "Thickness"), Blank("splash", "Thickness of the splash or wall finish on it"),
        Blank("material", "Material", CHOICE, choices=tuple(MATERIALS)),
        Blank("density", "Density, in kg per cubic meter", COUNT),
        Blank("fragile", "Is the stone fragile, with fissures or filled?", FLAG),
    )),
    "sink": What("Sink", (
        Blank("width", "Width, rim included"), Blank("clip_room", "Room for clips and a hand, on each side"),
        Blank("cutout_width", "Width of its cut-out"), Blank("cutout_depth", "Depth of its cut-out, front to back"),
        Blank("corner_radius", "Radius of the cut-out’s corners"),
    )),
    "faucet": What("Faucet", (
        Blank("holes", "How many holes it takes", CHOICE, choices=("1", "3", "1 or 3")),
        Blank("hole", "Diameter of its hole"), Blank("base", "Width of its base"),
        Blank("thickest_top", "Thickest top that it takes"),
        Blank("outer_to_outer", "With three holes: outer hole to outer hole, center to center"),
        Blank("outer_least", "The least that it allows"), Blank("outer_most", "The most that it allows"),
        Blank("swing", "Room that its lever or spout needs, from its center"),
        Blank("lever_swing", "With three holes: room that each lever needs, from its center"),
        Blank("clearance_behind", "Room that it needs behind its center"), Blank("reach", "Reach of its spout"),
        Blank("plate_length", "Length of the plate under it"), Blank("plate_width", "Width of the plate under it"),
    )),
    "accessory": What("Accessory beside the faucet", (
        Blank("use", "What it is for", CHOICE, choices=USES), Blank("hole", "Diameter of its hole"),
        Blank("flange", "Diameter of its flange"), Blank("reach", "Reach"),
        Blank("thickest_top", "Thickest top that it takes"), Blank("lasts", "How long it lasts", WORDS),
        Blank("lasts_source", "Who says how long", WORDS),
    )),
    "shop": What("Limits of the shop that cuts the stone", (
        Blank("between_holes", "From a hole to the next"), Blank("to_cutout", "From a hole to the cut-out"),
        Blank("to_back", "From a hole to the back edge"), Blank("to_edge", "From a hole to the other edges"),
        Blank("to_cabinet_side", "From a hole to a side of the cabinet"),
        Blank("to_underneath", "From a hole to what hangs underneath"),
        Blank("cutout_to_front", "From the cut-out to the front edge"),
        Blank("cutout_to_back", "From the cut-out to the back edge"),
        Blank("cutout_to_ends", "From the cut-out to the ends of the top"),
        Blank("into_bowl", "From the edge of the bowl to where the water lands"),
        Blank("slop", "What bit and tape may be off"),
        Blank("seam_to_cutout", "From a seam to a cut-out"), Blank("strip", "Of a strip beside a cut-out"),
        Blank("shortest_piece", "Of a piece of a run"), Blank("smallest_radius", "Least radius that it cuts"),
    )),
    "cap": What("Cap for a hole that stays open", (Blank("width", "Width of the cap"),)),
    "slab": What("Slab", (Blank("length", "Usable length"), Blank("depth", "Usable depth"))),
    "brackets": What("Brackets", (
        Blank("reach", "How far they reach out under the top"), Blank("spacing", "How far apart they may stand"),
        Blank("set_back", "How far before the edge they must end"),
        Blank("inset", "How far from an end of the top the outer ones may stand, at most"),
        Blank("rating", "What each carries, in pounds", COUNT))),
    "maker_limits": What("What the maker of a top allows without support", (
        Blank("alone", "How far it may reach out"), Blank("span", "How far it may span"))),
    "edge_load": What("Load on the edge to reckon with", (Blank("pounds", "In pounds", COUNT),)),
    "front": What("Drawer or door front", (
        Blank("type", "What it is", CHOICE, choices=TYPES), Blank("width", "Width"), Blank("height", "Height"),
        Blank("rail", "Width of its frame"),
    )),
    "pull": What("Pull", (
        Blank("centers", "Hole to hole"), Blank("length", "Length over all"),
        Blank("projection", "How far it stands out"), Blank("inch_sheet", "Does its own sheet give inches?", FLAG),
        Blank("drill", "Drill size for its screws"), Blank("base", "Width of its foot, or of the knob’s"),
    )),
    "mirror": What("Mirror", (
        Blank("height", "Height of its glass"), Blank("width", "Width of its glass"),
        Blank("frame", "Frame around the glass, on each side"),
    )),
    "lamp": What("Lamp at a mirror", (
        Blank("height", "Height, over all"), Blank("width", "Width, over all"),
        Blank("held", "How it is held", CHOICE, choices=HELD),
    )),
    "front_limits": What("Limits of the fronts’ maker", (
        Blank("to_edge", "From the middle of a hole to the edge of a front"),)),
}  # fmt: skip
"""By the word that names it in a kind's `picks` and in the API."""

_READ: Mapping[str, Callable[[Reader, Blank], object]] = {
    LENGTH: lambda reader, blank: reader.length(blank.name),
    WORDS: lambda reader, blank: reader.name(blank.name),
    CHOICE: lambda reader, blank: reader.choice(blank.name, blank.choices),
    FLAG: lambda reader, blank: reader.flag(blank.name, False),
    COUNT: lambda reader, blank: reader.count(blank.name, 1, _MOST),
}


def read_values(what: str, values: Any) -> dict[str, Any]:
    """Check the values of a thing with the readers that its kinds use, and give them as they were written, empty ones
    left out. Raises DimensionError, which names the field; `what` for a thing that there isn't."""
    if what not in WHATS:
        raise DimensionError("what", f"“{what}” is nothing that is kept; use one of: {', '.join(WHATS)}")
    reader = Reader(values)
    given = [blank for blank in WHATS[what].fields if reader.has(blank.name)]
    for blank in given:
        _READ[blank.holds](reader, blank)
    reader.done()
    if not given:
        names = ", ".join(blank.name for blank in WHATS[what].fields)
        raise DimensionError("", f"are empty; give at least one of: {names}")
    return {blank.name: values[blank.name] for blank in given}
