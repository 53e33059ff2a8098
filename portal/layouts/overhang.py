"""How far a top reaches past its cabinets: what stone can do alone, what brackets add, knees, aisles, corners."""

from dataclasses import dataclass
from typing import Any, ClassVar

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, PRACTICE, Advice, Check, Suggestion, check
from portal.layouts.form import CHOICE, COUNT, FLAG, STONE_WORK, WORDS, Blank, Form, Part, needed
from portal.layouts.island import (
    AISLES,
    KNEES,
    PLANNING,
    Aisle,
    Seats,
    aisle_checks,
    read_aisle,
    read_seats,
    seat_checks,
)
from portal.layouts.json_fields import Reader
from portal.layouts.layout import Layout, Mark, verdict
from portal.layouts.length import DimensionError, Length
from portal.layouts.stone import MANUAL, cantilever, limits
from portal.words.plurals import counted

KIND = "overhang"
CAUTIONS = STONE_WORK
MOST_AISLES = 4
MOST_BRACKETS = 40

FORM: Form = (
    Part("", "The top", (
        needed("length", "Length of the edge that reaches out"), needed("width", "Width across it, overhang included"),
        needed("thickness", "Thickness"), needed("overhang", "How far it should reach past the cabinets"),
        Blank("span", "Widest gap between cabinets that it spans"),
        Blank("corner_radius", "Radius of its corners"), Blank("smallest_radius", "Least radius that the shop cuts"),
    ), needed=True),
    Part("seats", "Seats", (
        needed("count", "How many, side by side", COUNT),
        needed("height", "Height of the counter", CHOICE, choices=tuple(KNEES)))),
    Part("brackets", "Brackets, from their maker's sheet", (
        needed("reach", "How far they reach out under the top"), needed("spacing", "How far apart they may stand"))),
    Part("aisles", "Aisle", (
        needed("name", "Where it is", WORDS), needed("use", "What it is for", CHOICE, choices=tuple(AISLES)),
        needed("room", "From the cabinets to what stands opposite"),
        Blank("edge", "How far the top reaches into it"),
        Blank("on_overhang_side", "Is it on the side of this overhang?", FLAG),
        Blank("on_far_side", "Or is it across the island from it?", FLAG, hint="Other aisles are told, not drawn."),
    ), rows=MOST_AISLES),
)  # fmt: skip


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
        """What of the width lies on the cabinets."""
        return self.width - self.wanted

    @property
    def alone(self) -> Length:
        """How far the stone may reach out without support: a third of a top is half of what lies on the cabinets."""
        found = limits(self.thickness)
        return min(found.cantilever, self.base / 2) if found else Length.of_mm(0, self.width.unit)


@dataclass(frozen=True)
class OverhangLayout(Layout):
    """`brackets`: how many, standing at `bracket_marks` from the left end of the edge; none when it stands alone."""

    cannot_be_undone: ClassVar[str] = "Cut stone can be made shorter, with dust and at a cost. It can't be made longer."
    dimensions: Overhang
    depth: Length
    brackets: int
    bracket_marks: tuple[Length, ...]

    def to_json(self) -> dict[str, Any]:
        return super().to_json() | {"overhang": self.depth.to_json(), "brackets": self.brackets}


def from_json(data: Any) -> Overhang:
    """Reads `length`, `width`, `thickness`, `overhang` and, where they matter, `span`, `seats`, `aisles`, `brackets`,
    `corner_radius` with `smallest_radius`. Raises DimensionError."""
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


def layouts(found: Overhang) -> list[OverhangLayout]:
    """As wanted and as deep as stone can do alone, both without support; as wanted and as knees want, on brackets.

    What passes comes first, then what is nearest to the wanted depth, then what needs no brackets.
    """
    answers = [_layout(found, depth, supported) for depth, supported in _candidates(found)]
    return sorted(answers, key=lambda each: (len(each.failed), abs(each.depth - found.wanted), each.brackets))


def suggestions() -> tuple[Suggestion, ...]:
    knees = [Suggestion("overhang", f"{seat.depth.text} of knee depth at a counter {height} high", PLANNING)
             for height, seat in KNEES.items()]
    aisles = [Suggestion("aisles.use", f"{use}: {least.text}", PLANNING) for use, least in AISLES.items()]
    return (*knees, *aisles, Suggestion("brackets.reach", "no published size is known: ask its maker", PRACTICE))


def _candidates(found: Overhang) -> list[tuple[Length, bool]]:
    depths = [(found.wanted, False)]
    if found.alone.mm and found.alone != found.wanted:
        depths.append((found.alone, False))
    if found.brackets:
        depths.append((found.wanted, True))
        knees = found.seats.depth if found.seats else None
        if knees and knees != found.wanted:
            depths.append((knees, True))
    return depths


