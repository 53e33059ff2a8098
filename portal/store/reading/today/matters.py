"""A matter: something in one house that somebody of the firm must do, as facts; and its kinds.

It is no entry of a to-do table: it follows from the rest, and is gone once that has changed. Only that somebody was
told of it is kept (`store.rows.household.told_marks`), with the digest of the state that they were told of.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import Any

from portal.planning.day_list import Due
from portal.record.log.canonical import digest

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


@dataclass(frozen=True, slots=True)
class Matter:
    """`about`: what tells it from others of its kind in the house, most often an id. `facts`: plain JSON; days as ISO
    8601, moments in seconds."""

    kind: str
    about: str
    due: Due
    facts: Mapping[str, Any] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """Names it in its house."""
        return f"{self.kind}:{self.about}"

    @property
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


def matters_in(found: Any) -> list[Matter]:
    """What `kept` gave, read again, or the text of it."""
    return list(_in_text(found)) if isinstance(found, str) else _matters(found)


@lru_cache(maxsize=2048)
def _in_text(text: str) -> tuple[Matter, ...]:
    """Read once for each change of a house; a house that has changed has another text."""
    return tuple(_matters(json.loads(text)))


def _matters(found: Any) -> list[Matter]:
    return [
        Matter(kind, about, Due(_day(by), _day(since), unkept), facts)
        for kind, about, by, since, unkept, facts in found or ()
    ]


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
