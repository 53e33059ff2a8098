"""The dimensions of a run of stone, measured from the left end of the top."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import Material, read_material
from portal.layouts.json_fields import Reader, read
from portal.layouts.length import Length
from portal.layouts.seam.cutouts import Stretch, read_cutouts, read_dishwasher

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
        return fewest_seams(self.length, self.slab_length)


def fewest_seams(length: Length, slab_length: Length) -> int:
    """Count the fewest seams that make every piece of a run so long fit a slab."""
    return int(-(-length.mm // slab_length.mm)) - 1


def from_json(data: Any) -> Run:
    """Read `length`, `depth`, `thickness`, `material` or `density` (kg per cubic meter), `slab`, `minimums` and, where
    there are some, `thicker_by`, `cutouts`, `dishwasher`, `proposed`, `edge_profile`. Raises DimensionError, which
    names every field that is wrong."""
    return read(data, _run)


def _run(reader: Reader) -> Run:
    slab = reader.part("slab")
    slab_length, slab_depth = slab.size("length"), slab.size("depth")
    length = reader.size("length", lambda length: (
        fewest_seams(length, slab_length) > MOST_SEAMS
        and f"needs more than {MOST_SEAMS} seams with this slab; give it as separate runs"))
    depth, thickness, material = reader.size("depth"), reader.size("thickness"), read_material(reader)
    density = reader.count("density", 500, 5000) if reader.has("density") else None
    if material is None and density is None:
        reader.tell("material", "is missing; choose what the top is made of, or give its density")
    return Run(
        length, depth, thickness, material, density, reader.length_or_none("thicker_by"), slab_length, slab_depth,
        read_cutouts(reader.parts("cutouts", 4), length, depth),
        reader.part_or_none("dishwasher", read_dishwasher), _minimums(reader.part("minimums")),
        tuple(_proposed(part, length) for part in reader.parts("proposed", 6)), reader.name("edge_profile", ""),
    )


def _minimums(reader: Reader) -> Minimums:
    return Minimums(reader.length("to_cutout"), reader.size_or_none("strip"), reader.size_or_none("piece"),
                    reader.name("source"), reader.length_or_none("cutout_radius"))


def _proposed(reader: Reader, length: Length) -> Length:
    return reader.size("from_left", lambda at: at >= length and "lies past the right end of the top")
