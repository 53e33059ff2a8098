"""What a layout is measured against, and what is said beside it: checks with numbers, advice, suggestions."""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from portal.layouts.content_tables.standings import standing
from portal.layouts.length import Length, Unit
from portal.words.drawn.layout_words import FAILS, NOT_AS_ADVISED, PASSES, check_numbers, check_sentence, mend, past

GIVEN = "given with the dimensions"
GEOMETRY = "geometry"
PRACTICE = "common practice"

AT_LEAST = "at least"
AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured, by its `key` in content/checks.toml, such as `deck.hole-to-cutout`. `text`: how it is called
    here, where that says more than the table does. `stops`: whether a layout that fails it is not offered."""

    key: str
    text: str = ""
    stops: bool = field(init=False)

    def __post_init__(self) -> None:
        found = standing(self.key)
        object.__setattr__(self, "stops", found.stops)
        object.__setattr__(self, "text", self.text or found.name)


@dataclass(frozen=True, slots=True)
class Check:
    """One measured distance against what it must be, both in mm. `margin` is what is left over, to the nanometre, so
    that a tie passes; it is kept, because layouts share their checks and are ranked by it. `source`: who gave the
    limit."""

    what: Measure
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
    def name(self) -> str:
        """Call what is measured by its name."""
        return self.what.text

    @property
    def stops(self) -> bool:
        """Say whether it is a rule, which stops a layout that fails it; else it is an advice, which is said."""
        return self.what.stops

    @property
    def ok(self) -> bool:
        """Say whether it passes; a distance that is exactly the limit does."""
        return self.margin >= 0

    @property
    def found(self) -> Length:
        """Give what was measured as a length, in the unit of the check."""
        return _length(self.measured, self.unit)

    @property
    def spare(self) -> Length:
        """Give the margin as a length; negative when it fails."""
        return _length(self.margin, self.unit)

    @property
    def sentence(self) -> str:
        """Say it in a sentence with its verdict: `hole to edge, A: 2 in, at least 1 in: passes`."""
        least = self._told(self._least)
        return check_sentence(self.name, self.about, self._found_told, self.rule, least, self._verdict)

    @property
    def in_numbers(self) -> str:
        """Say what was measured and its limit, without the verdict."""
        return check_numbers(self.name, self.about, self._found_told, self.rule, self._told(self._least))

    @property
    def marked(self) -> str:
        """Say what was measured and its limit as on a sheet, where no length is rounded to what a tape shows."""
        return check_numbers(self.name, self.about, *self._marked)

    @property
    def marked_sentence(self) -> str:
        """Say the same in a sentence with its verdict."""
        return check_sentence(self.name, self.about, *self._marked, self._verdict)

    @property
    def mend(self) -> str:
        """Say what would make it pass: `hole to edge, A: 1/4 in more.`"""
        return mend(self.name, self.about, self.lacks, more=self.rule == AT_LEAST)

    @property
    def lacks(self) -> str:
        """Say by how much it fails, as a length."""
        return self._told(-self.spare)

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: lengths as text and mm, to the micrometer."""
        return {"key": self.what.key, "name": self.name, "about": self.about, "measured": self._json(self.found),
                "rule": self.rule, "required": self._json(self._least), "ok": self.ok, "stops": self.stops,
                "source": self.source}

    @property
    def _verdict(self) -> str:
        return PASSES if self.ok else FAILS if self.stops else NOT_AS_ADVISED

    @property
    def _found_told(self) -> str:
        """Nothing is less than 0 in wide: then one thing reaches past the other."""
        return past(self._told(-self.found)) if self.measured < 0 else self._told(self.found)

    @property
    def _marked(self) -> tuple[str, str, str]:
        """What was measured, the rule and its limit; in full where both would read alike."""
        found, least = self.found, self._least
        if found.mm < 0:
            return past((-found).marked), self.rule, least.marked
        if found.marked == least.marked and found != least:
            return found.text, self.rule, least.text
        return found.marked, self.rule, least.marked

    @property
    def _least(self) -> Length:
        return _length(self.required, self.unit)

    def _told(self, length: Length) -> str:
        """In mm where a rule would show the same for both, so that nobody reads "2 in, at least 2 in: fails"."""
        if not self.ok and self.found.shown().text.split()[-2] == self._least.shown().text.split()[-2]:
            return length.millimeters(3).text
        return length.shown().text

    def _json(self, length: Length) -> dict[str, Any]:
        return {"text": self._told(length), "mm": round(float(length.mm), 3)}


def check(what: Measure, about: str, measured: Length, rule: str, required: Length, source: str = GIVEN) -> Check:
    """Check two exact lengths against each other; shown in the unit of what is measured."""
    return Check(what, about, float(measured.mm), float(required.mm), rule, source, measured.unit)


def _length(mm: float, unit: Unit) -> Length:
    return Length(Fraction(round(mm * 10**6), 10**6), unit)


@dataclass(frozen=True)
class Advice:
    """A sentence for whoever decides, and where it comes from."""

    text: str
    source: str = PRACTICE

    def to_json(self) -> dict[str, str]:
        """Write it as the API answers it."""
        return {"text": self.text, "source": self.source}


@dataclass(frozen=True)
class Suggestion:
    """A published value for a field that one must still give: shown beside the field, never filled in."""

    field: str
    text: str
    source: str

    def to_json(self) -> dict[str, str]:
        """Write it as the API answers it. `field` is its dotted path in the dimensions."""
        return {"field": self.field, "text": self.text, "source": self.source}
