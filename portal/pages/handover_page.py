"""The page of one hand-over: what is done, what is open, by when; add an item, accept. And its line on the page.

It is accepted in two steps. One form adds what was missed and goes on to the second, so that nothing that was typed is
lost between two forms; the second shows the list once more, to be confirmed with one's name.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from portal.pages.environment import render
from portal.pages.signers import signer_words
from portal.store.facts import HandoverFact, ItemFact, Snapshot
from portal.words.dates import day_words, local, when_words
from portal.words.plurals import counted

Listed = list[tuple[str, str]]
"""Each item in words, with the name of its photo."""


@dataclass(frozen=True, slots=True)
class Accepting:
    """What the second step held when it was sent, and why it was refused or is asked about once more. `sure`: the name
    that was asked about."""

    name: str = ""
    once: str = ""
    refusal: str = ""
    sure: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A hand-over that was not accepted yet."""

    id: int
    what: str
    left: str


def render_handover(
    snapshot: Snapshot, handover: HandoverFact, *, refusal: str, typed: Mapping[str, str], once: str, may_accept: bool
) -> str:
    accepted = accepted_words(snapshot, handover)
    return render(
        "handover.html", snapshot.firm, **_shown(snapshot, handover), rooms=snapshot.rooms,
        offered=when_words(handover.offered_at, snapshot.project.timezone), accepted=accepted, refusal=refusal,
        typed=typed, once=once, may_accept=may_accept and not accepted,
        done=[(item_words(snapshot, item), item.photo) for item in handover.items if item.done_at is not None],
    )


def render_accepting(snapshot: Snapshot, handover: HandoverFact, typed: Accepting) -> str:
    """The second step: what is handed over and all that is still open, to be accepted under one's name."""
    return render("accept_handover.html", snapshot.firm, **_shown(snapshot, handover), typed=typed,
                  seen=len(handover.items))


def handover_sentences(snapshot: Snapshot) -> list[tuple[int, str]]:
    """For the page: the id of each hand-over, and how it stands."""
    return [(handover.id, _standing(snapshot, handover)) for handover in snapshot.handovers]


def waiting_handovers(snapshot: Snapshot) -> list[Waiting]:
    """For the page: what we need of the household."""
    return [
        Waiting(one.id, what_words(snapshot, one), _left(one)) for one in snapshot.handovers if one.accepted_at is None
    ]


def what_words(snapshot: Snapshot, handover: HandoverFact) -> str:
    return f"“{snapshot.phase(handover.phase_id).name}”" if handover.phase_id is not None else "The whole job"


def accepted_words(snapshot: Snapshot, handover: HandoverFact) -> str:
    if handover.accepted_at is None:
        return ""
    who = signer_words(handover.accepted_by, handover.accepted_name)
    return f"{who} on {when_words(handover.accepted_at, snapshot.project.timezone)}"


def item_words(snapshot: Snapshot, item: ItemFact) -> str:
    """`A scratch on the door, Kitchen; Carpenters, by Fri Dec 18.`"""
    words = item.item.rstrip(".")
    if item.room_id is not None:
        words += f", {snapshot.room_name(item.room_id)}"
    if item.done_at is not None:
        return f"{words}; done {day_words(local(item.done_at, snapshot.project.timezone).date())}."
    ours = [item.who] if item.who else []
    ours += [f"by {day_words(item.by_on)}"] if item.by_on else []
    return f"{words}; {', '.join(ours)}." if ours else f"{words}."


def _shown(snapshot: Snapshot, handover: HandoverFact) -> dict[str, Any]:
    still_open: Listed = [(item_words(snapshot, item), item.photo) for item in handover.still_open]
    return {
        "project": snapshot.project, "handover": handover, "still_open": still_open,
        "what": what_words(snapshot, handover), "phone": snapshot.project.phone or snapshot.firm.phone,
        "hours": snapshot.project.office_hours or snapshot.firm.office_hours,
    }


def _left(handover: HandoverFact) -> str:
    count = len(handover.still_open)
    return "nothing is open" if not count else f"{counted(count, 'item is', 'items are')} still open"


def _standing(snapshot: Snapshot, handover: HandoverFact) -> str:
    what, left = what_words(snapshot, handover), _left(handover)
    accepted = accepted_words(snapshot, handover)
    if accepted:
        return f"{what}: accepted by {accepted}; {left}."
    return f"{what}: finished and handed over; {left}. Please look at it, and accept it or add what we missed."
