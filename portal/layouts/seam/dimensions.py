"""The dimensions of a run of stone, measured from the left end of the top."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length

KIND = "seam"
MOST_SEAMS = 2


@dataclass(frozen=True)
class Stretch:
    """Something on or under the run that a seam keeps away from: a cut-out, a dishwasher."""

    name: str
    left: Length
    right: Length

    def away(self, at: Length) -> Length:
        """Say how far a seam at `at` is from it; negative when `at` lies within."""
        return max(self.left - at, at - self.right)


@dataclass(frozen=True)
class Run:
    """`density` in kg per cubic meter. `proposed`: seams that somebody would like to see, from the left end."""

    length: Length
    depth: Length
    thickness: Length
    density: int
    slab_length: Length
    slab_depth: Length
    cutouts: tuple[Stretch, ...]
    dishwasher: Stretch | None
    to_cutout: Length
    source: str
    proposed: tuple[Length, ...]

    @property
    def seams(self) -> int:
        """Count the fewest that make every piece fit a slab."""
        return int(-(-self.length.mm // self.slab_length.mm)) - 1


def from_json(data: Any) -> Run:
    """Read `length`, `depth`, `thickness`, `density` (kg per cubic meter), `slab`, `minimums` and, where there are
    some, `cutouts`, `dishwasher`, `proposed`. Raises DimensionError, which names the field."""
    reader = Reader(data)
    slab, least, washer = reader.part("slab"), reader.part("minimums"), reader.part_or_none("dishwasher")
    run = Run(
        reader.size("length"), reader.size("depth"), reader.size("thickness"), reader.count("density", 500, 5000),
        slab.size("length"), slab.size("depth"), tuple(_cutout(part) for part in reader.parts("cutouts", 4)),
        _stretch(washer, "the dishwasher") if washer else None, least.length("to_cutout"), least.name("source"),
        tuple(_proposed(part) for part in reader.parts("proposed", 6)),
    )
    for part in (slab, least, reader):
        part.done()
    _check_run(run)
    return run


def _cutout(reader: Reader) -> Stretch:
    return _stretch(reader, reader.name("name"))


def _stretch(reader: Reader, name: str) -> Stretch:
    left = reader.length("from_left")
    stretch = Stretch(name, left, left + reader.size("width"))
    reader.done()
    return stretch


def _proposed(reader: Reader) -> Length:
    at = reader.size("from_left")
    reader.done()
    return at


def _check_run(run: Run) -> None:
    if run.seams > MOST_SEAMS:
        raise DimensionError("length", f"needs more than {MOST_SEAMS} seams with this slab; give it as separate runs")
    for index, cutout in enumerate(run.cutouts):
        if cutout.right > run.length:
            raise DimensionError(f"cutouts.{index}.width", "runs past the right end of the top; check length")
    for index, at in enumerate(run.proposed):
        if at >= run.length:
            raise DimensionError(f"proposed.{index}.from_left", "lies past the right end of the top")
