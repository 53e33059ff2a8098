"""Section 6: where the work stands, room by room, phase by phase. The state is the first word."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.home.booked_words import booked_words
from portal.pages.in_the_way import approvals_missing
from portal.pages.outlook import Outlook
from portal.store.facts import PhaseFact, Snapshot
from portal.words.dates import dated_words, local
from portal.words.lists import quoted


@dataclass(frozen=True, slots=True)
class Standing:
    name: str
    state: str
    rest: str


@dataclass(frozen=True, slots=True)
class RoomStanding:
    room: str
    phases: list[Standing]


def standing_section(snapshot: Snapshot, outlook: Outlook, today: date) -> list[RoomStanding]:
    """Rooms in their order, the whole house last; rooms without work are left out."""
    rooms: list[int | None] = [room.id for room in snapshot.rooms]
    found = []
    for room in [*rooms, None]:
        phases = [_standing(snapshot, outlook, p, today) for p in snapshot.phases if p.room_id == room]
        if phases:
            found.append(RoomStanding(snapshot.room_name(room), phases))
    return found


def _standing(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Standing:
    say = _SAYINGS.get(phase.state, _waiting)
    state, *rest = say(snapshot, outlook, phase, today)
    return Standing(phase.name, state, " ".join([*rest, *_released(snapshot, phase, today)]))


def _done(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    yield f"done {_on(snapshot, phase.finished_at, today)}."


def _under_way(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    yield f"under way since {_on(snapshot, phase.started_at, today)}."
    finish = outlook.finishes.get(phase.id)
    if finish is not None:
        yield f"Done by {dated_words(finish, today)}, by today’s plan."


def _stopped(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    yield f"stopped {_on(snapshot, phase.stopped_at, today)}."
    if phase.stopped_reason:
        yield f"{phase.stopped_reason.rstrip('.')}."
    goes_on = _on(snapshot, phase.resumes_at, today)
    yield f"Goes on {goes_on}." if goes_on else "Nobody knows yet when it goes on."


def _inspection(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    yield "waiting for the inspector."
    if phase.inspection_at is not None:
        yield f"Expected {_on(snapshot, phase.inspection_at, today)}."


def _waiting(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    missing = approvals_missing(snapshot, phase)
    unasked = quoted(one.question for one in snapshot.unasked(phase))
    if missing:
        yield f"held until {missing}."
        yield from [f"We still have to ask the household {unasked}"] if unasked else []
    else:
        yield f"held until we have asked the household {unasked}" if unasked else "planned."
    booked = booked_words(snapshot, outlook, phase.id, today)
    starts = dated_words(outlook.starts[phase.id], today)
    yield f"{booked[0].upper()}{booked[1:]}." if booked else f"By today’s plan it starts on {starts}."
    for delivery in snapshot.deliveries:
        if phase.id in delivery.phases and delivery.arrived_at is None:
            yield f"Waits for a delivery: {delivery.item}."


_SAYINGS = {"done": _done, "under_way": _under_way, "stopped": _stopped, "inspection": _inspection}


def _released(snapshot: Snapshot, phase: PhaseFact, today: date) -> Iterator[str]:
    for release in phase.releases:
        asked = quoted([snapshot.decision(release.decision_id).question])
        yield (
            f"{release.staff} let this start without an approval of {asked} "
            f"({_on(snapshot, release.at, today)}): {release.reason.rstrip('.')}."
        )
    for decision in map(snapshot.decision, phase.held_by):
        one = decision.withdrawn
        if one and one.lifts_hold:
            yield (
                f"{one.staff} withdrew {quoted([decision.question])} and let this start without it "
                f"({_on(snapshot, one.at, today)}): {one.reason.rstrip('.')}."
            )


def _on(snapshot: Snapshot, at: int | None, today: date) -> str:
    return "" if at is None else dated_words(local(at, snapshot.project.timezone).date(), today)
