"""Lengths, exact: a whole or broken number of millimeters, and the unit in which it was written.

1 in = 25.4 mm exactly (NIST SP 811, appendix B). Nothing is rounded unless it is shown on purpose, and then it says so.
"""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from portal.layouts.notation import DimensionError, LengthError, Unit, read_length

__all__ = ["DimensionError", "Length", "LengthError", "Shown", "Unit"]

TAPE = (2, 4, 8, 16, 32, 64)
"""Parts into which a tape or a rule divides the inch (common practice)."""

FUZZ = Fraction(1, 20)
"""By how many mm at most a length is off whose `marked` begins with "about"."""


@dataclass(frozen=True)
class Shown:
    """A length as shown to someone: `text` begins with "about" when `rounded`; `off_mm` is shown minus exact, in mm."""

    text: str
    rounded: bool
    off_mm: Fraction


@dataclass(frozen=True, order=True)
class Length:
    """Exact. Equal lengths are equal whatever their unit. A computed length may be negative; a written one may not."""

    mm: Fraction
    unit: Unit = field(default=Unit.MM, compare=False)

    @classmethod
    def parse(cls, text: Any, field: str = "length") -> "Length":
        """Read what a tradesperson writes: `1-3/8 in`, `2' 3-1/2"`, `35 mm`, `3.5 cm`.

        Raises LengthError, which names the field and says why it is refused and what to write instead.
        """
        amount, unit = read_length(text, field)
        return cls(amount, unit)

    @classmethod
    def of_mm(cls, amount: Fraction | int | str, unit: Unit = Unit.MM) -> "Length":
        """Make a length of so many mm, told in `unit`."""
        return cls(Fraction(amount), unit)

    @classmethod
    def of_inches(cls, amount: Fraction | int | str) -> "Length":
        """Make a length of so many inches: `1-3/8` is `Fraction(11, 8)`."""
        return cls(Fraction(amount) * Unit.IN.in_mm, Unit.IN)

    @property
    def text(self) -> str:
        """Write it exactly, in its own unit where that can be marked on a rule, else in mm, else as a broken number."""
        for unit in (self.unit, Unit.MM):
            if _is_marked(self.mm, unit):
                return _exact(self.mm, unit)
        return _exact(self.mm, self.unit)

    def inches(self, parts: int = 16) -> Shown:
        """Show it to the nearest 1/`parts` in, a tie to the even mark (NIST SP 811, B.7); `parts` is one of TAPE."""
        if parts not in TAPE:
            raise ValueError(f"an inch is divided into {', '.join(map(str, TAPE))} parts, not {parts}")
        return self._shown(Unit.IN.in_mm / parts, Unit.IN)

    def millimeters(self, places: int = 1) -> Shown:
        """Show it in mm to so many decimal places, a tie to the even one."""
        return self._shown(Fraction(1, 10**places), Unit.MM)

    def shown(self) -> Shown:
        """Show it as one reads it off a rule in its own system: to 1/16 in, or to 0.1 mm."""
        return self.inches() if self.unit.is_inch else self.millimeters()

    @property
    def marked(self) -> str:
        """Say it as one marks it: exactly, in inches where it was given so and a rule has the mark, else in mm. A
        number with no end in mm begins with "about": it is rounded to 0.1 mm, and so off by FUZZ at most."""
        if self.unit.is_inch and _is_marked(self.mm, Unit.IN):
            return _exact(self.mm, self.unit)
        return _exact(self.mm, Unit.MM) if self.is_short else self.millimeters().text

    @property
    def marked_in_both(self) -> str:
        """Say it as one marks it, and in the other system where that is exact, too: `1-3/8 in (34.925 mm)`,
        `38.1 mm (1-1/2 in)`, `35 mm`. Rounded inches never stand beside exact mm: who marks by them is off."""
        if not _is_marked(self.mm, Unit.IN):
            return self.marked
        inches, mm = _exact(self.mm, self.unit if self.unit.is_inch else Unit.IN), _exact(self.mm, Unit.MM)
        return f"{inches} ({mm})" if self.unit.is_inch else f"{mm} ({inches})" if self._is_on_a_tape else mm

    @property
    def is_short(self) -> bool:
        """Say whether it is a number of mm with four decimal places at most, which can be written out."""
        return 10**4 % self.mm.denominator == 0

    @property
    def _is_on_a_tape(self) -> bool:
        return 16 % (self.mm / Unit.IN.in_mm).denominator == 0

    def up_to(self, step: "Length") -> "Length":
        """Round it up to the next whole number of steps that is not shorter."""
        return Length(-(-self.mm // step.mm) * step.mm, self.unit)

    def rounded(self, *, up: bool) -> "Length":
        """Round it to what one reads off a rule, 1/16 in or 0.1 mm: `up` to the next that is not shorter, else to the
        one before that is not longer."""
        step = Length(Unit.IN.in_mm / 16 if self.unit.is_inch else Fraction(1, 10), self.unit)
        return self.up_to(step) if up else -(-self).up_to(step)

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: `{"text", "mm"}`, the text exact."""
        return {"text": self.text, "mm": float(self.mm)}

    def _shown(self, step: Fraction, unit: Unit) -> Shown:
        near = round(self.mm / step) * step
        off = near - self.mm
        return Shown(f"{'about ' if off else ''}{_exact(near, unit)}", bool(off), off)

    def __add__(self, other: "Length") -> "Length":
        return Length(self.mm + other.mm, self.unit)

    def __sub__(self, other: "Length") -> "Length":
        return Length(self.mm - other.mm, self.unit)

    def __mul__(self, times: int | Fraction) -> "Length":
        return Length(self.mm * times, self.unit)

    def __truediv__(self, by: int | Fraction) -> "Length":
        return Length(self.mm / by, self.unit)

    def __neg__(self) -> "Length":
        return Length(-self.mm, self.unit)

    def __abs__(self) -> "Length":
        return Length(abs(self.mm), self.unit)

    def __str__(self) -> str:
        return self.text


def _is_marked(mm: Fraction, unit: Unit) -> bool:
    """Whether a rule in this unit has a mark for it: 1/64 in, or a finite decimal."""
    if unit.is_inch:
        return 64 % (mm / Unit.IN.in_mm).denominator == 0
    return 10**6 % (mm / unit.in_mm).denominator == 0


def _exact(mm: Fraction, unit: Unit) -> str:
    sign, size = ("-" if mm < 0 else ""), abs(mm)
    if unit is Unit.FT:
        feet, rest = divmod(size, Unit.FT.in_mm)
        parts = [f"{feet} ft"] if feet else []
        if rest or not feet:
            parts.append(f"{_mixed(rest / Unit.IN.in_mm)} in")
        return sign + " ".join(parts)
    amount = size / unit.in_mm
    return f"{sign}{_mixed(amount) if unit.is_inch else _decimal(amount)} {unit.value}"


def _mixed(amount: Fraction) -> str:
    whole, rest = divmod(amount, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def _decimal(amount: Fraction) -> str:
    if 10**7 % amount.denominator:
        return _mixed(amount)
    digits = f"{int(amount * 10**7):08d}"
    return f"{digits[:-7]}.{digits[-7:]}".rstrip("0").rstrip(".")
