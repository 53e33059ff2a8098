"""Booked visits that can't be kept, also because their crew is booked in another project."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from portal.planning.conflicts.bookings import first_free_time
from portal.planning.conflicts.unkept_visits import Conflict, conflicts
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Visit
from portal.store.engine.named_rows import rows
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import minutes, of_crew
from portal.store.rows.crews import crew_rows

_ELSEWHERE = """SELECT v.id, v.crew, v.starts_at AS starts, v.ends_at AS ends, v.phase_id AS phase,
    v.project_id AS project, p.name AS house FROM visit v JOIN project p ON p.id = v.project_id
    WHERE v.project_id <> ? AND v.cancelled_at IS NULL AND v.ends_at > ? ORDER BY v.starts_at, v.id"""


def conflicts_in(schedule: Schedule, project_id: int) -> list[Conflict]:
    """A visit clashes also with what it follows being booked too late for it, so these are looked for as booked. It is
    staff who are told: a clash names the other house."""
    houses: dict[int, str] = {}
    found = conflicts(as_booked(schedule), _elsewhere(project_id, schedule.now * 60, houses))
    return [_naming(one, houses) for one in found]


def free_days(booked: Schedule, snapshot: Snapshot, wanted: Mapping[int, tuple[int, int]]) -> dict[int, date]:
    """The first day on which the crew of each phase can come from when to when it is wanted (instants), or as long on a
    later day: with the rule by which a visit that can't be kept is told what works."""
    here, project = booked.plan.calendar, snapshot.project
    busy = [*booked.plan.visits, *_elsewhere(project.id, booked.now * 60, {})]
    busy = [one for one in busy if one.ends > booked.now]
    found: dict[int, date] = {}
    for phase, (starts, ends) in wanted.items():
        crew = snapshot.phase(phase).crew
        key, hours = of_crew(crew, snapshot.crews, project.timezone)
        visit = Visit(0, crew, starts, ends, phase, project.id, key, hours)
        free = first_free_time(here, visit, starts, busy)
        found[phase] = here.day_of(starts if free is None else free)
    return found


def _naming(one: Conflict, houses: dict[int, str]) -> Conflict:
    if not one.reason.elsewhere:
        return one
    return replace(one, reason=replace(one.reason, house=houses.get(one.other or 0, "")))


def _elsewhere(project_id: int, now: int, houses: dict[int, str]) -> list[Visit]:
    """What tells their crews apart is all that is asked of them: their hours are their own houses' matter. `houses`:
    their names, by the ids of the visits."""
    found, crews = rows(_ELSEWHERE, project_id, now, starts=minutes, ends=minutes), crew_rows.known()
    houses.update((row["id"], row.pop("house")) for row in found)
    return [Visit(**row, key=of_crew(row["crew"], crews, "UTC")[0]) for row in found]
