"""A matter: something in one house that somebody of the firm must do, as facts; and its kinds.

It is no entry of a to-do table: it follows from the rest, and is gone once that has changed. Only that somebody was
told of it is kept (`store.rows.household.told_marks`), with the digest of the state that they were told of.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from portal.planning.day_list import Due, Place, placed
from portal.record.log.canonical import digest
from portal.store.last_made import LastMade

ASK, ORDER, COMES = "ask", "order", "comes"
QUESTION, MESSAGE, UNSUITED, PROPOSAL, ITEM = "question", "message", "unsuited", "proposal", "item"
NIGHT, MOVED, DECISION = "night", "moved", "decision"
START, FINISH, PASSED, RESUME = "start", "finish", "passed", "resume"
UNKEPT = "unkept"
KINDS = (DECISION, UNKEPT, ORDER, COMES, ASK, QUESTION, MESSAGE, UNSUITED, PROPOSAL, ITEM, NIGHT, MOVED, FINISH, PASSED,
         RESUME, START)  # fmt: skip
"""In the order in which those of the same day stand."""

_STATE = {MOVED: ("finish",)}
"""Which facts make it another matter than the one that was told of; of the other kinds all of them, and its day."""


@dataclass(frozen=True)
class Matter:
    """`about`: what tells it from others of its kind in the house, most often an id. `facts`: plain JSON; days as ISO
    8601, moments in seconds."""

    kind: str
    about: str
    due: Due
    facts: Mapping[str, Any] = field(default_factory=dict)

    @cached_property
    def key(self) -> str:
        """Names it in its house."""
        return f"{self.kind}:{self.about}"

    @cached_property
    def state(self) -> str:
        """The digest of what its line says; the days that it is late are not part of it."""
        of_kind = _STATE.get(self.kind)
        if of_kind:
            return digest({name: self.facts.get(name) for name in of_kind})
        return digest({"by": _text(self.due.by), **self.facts})


def kept(matters: Iterable[Matter]) -> list[list[Any]]:
    """As JSON keeps them."""
    return [
        [one.kind, one.about, _text(one.due.by), _text(one.due.since), one.due.unkept, dict(one.facts)]
        for one in matters
    ]


def standing_in(house: int, found: Any, today: date) -> Sequence[tuple[Place, Matter]]:
    """Those of what `kept` gave, or of the text of it, that stand in the list of `today`, each with its place. A text
    is read once for each change of the house and each day."""
    return _read.of(house, (found, today), _standing) if isinstance(found, str) else _standing((found, today))


def _standing(given: tuple[Any, date]) -> Sequence[tuple[Place, Matter]]:
    found, today = given
    return placed(_matters(json.loads(found) if isinstance(found, str) else found), lambda one: one.due, today)


_read = LastMade[tuple[Any, date], Sequence[tuple[Place, Matter]]]()


def _matters(found: Any) -> list[Matter]:
    return [
        Matter(kind, about, Due(_day(by), _day(since), unkept), facts)
        for kind, about, by, since, unkept, facts in found or ()
    ]


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
