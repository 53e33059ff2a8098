"""Booked visits that can't be kept, in the same words for the household and for the desk."""

from collections.abc import Iterable

from portal.planning.conflicts.unkept_visits import Conflict
from portal.words.dates import when_words


def conflict_words(conflict: Conflict, timezone: str) -> str:
    """Why a visit can't be kept, and what is expected instead."""
    if conflict.first_that_works is None:
        return conflict.words
    works = when_words(conflict.first_that_works * 60, timezone)
    return f"{conflict.words} {'Then it works' if works in conflict.words else f'The first time that works: {works}'}."


def not_kept(found: Iterable[Conflict], timezone: str) -> dict[int, str]:
    """By visit, all that is in its way."""
    words: dict[int, list[str]] = {}
    for one in found:
        words.setdefault(one.visit, []).append(conflict_words(one, timezone))
    return {visit: " ".join(dict.fromkeys(said)) for visit, said in words.items()}
