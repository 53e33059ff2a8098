"""Answers kept for requests that may come again."""

from typing import NamedTuple

from portal.store.engine.database import execute, take_turns
from portal.store.engine.named_rows import first_row

_FIND = "SELECT request, status, headers, body FROM answered WHERE who = ? AND key = ?"
_KEEP = "INSERT INTO answered (who, key, request, status, headers, body, at) VALUES (?, ?, ?, ?, ?, ?, ?)"
_FORGET = "DELETE FROM answered WHERE at < ?"


class Answer(NamedTuple):
    request: str
    status: int
    headers: str
    body: str


def find(who: str, key: str) -> Answer | None:
    """Within a write, and until its end, nobody else finds or keeps an answer to the same request."""
    take_turns(f"{who} {key}")
    row = first_row(_FIND, who, key)
    return Answer(**row) if row else None


def keep(who: str, key: str, request: str, status: int, headers: str, body: str, now: int) -> None:
    execute(_KEEP, who, key, request, status, headers, body, now)


def forget_before(at: int) -> int:
    """Drop answers older than `at`; returns how many."""
    return int(execute(_FORGET, at).rowcount)
