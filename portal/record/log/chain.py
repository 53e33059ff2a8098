"""The chain: a project's entries, each holding the hash of the one before it."""

import hashlib
import re
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from portal.record.log.canonical import canonical
from portal.record.log.entry_kinds import KINDS

NO_HASH = "0" * 64
"""Stands before the first entry."""

_TIME = re.compile(r"[0-9]{4}(-[0-9]{2}){2}T[0-9]{2}(:[0-9]{2}){2}(\.[0-9]{1,6})?Z")


class Newest(NamedTuple):
    """What the next entry needs of the newest one: its number (from 1), its hash (64 hex digits) and its time."""

    sequence: int
    hash: str
    at: str


class UnknownKind(ValueError):
    """A kind of entry that is not in the closed set."""

    def __init__(self, kind: str) -> None:
        super().__init__(f"kind: no entry is called {kind!r}. Use one of: {', '.join(KINDS)}; or add it to KINDS.")


class NotATime(ValueError):
    """A time that is not RFC 3339 in UTC."""

    def __init__(self, at: str) -> None:
        super().__init__(f"at: {at!r} is no time in UTC. Write it as 2026-11-25T06:27:11Z.")


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a project's record. `canonical` are its bytes, `hash` is their SHA-256 in hex.

    `at` is RFC 3339 in UTC, whole seconds or a fraction. `actor` holds at least kind, id and name. The sequence
    decides the order; `clock_moved` says that the clock stood earlier than at the entry before.
    """

    project: int
    sequence: int
    previous: str
    at: str
    actor: dict[str, Any]
    kind: str
    body: dict[str, Any]
    clock_moved: bool = False
    canonical: bytes = field(init=False, repr=False, compare=False)
    hash: str = field(init=False, compare=False)

    def __post_init__(self) -> None:
        made = canonical(self.content())
        object.__setattr__(self, "canonical", made)
        object.__setattr__(self, "hash", entry_hash(made))

    def content(self) -> dict[str, Any]:
        """Collect what is hashed: everything that the entry says, `clock_moved` only where it is true."""
        said: dict[str, Any] = {
            "project": self.project, "sequence": self.sequence, "previous": self.previous, "at": self.at,
            "actor": self.actor, "kind": self.kind, "body": self.body,
        }
        return {**said, "clock_moved": True} if self.clock_moved else said


def next_entry(
    project: int, newest: Newest | None, at: str, actor: dict[str, Any], kind: str, body: dict[str, Any]
) -> Entry:
    """Make the entry that follows `newest` (None: the first). Raises UnknownKind, NotATime, NotRecordable."""
    if kind not in KINDS:
        raise UnknownKind(kind)
    if not is_time(at):
        raise NotATime(at)
    sequence, previous, before = newest or (0, NO_HASH, at)
    return Entry(project, sequence + 1, previous, at, actor, kind, body, is_earlier(at, before))


def entry_hash(data: bytes) -> str:
    """Hash an entry's canonical bytes: SHA-256, as 64 lower-case hex digits."""
    return hashlib.sha256(data).hexdigest()


def is_time(text: str) -> bool:
    """Tell whether text is a time as entries say it: RFC 3339 in UTC, whole seconds or with up to six digits more.

    The digits are not looked up in a calendar: they only have to sort.
    """
    return _TIME.fullmatch(text) is not None


def is_earlier(at: str, than: str) -> bool:
    """Tell whether one time in UTC lies before another; the digits of their fractions need not be as many.

    Nothing lies before an empty `than`, which stands for "no entry before".
    """
    return _sortable(at) < _sortable(than)


def _sortable(at: str) -> str:
    digits = at[:-1]
    return digits.rstrip("0").rstrip(".") if "." in digits else digits