def _layout(found: Overhang, depth: Length, supported: bool) -> OverhangLayout:
    marks = _bracket_marks(found) if supported else ()
    checks = (*_stone_checks(found, depth, supported), *seat_checks(found.seats, found.length, depth),
              *aisle_checks(found.aisles, depth), *_corner_checks(found))
    title = f"{depth.shown().text} out, {'on brackets' if supported else 'with nothing under it'}"
    places = tuple(Mark(name, "left end", at) for name, at in zip(_bracket_names(len(marks)), marks, strict=True))
    return OverhangLayout(title, _effects(found, depth, marks), checks, _reason(found, depth, checks), places,
                          _advice(found, depth, supported), found, depth, len(marks), marks)


def _bracket_marks(found: Overhang) -> tuple[Length, ...]:
    """One at each end and as many between as their spacing asks for, evenly."""
    assert found.brackets
    gaps = int(-(-found.length.mm // found.brackets.spacing.mm))
    return tuple(found.length * number / gaps for number in range(gaps + 1))


def _bracket_names(count: int) -> tuple[str, ...]:
    """The outer ones stand within the ends of the top, so that there an outer side is marked, and not a middle."""
    sides = ("left side", *("middle" for _ in range(count - 2)), "right side")
    return tuple(f"bracket {number}, its {side}" for number, side in enumerate(sides[:count], 1))


def _stone_checks(found: Overhang, depth: Length, supported: bool) -> tuple[Check, ...]:
    alone = depth
    checks = []
    if supported and found.brackets:
        alone = max(depth - found.brackets.reach, Length.of_mm(0, depth.unit))
    checks.append(check("unsupported overhang", "past the brackets" if supported else "past the cabinets", alone,
                        AT_MOST, cantilever(found.thickness, found.base + depth), MANUAL))
    published = limits(found.thickness)
    if published and found.span:
        checks.append(check("unsupported span", "between cabinets", found.span, AT_MOST, published.span, MANUAL))
    if published and supported and found.brackets:
        apart = found.brackets.spacing
        checks.append(check("bracket to bracket", "along the edge", apart, AT_MOST, published.span, MANUAL))
    return tuple(checks)


def _corner_checks(found: Overhang) -> tuple[Check, ...]:
    if found.corner is None or found.smallest_corner is None:
        return ()
    half = min(found.length, found.width) / 2
    return (check("corner radius", "of the top", found.corner, AT_LEAST, found.smallest_corner),
            check("corner radius", "of the top", found.corner, AT_MOST, half, GEOMETRY))


def _effects(found: Overhang, depth: Length, marks: tuple[Length, ...]) -> tuple[str, ...]:
    sentences = [f"The top reaches {depth.shown().text} past the cabinets."]
    if marks:
        brackets = counted(len(marks), "bracket stands", "brackets stand")
        sentences.append(f"{brackets} under it, and must be in place before the top is set.")
    if found.seats:
        sentences.append(f"Knees have {depth.shown().text}, and {found.seats.depth.text} is advised for a seat at "
                         f"{found.seats.height}.")
    sentences += [f"Aisle, {aisle.name}: {aisle.left(depth).shown().text} is left." for aisle in found.aisles]
    return tuple(sentences)


def _reason(found: Overhang, depth: Length, checks: tuple[Check, ...]) -> str:
    if depth == found.wanted:
        return verdict(checks, "As deep as wanted, and everything passes.")
    word = "deeper" if depth > found.wanted else "less"
    return verdict(checks, f"Everything passes, {abs(depth - found.wanted).shown().text} {word} than wanted.")


def _advice(found: Overhang, depth: Length, supported: bool) -> tuple[Advice, ...]:
    said = []
    if limits(found.thickness) is None:
        said.append(Advice("No limit is published for stone this thin: the whole overhang needs support.", MANUAL))
    if found.seats and found.seats.depth > found.alone:
        said.append(Advice(f"A seat at {found.seats.height} wants {found.seats.depth.text} for knees, and this stone "
                           f"may reach {found.alone.shown().text} alone: supports are needed.",
                           f"{PLANNING}; {MANUAL}"))
    alone = cantilever(found.thickness, found.base + depth)
    if not supported and depth > alone:
        said.append(Advice(f"Needs brackets that reach at least {(depth - alone).shown().text}, from a maker who says "
                           "what they carry.", MANUAL))
    said.append(Advice("Nobody sits or stands on an overhang. Man-made stone may have other limits: its maker's sheet "
                       "and local code come first."))
    return tuple(said)
