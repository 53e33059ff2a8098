"""The plan on a phone: its phases in order, one row each, with its mark, where, who, how long and how it stands."""

from dataclasses import dataclass
from datetime import date

from portal import clock
from portal.pages.outlook import Outlook, outlook_of
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.words.dates import day_words, local


@dataclass(frozen=True, slots=True)
class PhaseRow:
    """`mark`: done, runs, planned or held, as the steps of a room are drawn."""

    phase: PhaseFact
    words: str
    state: str
    mark: str


def phase_list(snapshot: Snapshot) -> list[PhaseRow]:
    if not snapshot.phases:
        return []
    outlook, zone = outlook_of(snapshot, schedule_of(snapshot, clock.now())), snapshot.project.timezone
    found = []
    for phase in snapshot.phases:
        mark = _mark(snapshot, phase)
        found.append(PhaseRow(phase, _words(snapshot, phase), _state(phase, mark, outlook, zone), mark))
    return found


def _words(snapshot: Snapshot, phase: PhaseFact) -> str:
    place = snapshot.room_name(phase.room_id) if phase.room_id is not None else ""
    return ", ".join(filter(None, [place, phase.crew, f"{phase.work_likely / 60:g} h"]))


def _state(phase: PhaseFact, mark: str, outlook: Outlook, zone: str) -> str:
    if phase.finished_at is not None:
        return f"done {_on(phase.finished_at, zone)}"
    if phase.started_at is not None:
        state = {"stopped": "stopped", "inspection": "waits for the inspector"}.get(phase.state, "under way")
        return f"{state}, begun {_on(phase.started_at, zone)}"
    starts: date = outlook.starts[phase.id]
    return f"{'held, ' if mark == 'held' else ''}from {day_words(starts)}"


def _on(at: int, zone: str) -> str:
    return day_words(local(at, zone).date())


def _mark(snapshot: Snapshot, phase: PhaseFact) -> str:
    if phase.finished_at is not None:
        return "done"
    if phase.started_at is not None:
        return "runs"
    return "held" if snapshot.holding(phase) or snapshot.unasked(phase) else "planned"
