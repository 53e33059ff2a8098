"""Booked visits against what is possible: which can't be kept, why, and the first time that works."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from portal.planning.conflicts.bookings import first_free_time, overlap, same_crew, within_hours
from portal.planning.conflicts.obstacles import Reason, longest_obstacle
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Visit

DAY_OFF = "day_off"
OUT_OF_HOURS = "out_of_hours"
CREW_TWICE = "crew_twice"
CREW_OFF = "crew_off"
CREW_HOURS = "crew_hours"


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why a visit (its id) can't be kept. `kind`: DAY_OFF, OUT_OF_HOURS, CREW_OFF, CREW_HOURS, CREW_TWICE, or that of
    the obstacle; the `reason` has the facts. `first_that_works`: an instant that suits all of the visit's conflicts at
    once, None when nothing was found. `other`: the other visit, when a crew is booked twice."""

    visit: int
    kind: str
    reason: Reason
    first_that_works: int | None
    other: int | None = None


def conflicts(schedule: Schedule, elsewhere: Iterable[Visit] = ()) -> list[Conflict]:
    """Find the conflicts of the plan's visits that are not over, in the order of their time.

    `elsewhere`: visits of other projects, looked at for crews that are booked twice.
    """
    plan = schedule.plan
    booked = [visit for visit in (*plan.visits, *elsewhere) if visit.ends > schedule.now]
    found: list[Conflict] = []
    for visit in sorted(plan.visits, key=lambda visit: (visit.starts, visit.id)):
        if visit.ends > schedule.now:
            found += _conflicts_of(schedule, visit, booked)
    return found


@lru_cache(maxsize=8)  # several sections of a page ask for them
def own_conflicts(schedule: Schedule) -> tuple[Conflict, ...]:
    """Find the conflicts of the plan's visits, other projects left aside: what the household is told."""
    return tuple(conflicts(schedule))


def _conflicts_of(schedule: Schedule, visit: Visit, booked: Sequence[Visit]) -> list[Conflict]:
    reasons = [*_too_soon(schedule, visit), *_hours(schedule, visit)]
    reasons += [(CREW_TWICE, _twice(schedule, visit, other), other.id) for other in _clashes(visit, booked)]
    if not reasons:
        return []
    earliest = max(visit.starts, schedule.now)
    if visit.phase is not None:
        earliest = max(earliest, schedule.of(visit.phase).early_start)
    first = first_free_time(schedule.plan.calendar, visit, earliest, booked)
    return [Conflict(visit.id, kind, reason, first, other) for kind, reason, other in reasons]


_Found = tuple[str, Reason, int | None]
"""Kind, reason, and the other visit where a crew is booked twice."""


def _too_soon(schedule: Schedule, visit: Visit) -> list[_Found]:
    if visit.phase is None or schedule.plan.by_id[visit.phase].begun:
        return []
    comes = max(visit.starts, schedule.now)
    if comes >= schedule.of(visit.phase).early_start:
        return []
    found = longest_obstacle(schedule, visit.phase, comes)
    return [(found.kind, found.reason, None)] if found else []


def _hours(schedule: Schedule, visit: Visit) -> list[_Found]:
    calendar = schedule.plan.calendar
    starts = calendar.moment(visit.starts)
    if not calendar.is_working_day(starts.date()):
        return [(DAY_OFF, Reason(DAY_OFF, starts), None)]
    if not within_hours(calendar, visit.starts, visit.ends):
        return [(OUT_OF_HOURS, Reason(OUT_OF_HOURS, starts), None)]
    if visit.hours is not None and not visit.hours.is_working_day(starts.date()):
        return [(CREW_OFF, Reason(CREW_OFF, starts, visit.crew), None)]
    if visit.hours is not None and not within_hours(visit.hours, visit.starts, visit.ends):
        return [(CREW_HOURS, Reason(CREW_HOURS, starts, visit.crew), None)]
    return []


def _clashes(visit: Visit, booked: Sequence[Visit]) -> list[Visit]:
    """Of two visits of the same project the later one is told; of another project's, always this one."""
    return [
        other for other in booked
        if same_crew(visit, other) and overlap(visit, other)
        and (other.project != visit.project or (other.starts, other.id) < (visit.starts, visit.id))
    ]


def _twice(schedule: Schedule, visit: Visit, other: Visit) -> Reason:
    moment = schedule.plan.calendar.moment
    elsewhere = other.project != visit.project
    return Reason(CREW_TWICE, moment(visit.starts), visit.crew, 0, moment(other.starts), elsewhere)
