"""Which entry took an approval back: read from the record alone, so that a copy can tell it, too. Pure."""

from collections.abc import Iterable
from typing import Any


def taken_back_by(approved: dict[str, Any], entries: Iterable[dict[str, Any]]) -> dict[str, Any] | None:
    """Find the entry that took back the approval of the entry `approved`; None while it counts.

    `entries`: any that hold the withdrawals of the record, in any order. The first one after it is its own: nobody
    approves twice in between.
    """
    wanted = _of(approved)
    after = [
        entry for entry in entries
        if entry["kind"] == "withdrawn" and entry["sequence"] > approved["sequence"] and _of(entry) == wanted
    ]
    return min(after, key=lambda entry: int(entry["sequence"]), default=None)


def person_of(entry: dict[str, Any]) -> int:
    """Find the id of whoever approved or took back: of what was on paper it is not who entered it."""
    person: int = entry["body"].get("person", entry["actor"]["id"])
    return person


def _of(entry: dict[str, Any]) -> tuple[int, int, int]:
    return entry["body"]["decision"], entry["body"]["revision"], person_of(entry)
