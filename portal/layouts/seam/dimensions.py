"""The dimensions of a run of stone, measured from the left end of the top."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import Material, read_material
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
from portal.layouts.seam.cutouts import Stretch, read_cutouts, read_stretch

KIND = "seam"
MOST_SEAMS = 2
"""As many as the slab may ask for; one more is found where nothing fits with the fewest."""


@dataclass(frozen=True)
class Minimums:
    """The fabricator's, who is `source`. `strip`: beside a cut-out; `piece`: along the run; `cutout_radius`: of the
    corners of a cut-out; each None where nobody gave it."""

    to_cutout: Length
    strip: Length | None
    piece: Length | None
    source: str
    cutout_radius: Length | None = None


@dataclass(frozen=True)
class Run:
    """`density` in kg per cubic meter and `thicker`, how much more than nominal the slab may be: as given, else None.
    `proposed`: seams that somebody would like to see, from the left end. `profile`: of its edges, in words; empty where
    it was not given."""

    length: Length
    depth: Length
    thickness: Length
    material: Material | None
    density: int | None
    thicker: Length | None
    slab_length: Length
    slab_depth: Length
    cutouts: tuple[Stretch, ...]
    dishwasher: Stretch | None
    least: Minimums
    proposed: tuple[Length, ...]
    profile: str = ""

    @property
    def seams(self) -> int:
        """Count the fewest that make every piece fit a slab."""
        return int(-(-self.length.mm // self.slab_length.mm)) - 1


def from_json(data: Any) -> Run:
    """Read `length`, `depth`, `thickness`, `material` or `density` (kg per cubic meter), `slab`, `minimums` and, where
    there are some, `thicker_by`, `cutouts`, `dishwasher`, `proposed`, `edge_profile`. Raises DimensionError, which
    names the field."""
    reader = Reader(data)
    length, depth, thickness = reader.size("length"), reader.size("depth"), reader.size("thickness")
    material = read_material(reader)
    density = reader.count("density", 500, 5000) if reader.has("density") else None
    if material is None and density is None:
        raise DimensionError("material", "is missing; choose what the top is made of, or give its density")
    slab, least, washer = reader.part("slab"), reader.part("minimums"), reader.part_or_none("dishwasher")
    run = Run(
        length, depth, thickness, material, density, reader.length_or_none("thicker_by"),
        slab.size("length"), slab.size("depth"), read_cutouts(reader.parts("cutouts", 4), length, depth),
        read_stretch(washer, "the dishwasher") if washer else None, _minimums(least),
        tuple(_proposed(part) for part in reader.parts("proposed", 6)), reader.name("edge_profile", ""),
    )
    for part in (slab, reader):
        part.done()
    _check_run(run)
    return run


def _minimums(reader: Reader) -> Minimums:
    least = Minimums(reader.length("to_cutout"), reader.size_or_none("strip"), reader.size_or_none("piece"),
                     reader.name("source"), reader.length_or_none("cutout_radius"))
    reader.done()
    return least


def _proposed(reader: Reader) -> Length:
    at = reader.size("from_left")
    reader.done()
    return at


def _check_run(run: Run) -> None:
    if run.seams > MOST_SEAMS:
        raise DimensionError("length", f"needs more than {MOST_SEAMS} seams with this slab; give it as separate runs")
    for index, at in enumerate(run.proposed):
        if at >= run.length:
            raise DimensionError(f"proposed.{index}.from_left", "lies past the right end of the top")
