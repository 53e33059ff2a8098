"""The page of one hand-over: what is done, what is open, by when; add an item, accept.

It is accepted in two steps. One form adds what was missed and goes on to the second, so that nothing that was typed is
lost between two forms; the second shows the list once more, to be confirmed with one's name.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from portal.pages.environment import render
from portal.pages.handover_words import accepted_words, what_words
from portal.pages.title_block import Row, house_row
from portal.store.facts import HandoverFact, ItemFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words, local, when_words
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class Listed:
    """An item of the list: its words, where, and its `state` in words. `photo`: its name, empty without one."""

    words: str
    room: str
    state: str
    done: bool
    late: bool
    photo: str


@dataclass(frozen=True, slots=True)
class Accepting:
    """What the second step held when it was sent, and why it was refused or is asked about once more. `sure`: the name
    that was asked about."""

    name: str = ""
    once: str = ""
    refusal: str = ""
    sure: str = ""


def render_handover(
    snapshot: Snapshot, handover: HandoverFact, now: int, *, refusal: str, typed: Mapping[str, str], once: str,
    may_accept: bool, receipt: int | None = None,
) -> str:
    """`receipt`: the number of the entry by which it was accepted, where its reader may see that."""
    accepted = accepted_words(snapshot, handover)
    return render(
        "handover.html", snapshot.firm, **_shown(snapshot, handover, now), rooms=snapshot.rooms,
        offered=when_words(handover.offered_at, snapshot.project.timezone), accepted=accepted, refusal=refusal,
        typed=typed, once=once, may_accept=may_accept and not accepted, receipt=receipt,
    )


def render_accepting(snapshot: Snapshot, handover: HandoverFact, now: int, typed: Accepting) -> str:
    """The second step: what is handed over and all that is still open, to be accepted under one's name."""
    return render("accept_handover.html", snapshot.firm, **_shown(snapshot, handover, now), typed=typed,
                  seen=len(handover.items) + len(_elsewhere(snapshot, handover)))


def _shown(snapshot: Snapshot, handover: HandoverFact, now: int) -> dict[str, Any]:
    today, until = local(now, snapshot.project.timezone).date(), handover.items_until
    elsewhere = _elsewhere(snapshot, handover)
    takes, left = handover.takes_items(today), len(handover.still_open) + len(elsewhere)
    ordered = [*sorted(handover.items, key=lambda one: one.done_at is None), *elsewhere]  # what is set right first
    return {
        "project": snapshot.project, "handover": handover,
        "items": [_listed(snapshot, item, today) for item in ordered],
        "what": what_words(snapshot, handover), "takes": takes,
        "left": f"{counted(left, 'thing is', 'things are')} left for us." if left else "Nothing is left on the list.",
        "until": f"You can add to the list until {dated_words(until, today)}." if takes and until else "",
        "block": [house_row(snapshot.project), Row("Hand-over", first_upper(what_words(snapshot, handover)))],
    }


def _elsewhere(snapshot: Snapshot, handover: HandoverFact) -> list[ItemFact]:
    """Of the whole job, until it is accepted: what is still open of its phases, which is accepted with it."""
    if handover.phase_id is not None or handover.accepted_at is not None:
        return []
    return [item for one in snapshot.handovers if one.id != handover.id for item in one.still_open]


def _listed(snapshot: Snapshot, item: ItemFact, today: date) -> Listed:
    room = f", {snapshot.room_name(item.room_id)}" if item.room_id is not None else ""
    late = item.done_at is None and item.by_on is not None and item.by_on < today
    state = _state(item, snapshot.project.timezone, today)
    return Listed(item.item.rstrip("."), room, state, item.done_at is not None, late, item.photo)


def _state(item: ItemFact, zone: str, today: date) -> str:
    """`set right Mon Dec 21`, `Carpenters, by Tue Dec 22`, `to do`."""
    if item.done_at is not None:
        return f"set right {dated_words(local(item.done_at, zone).date(), today)}"
    if item.by_on is None:
        return f"{item.who}, to do" if item.who else "to do"
    by = f"{'late since' if item.by_on < today else 'by'} {dated_words(item.by_on, today)}"
    return f"{item.who}, {by}" if item.who else by
