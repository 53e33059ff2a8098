"""The blanks of a run of stone and its slab, and what is published for them."""

from portal.layouts.check import Suggestion
from portal.layouts.content_tables.materials import MATERIAL, MATERIALS
from portal.layouts.form import (
    COUNT,
    EDGE_PROFILE,
    STONE_WORK,
    WORDS,
    Blank,
    Form,
    Part,
    needed,
    pick,
    source_of_minimums,
)
from portal.layouts.stone.limits import COUNTERTOPS, DIFFERENCE, MANUAL

CAUTIONS = (*STONE_WORK, "adhesives")
DENSITIES = "the least of stone: ASTM C615 and C503; the rest: data sheets and tables, named beside each weight"

_FROM_LEFT, _WIDTH = needed("from_left", "From the left end of the run"), needed("width", "Width")

FORM: Form = (
    Part("", "The run", (
        needed("length", "Length of the run"), needed("depth", "Depth, front to back"),
        needed("thickness", "Thickness"),
        Blank("thicker_by", "How much thicker than that the slab may be",
              hint="Weights are told with it. Empty: what is published for natural stone, nothing for the rest."),
        MATERIAL,
        Blank("density", "Density, in kg per cubic meter", COUNT,
              hint="From the sheet of the slab. Empty: the most that the material has."),
        EDGE_PROFILE,
    ), needed=True, picks=(pick("top", "length", "depth", "thickness", "material", "density"),)),
    Part("slab", "The slab", (needed("length", "Usable length"), needed("depth", "Usable depth")), needed=True,
         picks=(pick("slab", "length", "depth"),)),
    Part("minimums", "Least distance", (
        needed("to_cutout", "From a seam to a cut-out"), Blank("strip", "Of a strip beside a cut-out"),
        Blank("piece", "Of a piece, along the run"),
        Blank("cutout_radius", "Radius of the corners of a cut-out", hint="The least that the shop can cut."),
        source_of_minimums("The fabricator")), needed=True,
        picks=(pick("shop", "source", to_cutout="seam_to_cutout", strip="strip", piece="shortest_piece",
             cutout_radius="smallest_radius"),)),
    Part("cutouts", "Cut-out", (
        needed("name", "What it is for", WORDS), _FROM_LEFT, _WIDTH,
        Blank("from_front", "From the front edge of the top"), Blank("depth", "Depth, front to back"),
        Blank("corner_radius", "Radius of its corners",
              hint="Empty: the drawing only shows it, and no machine cuts it. 0 in: square.")), rows=4,
        picks=(pick("sink", "name", "corner_radius", width="cutout_width", depth="cutout_depth"),)),
    Part("dishwasher", "A dishwasher below", (_FROM_LEFT, _WIDTH)),
    Part("proposed", "Seam that somebody would like", (_FROM_LEFT,), rows=2),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give the densities of each material and how much slabs differ; for distances nothing is published."""
    densities = ", ".join(f"{each.name} {each.least} to {each.most}" for each in MATERIALS.values())
    return (
        Suggestion("density", f"{densities} kg per cubic meter", DENSITIES),
        Suggestion("thicker_by", f"slabs of natural stone differ by up to {DIFFERENCE.text}", COUNTERTOPS),
        Suggestion("minimums.to_cutout", "no published minimum is known: ask the fabricator", MANUAL),
        Suggestion("minimums.strip", "no published minimum is known: ask the fabricator", MANUAL),
    )
