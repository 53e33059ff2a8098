"""All the work of a house, room by room, each phase with its next act; and what is set up once."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from flask import Response

from portal import clock
from portal.pages.outlook import Outlook, outlook_of
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import project_row
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.desk.plan.standing import Standing, standing_section
from portal.web.desk.showing import show
from portal.words.dates import local

_NEXT = {
    "waiting": ("start", "Start now", "start_phase"), "under_way": ("finish", "Finish now", "finish_phase"),
    "stopped": ("resume", "Go on", "resume_phase"), "inspection": ("finish", "It has passed", "finish_phase"),
}


@dataclass(frozen=True, slots=True)
class Stands:
    """A phase: its state in words, and the act that comes next: where its form is, its button, and the act's name."""

    phase: PhaseFact
    standing: Standing
    act: tuple[str, str, str] | None


@blueprint.get(f"{PROJECT}/work/")
def work(project_id: int) -> Response:
    project_row(project_id)
    snapshot, now = read_snapshot(project_id), clock.now()
    outlook, today = outlook_of(snapshot, schedule_of(snapshot, now)), local(now, snapshot.project.timezone).date()
    return show("work.html", project=snapshot.project, rooms=list(_rooms(snapshot, outlook, today)))


@blueprint.get(f"{PROJECT}/set-up/")
def set_up(project_id: int) -> Response:
    return show("set_up.html", project=project_row(project_id))


def _rooms(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[tuple[str, list[Stands]]]:
    by_name = {phase.name: phase for phase in snapshot.phases}
    for room in standing_section(snapshot, outlook, today):
        phases = [by_name[standing.name] for standing in room.phases]
        yield room.room, [
            Stands(phase, standing, _NEXT.get(phase.state) if _is_next(snapshot, phase) else None)
            for phase, standing in zip(phases, room.phases, strict=True)
        ]


def _is_next(snapshot: Snapshot, phase: PhaseFact) -> bool:
    """Under way, or free to start: for the others, a button on the list would only be pressed by mistake."""
    done = {one.id for one in snapshot.phases if one.finished_at is not None}
    held = snapshot.holding(phase) or snapshot.unasked(phase)
    free = {before for before, _ in phase.after} <= done and not held
    return phase.state != "waiting" or free
