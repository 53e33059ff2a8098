"""What is made of all houses is kept in the process until one of them changes, or until a moment at which it changes by
itself: to whoever looks again meanwhile it is only handed out."""

from collections.abc import Callable
from typing import Any, Generic, NamedTuple, TypeVar

from portal.store.engine.database import read
from portal.store.rows.project_rows import stamp

Made = TypeVar("Made")
NEVER = 2**63
"""Until when it stays so, where the clock alone changes nothing."""


class _Kept(NamedTuple):
    of: tuple[Any, ...]
    since: int
    until: int
    made: Any


class BetweenViews(Generic[Made]):
    """`make`: what it is made of is told as (the moment in seconds, whatever else it follows from); it gives what it
    made, which nobody changes, and the first moment at which that may have become another."""

    def __init__(self, make: Callable[..., tuple[Made, int]]) -> None:
        self._make = make
        self._kept: _Kept | None = None

    def at(self, now: int, *also: Any) -> Made:
        with read():
            of, kept = (stamp(), *also), self._kept
            if kept is None or kept.of != of or not kept.since <= now < kept.until:
                made, until = self._make(now, *also)
                self._kept = kept = _Kept(of, now, until, made)
        return kept.made  # type: ignore[no-any-return]
