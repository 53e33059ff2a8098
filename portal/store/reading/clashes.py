"""Booked visits that can't be kept, also because their crew is booked in another project."""

from portal.planning.conflicts.unkept_visits import Conflict, conflicts
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Visit
from portal.store.engine.named_rows import rows
from portal.store.reading.project_plan import minutes

_ELSEWHERE = """SELECT id, crew, starts_at AS starts, ends_at AS ends, phase_id AS phase, project_id AS project
    FROM visit WHERE project_id <> ? AND cancelled_at IS NULL AND ends_at > ? ORDER BY starts_at, id"""


def conflicts_in(schedule: Schedule, project_id: int) -> list[Conflict]:
    """A visit clashes also with what it follows being booked too late for it, so these are looked for as booked."""
    return conflicts(as_booked(schedule), _elsewhere(project_id, schedule.now * 60))


def _elsewhere(project_id: int, now: int) -> list[Visit]:
    found = rows(_ELSEWHERE, project_id, now, starts=minutes, ends=minutes)
    return [Visit(**row) for row in found]
