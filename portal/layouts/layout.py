"""What every kind of layout answers with: its key, its words, checks with numbers, places from edges.

A kind has its numbers in one class and its words in one module. The class of its layouts joins the two: it names the
module as `words`, so that a kind can be worded anew, or in another language, in one place.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from operator import attrgetter
from typing import Any, ClassVar, Protocol

from portal.layouts.check import Advice, Check
from portal.layouts.length import Length
from portal.words.drawn.layout_words import does_not_fit, fits_but


class Words(Protocol):
    """The words module of a kind. Each function is given the numbers of one layout."""

    def title(self, layout: Any, /) -> str:
        """Tell it apart from every other layout of the same dimensions, in a few words."""

    def effects(self, layout: Any, /) -> tuple[str, ...]:
        """Say in sentences what it means for the household."""

    def cannot_be_undone(self, layout: Any, /) -> str:
        """Say what stays for good; empty where nothing does."""

    def reason(self, layout: Any, /) -> str:
        """Say why it ranks where it does, in a sentence."""

    def advice(self, layout: Any, /) -> tuple[Advice, ...]:
        """Say what practice advises, each with its source."""

    def not_checked(self, layout: Any, /) -> tuple[str, ...]:
        """Name what could not be checked because it was not given, such as `the sides of the cabinet`."""

    def mends(self, layout: Any, /) -> tuple[str, ...]:
        """Say in sentences what would make a layout pass that fails; `each_mend` where nothing more is known."""


@dataclass(frozen=True)
class Mark:
    """A place as one sets it out: so far from a named edge or end."""

    name: str
    edge: str
    at: Length

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: `{"name", "from", "at"}`."""
        return {"name": self.name, "from": self.edge, "at": self.at.to_json()}


class Layout(ABC):
    """One way to do it. A kind adds its numbers, among them `checks` and `key`, and its words."""

    words: ClassVar[Words]
    checks: tuple[Check, ...]

    @property
    @abstractmethod
    def key(self) -> str:
        """Name it by what it is, among all layouts of the same dimensions; no wording changes it."""

    @property
    @abstractmethod
    def marks(self) -> tuple[Mark, ...]:
        """Give each place as one sets it out, from a named edge or end."""

    @property
    def failed(self) -> tuple[Check, ...]:
        """Give the rules that it breaks; none when it can be done."""
        return tuple(check for check in self.checks if not check.ok and check.stops)

    @property
    def noted(self) -> tuple[Check, ...]:
        """Give the advices that it does not follow. They are said, and stop nothing."""
        return tuple(check for check in self.checks if not check.ok and not check.stops)

    @property
    def ok(self) -> bool:
        """Say whether it keeps every rule."""
        return not self.failed

    @property
    def faults(self) -> tuple[int, int]:
        """Count the rules that it breaks and the advices that it does not follow, by which kinds rank first."""
        return len(self.failed), len(self.noted)

    @property
    def title(self) -> str:
        """Tell it apart from the others in words, as a page shows it. No key: see `key`."""
        return self.words.title(self)

    @property
    def effects(self) -> tuple[str, ...]:
        """Say what it means for the household, a sentence each."""
        return self.words.effects(self)

    @property
    def cannot_be_undone(self) -> str:
        """Say what stays for good; empty where nothing does."""
        return self.words.cannot_be_undone(self)

    @property
    def reason(self) -> str:
        """Say why it ranks where it does."""
        return self.words.reason(self)

    @property
    def advice(self) -> tuple[Advice, ...]:
        """Say what practice advises, each with its source."""
        return self.words.advice(self)

    @property
    def not_checked(self) -> tuple[str, ...]:
        """Name what could not be checked because it was not given."""
        return self.words.not_checked(self)

    @property
    def mends(self) -> tuple[str, ...]:
        """Say what would make it pass; empty where it does."""
        return self.words.mends(self) if self.failed else ()

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it and a decision keeps it; a kind adds its places."""
        return {
            "key": self.key, "title": self.title, "effects": list(self.effects),
            "cannot_be_undone": self.cannot_be_undone, "ok": self.ok, "reason": self.reason,
            "checks": [check.to_json() for check in self.checks], "advice": [each.to_json() for each in self.advice],
            "not_checked": list(self.not_checked), "mends": list(self.mends),
            "marks": [mark.to_json() for mark in self.marks],
        }


def verdict(layout: Layout, otherwise: str) -> str:
    """Give the reason of a layout: its worst failure in numbers, else what speaks for it, and by how much it falls
    short of what is advised."""
    if layout.failed:
        worst = min(layout.failed, key=attrgetter("margin"))
        return does_not_fit(worst.sentence, worst.lacks)
    if layout.noted:
        worst = min(layout.noted, key=attrgetter("margin"))
        return fits_but(otherwise, worst.sentence, worst.lacks)
    return otherwise


def each_mend(layout: Layout) -> tuple[str, ...]:
    """Say of each rule that it breaks by how much, in a sentence."""
    return tuple(check.mend for check in layout.failed)
