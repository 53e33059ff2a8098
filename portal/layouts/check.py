"""What a layout is measured against, and what is said beside it: checks with numbers, advice, suggestions."""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from portal.layouts.length import Length, Unit

GIVEN = "given with the dimensions"
GEOMETRY = "geometry"
PRACTICE = "common practice"

AT_LEAST = "at least"
AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Check:
    """One measured distance against what it must be, both in mm. `margin` is what is left over, to the nanometre, so
    that a tie passes; it is kept, because layouts share their checks and are ranked by it."""

    name: str
    about: str
    measured: float
    required: float
    rule: str = AT_LEAST
    source: str = GIVEN
    unit: Unit = Unit.MM
    margin: float = field(init=False, compare=False)

    def __post_init__(self) -> None:
        over = self.measured - self.required
        object.__setattr__(self, "margin", round(over if self.rule == AT_LEAST else -over, 6))

    @property
    def ok(self) -> bool:
        return self.margin >= 0

    @property
    def found(self) -> Length:
        return _length(self.measured, self.unit)

    @property
    def spare(self) -> Length:
        """The margin as a length."""
        return _length(self.margin, self.unit)

    @property
    def sentence(self) -> str:
        word = "passes" if self.ok else "fails"
        return (f"{self.name}, {self.about}: {self.found.shown().text}, "
                f"{self.rule} {_length(self.required, self.unit).shown().text}: {word}")

    def to_json(self) -> dict[str, Any]:
        return {"name": self.name, "about": self.about, "measured": _json(self.measured, self.unit), "rule": self.rule,
                "required": _json(self.required, self.unit), "ok": self.ok, "source": self.source}


def check(name: str, about: str, measured: Length, rule: str, required: Length, source: str = GIVEN) -> Check:
    """A check of two exact lengths, shown in the unit of what is measured."""
    return Check(name, about, float(measured.mm), float(required.mm), rule, source, measured.unit)


def _length(mm: float, unit: Unit) -> Length:
    return Length(Fraction(round(mm * 10**6), 10**6), unit)


def _json(mm: float, unit: Unit) -> dict[str, Any]:
    return {"text": _length(mm, unit).shown().text, "mm": round(mm, 3)}


@dataclass(frozen=True)
class Advice:
    """A sentence for whoever decides, and where it comes from."""

    text: str
    source: str = PRACTICE

    def to_json(self) -> dict[str, str]:
        return {"text": self.text, "source": self.source}


@dataclass(frozen=True)
class Suggestion:
    """A published value for a field that one must still give: shown beside the field, never filled in."""

    field: str
    text: str
    source: str

    def to_json(self) -> dict[str, str]:
        return {"field": self.field, "text": self.text, "source": self.source}
