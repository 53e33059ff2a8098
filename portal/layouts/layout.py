"""What every kind of layout answers with: a title, its effects in sentences, checks with numbers, places from edges."""

from dataclasses import dataclass
from operator import attrgetter
from typing import Any, ClassVar, Protocol

from portal.layouts.check import Advice, Check
from portal.layouts.length import Length


class AnyLayout(Protocol):
    """What a page, the API and a decision need of a layout of any kind."""

    @property
    def title(self) -> str: ...
    @property
    def effects(self) -> tuple[str, ...]: ...
    @property
    def cannot_be_undone(self) -> str: ...
    @property
    def reason(self) -> str: ...
    @property
    def checks(self) -> tuple[Check, ...]: ...
    @property
    def advice(self) -> tuple[Advice, ...]: ...
    @property
    def ok(self) -> bool: ...
    def to_json(self) -> dict[str, Any]: ...


@dataclass(frozen=True)
class Mark:
    """A place as one sets it out: so far from a named edge or end."""

    name: str
    edge: str
    at: Length

    def to_json(self) -> dict[str, Any]:
        return {"name": self.name, "from": self.edge, "at": self.at.to_json()}


@dataclass(frozen=True)
class Layout:
    """One way to do it. `reason`: why it ranks where it does. `cannot_be_undone` is the same for all of a kind."""

    cannot_be_undone: ClassVar[str] = ""

    title: str
    effects: tuple[str, ...]
    checks: tuple[Check, ...]
    reason: str
    marks: tuple[Mark, ...]
    advice: tuple[Advice, ...]

    @property
    def failed(self) -> tuple[Check, ...]:
        return tuple(check for check in self.checks if not check.ok)

    @property
    def ok(self) -> bool:
        return not self.failed

    def to_json(self) -> dict[str, Any]:
        return {
            "title": self.title, "effects": list(self.effects),
            "cannot_be_undone": self.cannot_be_undone, "ok": self.ok, "reason": self.reason,
            "marks": [mark.to_json() for mark in self.marks],
            "checks": [check.to_json() for check in self.checks], "advice": [each.to_json() for each in self.advice],
        }


def verdict(checks: tuple[Check, ...], otherwise: str) -> str:
    """The reason of a layout: the worst failure in numbers, else what speaks for it."""
    failed = [check for check in checks if not check.ok]
    if not failed:
        return otherwise
    worst = min(failed, key=attrgetter("margin"))
    return f"Does not fit. {worst.sentence[:1].upper()}{worst.sentence[1:]}, by {worst.lacks}."
