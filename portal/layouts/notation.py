"""How lengths are written by people who cut and drill, and what is refused because it could mean two things."""

import re
import unicodedata
from collections.abc import Iterable
from enum import Enum
from fractions import Fraction
from typing import Any

INCH = Fraction(254, 10)


class Unit(Enum):
    """A unit that a length may be written in."""

    MM = "mm"
    CM = "cm"
    M = "m"
    IN = "in"
    FT = "ft"

    @property
    def in_mm(self) -> Fraction:
        """Give its size in mm, exactly (NIST SP 811, appendix B: 1 in = 25.4 mm)."""
        return _SIZES[self]

    @property
    def is_inch(self) -> bool:
        """Say whether its lengths are read off a rule in inches."""
        return self in (Unit.IN, Unit.FT)


_SIZES = {Unit.MM: Fraction(1), Unit.CM: Fraction(10), Unit.M: Fraction(1000), Unit.IN: INCH, Unit.FT: 12 * INCH}


class DimensionError(ValueError):
    """A dimension that can't be used: `field` is its dotted path, `message` says why and what to do. `every`: all
    that can't be used, by field and message, itself the first."""

    def __init__(self, field: str, message: str, others: Iterable[tuple[str, str]] = ()) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message
        self.every = ((field, message), *others)


class LengthError(DimensionError):
    """A length that could mean two things, or nothing."""


_MARKS = str.maketrans({
    "″": '"', "”": '"', "“": '"', "„": '"', "＂": '"', "′": "'", "’": "'", "‘": "'", "＇": "'", "⁄": "/", "∕": "/",
    "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "−": "-", "×": "x", "\u00a0": " ", "\u2009": " ", "\u202f": " ",
})
_FRACTION = r"(?:(?P<whole>[0-9]{1,9})(?:- ?| +))?(?P<top>[0-9]{1,9})/(?P<bottom>[0-9]{1,9})"
_PLAIN = r"(?P<plain>[0-9]{1,9}(?:\.[0-9]{1,7})?|\.[0-9]{1,7})"
_NUMBER = rf"(?:{_FRACTION}|{_PLAIN})"
_INCH_MARK = r"(?:\"|''|in\.?|inch|inches)"
_ONE = re.compile(rf"{_NUMBER} *(?P<unit>\"|''|'|[a-z]+\.?)?")
_FEET = re.compile(rf"(?P<feet>[0-9]{{1,4}}) *(?:'|ft\.?|foot|feet)[ -]*{_NUMBER} *{_INCH_MARK}?")
_UNITS = {
    '"': Unit.IN, "''": Unit.IN, "in": Unit.IN, "inch": Unit.IN, "inches": Unit.IN,
    "'": Unit.FT, "ft": Unit.FT, "foot": Unit.FT, "feet": Unit.FT,
    "mm": Unit.MM, "millimeter": Unit.MM, "millimeters": Unit.MM, "cm": Unit.CM, "centimeter": Unit.CM,
    "centimeters": Unit.CM, "m": Unit.M,
}
_OUTER = re.compile(r",? *(?:spread)?,? *outer to outer$")
_LONGEST = 40

_SPREAD = ("gives a spread, which is measured in two ways; write the distance between the centers of the outer holes, "
           "for instance “8 in outer to outer”")
_REFUSED = (
    (re.compile(r"spread"), _SPREAD),
    (re.compile(r"^-"), "is negative; write a length of zero or more"),
    (re.compile(r"^[0-9.]+ *- *[0-9.]+ *(?:[a-z\"']+\.?)?$"),
     "could be a fraction or a range; write a fraction with a stroke (1/3 in), or give one length"),
    (re.compile(r" to |\.\.|±|\+|~"), "is a range or a tolerance; give one length"),
    (re.compile(r"[0-9] *x|\bx"), "is a size of more than one number; give each length in its own field"),
    (re.compile(r","), "has a comma, which could be a decimal mark or a thousands mark; write a point, or no mark"),
    (re.compile(r"^[0-9.]+ +[0-9.]+ *(?:[a-z\"']+\.?)?$"), "is two numbers; write one, or a fraction with a stroke"),
)


def read_length(text: Any, field: str) -> tuple[Fraction, Unit]:
    """Read a length: how many mm it has, and the unit it was written in. Raises LengthError, which names `field`."""
    plain = _plain(text, field)
    if feet := _FEET.fullmatch(plain):
        return _feet_and_inches(feet, text, field), Unit.FT
    one = _ONE.fullmatch(plain)
    if not one:
        raise LengthError(field, f"“{text}” {_why_refused(plain)}")
    unit = _unit(one, text, field)
    return _amount(one, text, field) * unit.in_mm, unit


def _plain(text: Any, field: str) -> str:
    if not isinstance(text, str):
        raise LengthError(field, f"{text!r} has no unit; write text with the unit, for instance “1-3/8 in” or “35 mm”")
    if not text.strip():
        raise LengthError(field, "is empty; write a length with its unit, for instance “1-3/8 in” or “35 mm”")
    if len(text) > _LONGEST:
        raise LengthError(field, f"is longer than {_LONGEST} characters; write one length with its unit")
    marked = "".join(_vulgar(char) for char in text).translate(_MARKS).lower()
    return _OUTER.sub("", " ".join(marked.split()))


def _vulgar(char: str) -> str:
    """A typographic fraction in plain digits, kept apart from the whole number before it."""
    kind, _, rest = unicodedata.decomposition(char).partition(" ")
    return " " + "".join(chr(int(code, 16)) for code in rest.split()) if kind == "<fraction>" else char


def _why_refused(plain: str) -> str:
    for pattern, why in _REFUSED:
        if pattern.search(plain):
            return why
    return "is no length; write a number and its unit, for instance “1-3/8 in”, “2' 3-1/2\"” or “35 mm”"


def _feet_and_inches(found: re.Match[str], text: Any, field: str) -> Fraction:
    inches = _amount(found, text, field)
    if inches >= 12:
        raise LengthError(field, f"“{text}” has 12 inches or more beside the feet; write the length again")
    return (int(found["feet"]) * 12 + inches) * INCH


def _amount(found: re.Match[str], text: Any, field: str) -> Fraction:
    if found["plain"]:
        return Fraction(found["plain"])
    top, bottom = int(found["top"]), int(found["bottom"])
    if not bottom:
        raise LengthError(field, f"“{text}” divides by zero; write the fraction again")
    if top >= bottom:
        # 13/8 is what 1 3/8 becomes when its space is lost, so it is never taken at its word.
        raise LengthError(field, f"“{text}” has a fraction of one or more; write the whole number before it (1-3/8 in)")
    return int(found["whole"] or 0) + Fraction(top, bottom)


def _unit(found: re.Match[str], text: Any, field: str) -> Unit:
    name = (found["unit"] or "").rstrip(".")
    if name in _UNITS:
        return _UNITS[name]
    if name == "x":
        raise LengthError(field, f"“{text}” {_why_refused('4 x')}")
    if name:
        raise LengthError(field, f"“{text}” {_why_refused(name)}")
    if found["bottom"] and 64 % int(found["bottom"] or 1) == 0:
        return Unit.IN  # only inches are written in halves to sixty-fourths (common practice)
    raise LengthError(field, f"“{text}” has no unit and could be inches or millimeters; add “in” or “mm”")
