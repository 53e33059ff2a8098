"""How a hand-over stands, in words: on the page, at the desk, in letters."""

from dataclasses import dataclass

from portal.pages.signers import signer_words
from portal.store.facts import HandoverFact, ItemFact, Snapshot
from portal.words.dates import day_words, local, when_words
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class Waiting:
    """A hand-over that was not accepted yet."""

    id: int
    what: str
    left: str


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


def until_words(handover: HandoverFact) -> str:
    """Until when the household can add to the list, for the desk; empty where no day is set."""
    return f"The household can add to it until {day_words(handover.items_until)}." if handover.items_until else ""


def taken_back_words(snapshot: Snapshot, phase_id: int | None, at: int, reason: str) -> str:
    """`“Grout the splash”: taken back on Fri Nov 27, 9:10 am. The grout is not dry yet.`"""
    what = f"“{snapshot.phase(phase_id).name}”" if phase_id is not None else "The whole job"
    return f"{what}: taken back on {when_words(at, snapshot.project.timezone)}. {reason.rstrip('.')}."


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


def _left(handover: HandoverFact) -> str:
    count = len(handover.still_open)
    return "nothing is left to finish" if not count else f"{counted(count, 'thing is', 'things are')} left for us"


def _standing(snapshot: Snapshot, handover: HandoverFact) -> str:
    what, left = what_words(snapshot, handover), _left(handover)
    accepted = accepted_words(snapshot, handover)
    if accepted:
        return f"{what}: accepted by {accepted}; {left}."
    return f"{what}: finished and handed over; {left}. Please look at it, and accept it or add what we missed."
