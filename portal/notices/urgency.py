"""Which letter goes first when several wait, in one table: first that whose reader loses most by waiting."""

from collections.abc import Callable
from typing import Any

_SOON = 2 * 24 * 3600
About = dict[str, Any]


def _visit_soon(about: About, now: int) -> bool:
    """Booked, or booked before, for today or tomorrow."""
    booked = [about.get("starts_at"), (about.get("before") or {}).get("starts_at")]
    return any(isinstance(at, int) and at - now < _SOON for at in booked)


def _always(about: About, now: int) -> bool:
    return True


ORDER: tuple[tuple[frozenset[str], Callable[[About, int], bool], str], ...] = (
    (frozenset({"visit_moved", "visit_cancelled"}), _visit_soon,
     "today or tomorrow somebody stays at home for nothing, or a crew finds the door locked"),
    (frozenset({"evening"}), _always, "it is about tomorrow, and of no use the day after"),
    (frozenset({"visit_does_not_suit"}), _visit_soon, "a crew may find nobody at home today or tomorrow"),
    (frozenset({"message"}), _always, "it may be a leak, and our own people read it before anybody is told of it"),
    (frozenset({"link"}), _always, "the office has just promised it on the phone, and the caller waits for it"),
    (frozenset({"reminder"}), _always, "the answer is due within two working days, or late"),
    (frozenset({"asked", "opened_again"}), _always,
     "work waits for the answer, and each day before it is theirs to think"),
    (frozenset({"answered", "message_answered", "proposal_settled"}), _always,
     "they asked, told or proposed something, and wait to hear"),
    (frozenset({"house_handed_over"}), _always, "what comes from that house waits for its reader from now on"),
    (frozenset({"another_option", "they_differ"}), _always, "work waits until our own people ask anew, or call them"),
    (frozenset({"other_owner"}), _always, "they may want to answer otherwise, or need not answer any more"),
    (frozenset({"question_withdrawn", "taken_back"}), _always,
     "what they believe is wrong: a sheet that must not be signed, a signature that does not count"),
    (frozenset({"visit_moved", "visit_cancelled", "visit_does_not_suit"}), _always,
     "it changes a day that is still some days off"),
    (frozenset({"receipt", "handover_accepted", "timezone_changed"}), _always,
     "nothing is to be done; their page shows it already"),
)
"""Kinds of notices, when, and why they stand there: the first line that fits counts."""


def place(kind: str, about: About, now: int) -> int:
    """In the order of ORDER; what no line names comes last."""
    return next((i for i, (kinds, when, _) in enumerate(ORDER) if kind in kinds and when(about, now)), len(ORDER))
