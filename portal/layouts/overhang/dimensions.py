"""The dimensions of a top that reaches past its cabinets."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import Material, read_material
from portal.layouts.island import Aisle, Seats, read_aisle, read_seats
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
from portal.layouts.stone.limits import limits as published
from portal.layouts.stone.weights import Weight

KIND = "overhang"
MOST_AISLES = 4
MOST_BRACKETS = 40
MOST_FIXINGS = 24


@dataclass(frozen=True)
class Brackets:
    """From their maker's sheet, `source`: how far they reach out under the top, how far apart they may stand, what
    each carries. `set_back`: how far before the edge they end. `inset`: how far from an end of the top the outer ones
    stand at most. Each but the reach is None where nobody gave it."""

    reach: Length
    spacing: Length | None
    set_back: Length | None
    inset: Length | None
    rating: Weight | None
    source: str


@dataclass(frozen=True)
class OwnLimits:
    """What its maker's or fabricator's sheet, `source`, lets a top do without support; None where it doesn't say."""

    alone: Length | None
    span: Length | None
    source: str


@dataclass(frozen=True)
class Load:
    """What the edge must bear, and who says so."""

    weight: Weight
    source: str


@dataclass(frozen=True)
class Overhang:
    """`length` runs along the edge that reaches out, `width` across it, overhang included. `wanted`: how far out.
    `density` in kg per cubic meter. `fixings`: gables or studs that brackets can be fixed to, from the left end of the
    edge, in order; none where they may stand anywhere. `fastening`: how the top is held down; empty when it is loose.
    `profile`: of its edges, in words; empty where it was not given.
    """

    length: Length
    width: Length
    thickness: Length
    material: Material | None
    density: int | None
    fragile: bool
    fastening: str
    wanted: Length
    span: Length | None
    limits: OwnLimits | None
    load: Load | None
    seats: Seats | None
    aisles: tuple[Aisle, ...]
    brackets: Brackets | None
    fixings: tuple[Length, ...]
    corner: Length | None
    smallest_corner: Length | None
    profile: str

    @property
    def base(self) -> Length:
        """Give what of the width lies on the cabinets."""
        return self.width - self.wanted

    @property
    def natural(self) -> bool:
        """Say whether it is natural stone, which it is until somebody says what it is."""
        return self.material is None or self.material.natural


def from_json(data: Any) -> Overhang:
    """Read `length`, `width`, `thickness`, `overhang` and, where they matter, `material`, `density`, `fragile`,
    `fastening`, `span`, `limits`, `load`, `seats`, `aisles`, `brackets`, `fixings`, `corner_radius` with
    `smallest_radius`, `edge_profile`. Raises DimensionError, which names the field."""
    reader = Reader(data)
    seats, brackets = reader.part_or_none("seats"), reader.part_or_none("brackets")
    limits, load = reader.part_or_none("limits"), reader.part_or_none("load")
    length = reader.size("length")
    found = Overhang(
        length, reader.size("width"), reader.size("thickness"), read_material(reader),
        reader.count("density", 100, 5000) if reader.has("density") else None, reader.flag("fragile", False),
        reader.name("fastening", ""), reader.size("overhang"), reader.size_or_none("span"),
        _limits(limits) if limits else None, _load(load) if load else None, read_seats(seats) if seats else None,
        tuple(read_aisle(part) for part in reader.parts("aisles", MOST_AISLES)),
        _brackets(brackets) if brackets else None, _fixings(reader.parts("fixings", MOST_FIXINGS), length),
        reader.length_or_none("corner_radius"),
        reader.length("smallest_radius") if reader.has("corner_radius") else reader.length_or_none("smallest_radius"),
        reader.name("edge_profile", ""),
    )
    reader.done()
    if found.wanted >= found.width:
        raise DimensionError("overhang", "is as wide as the whole top; give only what reaches past the cabinets")
    _check_brackets(found)
    return found


def _check_brackets(found: Overhang) -> None:
    brackets, own = found.brackets, found.limits.span if found.limits else None
    for field, apart in (("brackets.spacing", brackets and brackets.spacing), ("limits.span", own)):
        if apart and found.length > apart * (MOST_BRACKETS - 1):
            raise DimensionError(field, f"asks for more than {MOST_BRACKETS} brackets; check the sheet")
    known = found.natural and not found.fragile and published(found.thickness)
    if brackets and not (brackets.spacing or own or known):
        raise DimensionError("brackets.spacing", "is not published for this top; take it from the maker's sheet")
    if brackets and brackets.inset and brackets.inset * 2 >= found.length:
        raise DimensionError("brackets.inset", "leaves no room between both ends of the top; check it")


def _limits(reader: Reader) -> OwnLimits:
    limits = OwnLimits(reader.length_or_none("alone"), reader.size_or_none("span"), reader.name("source"))
    reader.done()
    return limits


def _load(reader: Reader) -> Load:
    load = Load(Weight.of_pounds(reader.count("pounds", 1, 2000)), reader.name("source"))
    reader.done()
    return load


def _brackets(reader: Reader) -> Brackets:
    rating = Weight.of_pounds(reader.count("rating", 1, 10_000)) if reader.has("rating") else None
    brackets = Brackets(
        reader.size("reach"), reader.size_or_none("spacing"), reader.length_or_none("set_back"),
        reader.length_or_none("inset"), rating,
        reader.name("source") if rating else reader.name("source", ""),
    )  # fmt: skip
    reader.done()
    return brackets


def _fixings(readers: list[Reader], length: Length) -> tuple[Length, ...]:
    found = set()
    for reader in readers:
        at = reader.length("from_left")
        if at > length:
            raise DimensionError(reader.at("from_left"), "lies past the right end of the top; check length")
        found.add(at)
        reader.done()
    return tuple(sorted(found))
