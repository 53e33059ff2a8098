"""The blanks of a run of stone and its slab, and what is published for them."""

from portal.layouts.check import Suggestion
from portal.layouts.form import COUNT, STONE_WORK, WORDS, Form, Part, needed, pick, source_of_minimums
from portal.layouts.stone import MANUAL

CAUTIONS = (*STONE_WORK, "adhesives")
DENSITIES = "ASTM C615, C503, C568, C616: least densities"

_FROM_LEFT, _WIDTH = needed("from_left", "From the left end of the run"), needed("width", "Width")

FORM: Form = (
    Part("", "The run", (
        needed("length", "Length of the run"), needed("depth", "Depth, front to back"),
        needed("thickness", "Thickness"), needed("density", "Density, in kg per cubic meter", COUNT),
    ), needed=True, picks=(pick("top", "length", "depth", "thickness", "density"),)),
    Part("slab", "The slab", (needed("length", "Usable length"), needed("depth", "Usable depth")), needed=True,
         picks=(pick("slab", "length", "depth"),)),
    Part("minimums", "Least distance", (
        needed("to_cutout", "From a seam to a cut-out"), source_of_minimums("The fabricator")), needed=True,
        picks=(pick("shop", "source", to_cutout="seam_to_cutout"),)),
    Part("cutouts", "Cut-out", (needed("name", "What it is for", WORDS), _FROM_LEFT, _WIDTH), rows=4,
         picks=(pick("sink", "name", width="cutout_width"),)),
    Part("dishwasher", "A dishwasher below", (_FROM_LEFT, _WIDTH)),
    Part("proposed", "Seam that somebody would like", (_FROM_LEFT,), rows=2),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give the least densities of stone by its kind; for the distance to a cut-out nothing is published."""
    return (
        Suggestion("density", "granite 2560, marble 2590, dense limestone 2560, quartzite 2560 kg per cubic meter or "
                   "more; the sheet of your stone may say more", DENSITIES),
        Suggestion("minimums.to_cutout", "no published minimum is known: ask the fabricator", MANUAL),
    )
