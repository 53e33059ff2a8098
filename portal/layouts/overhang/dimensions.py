"""The dimensions of a top that reaches past its cabinets."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import Material, read_material
from portal.layouts.island import Aisle, Seats, read_aisle, read_seats
from portal.layouts.json_fields import Reader, Rule, read
from portal.layouts.length import Length
from portal.layouts.stone.limits import limits as published
from portal.layouts.stone.weights import Weight
from portal.layouts.unread import known

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
    `smallest_radius`, `edge_profile`. Raises DimensionError, which names every field that is wrong."""
    return read(data, _overhang)


def _overhang(reader: Reader) -> Overhang:
    length, width = reader.size("length"), reader.size("width")
    found = Overhang(
        length, width, reader.size("thickness"), read_material(reader),
        reader.count("density", 100, 5000) if reader.has("density") else None, reader.flag("fragile", False),
        reader.name("fastening", ""), reader.size("overhang", lambda wanted: (
            wanted >= width and "is as wide as the whole top; give only what reaches past the cabinets")),
        reader.size_or_none("span"), reader.part_or_none("limits", lambda part: _limits(part, length)),
        reader.part_or_none("load", _load), reader.part_or_none("seats", read_seats),
        tuple(read_aisle(part) for part in reader.parts("aisles", MOST_AISLES)),
        reader.part_or_none("brackets", lambda part: _brackets(part, length)),
        _fixings(reader.parts("fixings", MOST_FIXINGS), length),
        reader.length_or_none("corner_radius"),
        reader.length("smallest_radius") if reader.has("corner_radius") else reader.length_or_none("smallest_radius"),
        reader.name("edge_profile", ""),
    )
    return reader.unless("brackets.spacing", found, _nobody_says_how_far_apart)


def _nobody_says_how_far_apart(found: Overhang) -> object:
    if not found.brackets:
        return None
    said = found.brackets.spacing or (found.limits and found.limits.span)
    by_stone = found.natural and not found.fragile and published(found.thickness)
    return not (said or by_stone) and "is not published for this top; take it from the maker's sheet"


def _not_too_many(length: Length) -> Rule:
    return lambda apart: (length > apart * (MOST_BRACKETS - 1)
                          and f"asks for more than {MOST_BRACKETS} brackets; check the sheet")


def _limits(reader: Reader, length: Length) -> OwnLimits:
    return OwnLimits(
        reader.length_or_none("alone"), reader.size_or_none("span", _not_too_many(length)), reader.name("source"))


def _load(reader: Reader) -> Load:
    return Load(_pounds(reader, "pounds", 2000), reader.name("source"))


def _pounds(reader: Reader, name: str, most: int) -> Weight:
    return known(lambda: Weight.of_pounds(reader.count(name, 1, most)))


def _brackets(reader: Reader, length: Length) -> Brackets:
    return Brackets(
        reader.size("reach"), reader.size_or_none("spacing", _not_too_many(length)),
        reader.length_or_none("set_back"), reader.length_or_none("inset", lambda inset: (
            inset * 2 >= length and "leaves no room between both ends of the top; check it")),
        _pounds(reader, "rating", 10_000) if reader.has("rating") else None,
        reader.name("source") if reader.has("rating") else reader.name("source", ""),
    )  # fmt: skip


def _fixings(readers: list[Reader], length: Length) -> tuple[Length, ...]:
    found = [reader.length("from_left", lambda at: (
        at > length and "lies past the right end of the top; check length")) for reader in readers]
    return known(lambda: tuple(sorted(set(found))))
