"""The dimensions of a top that reaches past its cabinets."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.island import Aisle, Seats, read_aisle, read_seats
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
from portal.layouts.stone.limits import limits

KIND = "overhang"
MOST_AISLES = 4
MOST_BRACKETS = 40


@dataclass(frozen=True)
class Brackets:
    """From their maker's sheet: how far they reach out under the top, and how far apart they may stand."""

    reach: Length
    spacing: Length


@dataclass(frozen=True)
class Overhang:
    """`length` runs along the edge that reaches out, `width` across it, overhang included. `wanted`: how far out."""

    length: Length
    width: Length
    thickness: Length
    wanted: Length
    span: Length | None
    seats: Seats | None
    aisles: tuple[Aisle, ...]
    brackets: Brackets | None
    corner: Length | None
    smallest_corner: Length | None

    @property
    def base(self) -> Length:
        """Give what of the width lies on the cabinets."""
        return self.width - self.wanted

    @property
    def alone(self) -> Length:
        """Say how far the stone may reach out without support: a third of a top is half of what lies on the cabinets.
        Zero where nothing is published for its thickness."""
        found = limits(self.thickness)
        return min(found.cantilever, self.base / 2) if found else Length.of_mm(0, self.width.unit)


def from_json(data: Any) -> Overhang:
    """Read `length`, `width`, `thickness`, `overhang` and, where they matter, `span`, `seats`, `aisles`, `brackets`,
    `corner_radius` with `smallest_radius`. Raises DimensionError, which names the field."""
    reader = Reader(data)
    seats, brackets = reader.part_or_none("seats"), reader.part_or_none("brackets")
    found = Overhang(
        reader.size("length"), reader.size("width"), reader.size("thickness"), reader.size("overhang"),
        reader.size_or_none("span"), read_seats(seats) if seats else None,
        tuple(read_aisle(part) for part in reader.parts("aisles", MOST_AISLES)),
        _brackets(brackets) if brackets else None,
        reader.length_or_none("corner_radius"),
        reader.length("smallest_radius") if reader.has("corner_radius") else reader.length_or_none("smallest_radius"),
    )
    reader.done()
    if found.brackets and found.length > found.brackets.spacing * (MOST_BRACKETS - 1):
        raise DimensionError("brackets.spacing", f"asks for more than {MOST_BRACKETS} brackets; check the sheet")
    if found.wanted >= found.width:
        raise DimensionError("overhang", "is as wide as the whole top; give only what reaches past the cabinets")
    return found


def _brackets(reader: Reader) -> Brackets:
    brackets = Brackets(reader.size("reach"), reader.size("spacing"))
    reader.done()
    return brackets
