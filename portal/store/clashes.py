"""Booked visits that can't be kept: those of a project now, and those that a change has caused."""

from collections.abc import Callable
from typing import TypeVar

from portal.planning.booked import as_booked
from portal.planning.conflicts import Conflict, conflicts
from portal.planning.plan import Visit
from portal.planning.schedule import Schedule
from portal.store.database import execute
from portal.store.planned import minutes, schedule_of
from portal.store.snapshot import read_snapshot

Result = TypeVar("Result")

_ELSEWHERE = """SELECT id, crew, starts_at, ends_at, phase_id, project_id FROM visit
    WHERE project_id <> ? AND cancelled_at IS NULL AND ends_at > ? ORDER BY starts_at, id"""


def conflicts_now(project_id: int, now: int) -> list[Conflict]:
    """All conflicts of the project's visits, also with crews that are booked in other projects. `now` in seconds."""
    return conflicts_in(schedule_of(read_snapshot(project_id), now), project_id)


def conflicts_in(schedule: Schedule, project_id: int) -> list[Conflict]:
    """A visit clashes also with what it follows being booked too late for it, so these are looked for as booked."""
    return conflicts(as_booked(schedule), _elsewhere(project_id, schedule.now * 60))


def caused(project_id: int, now: int, change: Callable[[], Result]) -> tuple[Result, list[Conflict]]:
    """Do a change; with its result come the conflicts that were not there before. They warn, they don't refuse."""
    before = {(one.visit, one.kind, one.other) for one in conflicts_now(project_id, now)}
    result = change()
    after = conflicts_now(project_id, now)
    return result, [one for one in after if (one.visit, one.kind, one.other) not in before]


def _elsewhere(project_id: int, now: int) -> list[Visit]:
    rows = execute(_ELSEWHERE, project_id, now).fetchall()
    return [
        Visit(visit, crew, minutes(starts), minutes(ends), phase, project)
        for visit, crew, starts, ends, phase, project in rows
    ]
