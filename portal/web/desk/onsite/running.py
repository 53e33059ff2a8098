"""What is under way: the one that ends first on the slip, with what can be pressed; others in short rows below it."""

from dataclasses import dataclass
from datetime import date

from portal.pages.days.under_way import under_way
from portal.pages.outlook import Outlook
from portal.store.facts import PhaseFact, Snapshot
from portal.web.desk.onsite.presses import Press, running_presses
from portal.words.capitals import first_upper
from portal.words.dates import clock_words, dated_words, local, near_words

_SINCE = {"under_way": "Under way since", "inspection": "Waits for the inspector, begun", "stopped": "Stopped since"}


@dataclass(frozen=True, slots=True)
class Running:
    """`since`: its state, with the day and the room; `until`: who works, and until when by today's plan."""

    phase: PhaseFact
    since: str
    until: str
    presses: tuple[Press, ...]


def running(snapshot: Snapshot, outlook: Outlook, today: date, now: int) -> list[Running]:
    """All of them: what ends first stands first, what rests last."""
    return [
        Running(one, _since(snapshot, one, today), _until(snapshot, outlook, one, today),
                tuple(running_presses(snapshot, one, now)))
        for one in under_way(snapshot, outlook)
    ]  # fmt: skip


def _since(snapshot: Snapshot, phase: PhaseFact, today: date) -> str:
    at = phase.stopped_at if phase.state == "stopped" and phase.stopped_at else phase.started_at
    day = "" if at is None else f" {dated_words(local(at, snapshot.project.timezone).date(), today)}"
    room = "" if phase.room_id is None else f", {snapshot.room_name(phase.room_id)}"
    return f"{_SINCE[phase.state]}{day}{room}"


def _until(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> str:
    if phase.state == "stopped":
        return f"{phase.stopped_reason.rstrip('.')}. {_goes_on(snapshot, phase, today)}" if phase.stopped_reason else (
            _goes_on(snapshot, phase, today))
    if phase.state == "inspection":
        expected = _near(snapshot, phase.inspection_at, today)
        return f"Expected {expected}." if expected else "Nobody knows yet when the inspector comes."
    ends = outlook.booked.plan.calendar.moment(outlook.booked.of(phase.id).early_finish)
    until = f"until {near_words(ends.date(), today)}, {clock_words(ends)}"
    return first_upper(f"{phase.crew}, {until}." if phase.crew else f"{until}.")


def _goes_on(snapshot: Snapshot, phase: PhaseFact, today: date) -> str:
    day = _near(snapshot, phase.resumes_at, today)
    return f"Goes on {day}." if day else "Nobody knows yet when it goes on."


def _near(snapshot: Snapshot, at: int | None, today: date) -> str:
    return "" if at is None else near_words(local(at, snapshot.project.timezone).date(), today)
