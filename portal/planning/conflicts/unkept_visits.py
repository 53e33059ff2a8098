"""Booked visits against what is possible: which can't be kept, why, and the first time that works."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from portal.planning.conflicts.bookings import first_free_time, overlap, same_crew, within_hours
from portal.planning.conflicts.obstacles import longest_obstacle
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Visit
from portal.words.dates import day_words, moment_words

DAY_OFF = "day_off"
OUT_OF_HOURS = "out_of_hours"
CREW_TWICE = "crew_twice"


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why a visit (its id) can't be kept. `kind`: DAY_OFF, OUT_OF_HOURS, CREW_TWICE, or that of the obstacle; `words`
    say it in a sentence or two. `first_that_works`: an instant that suits all of the visit's conflicts at once, None
    when nothing was found. `other`: the other visit, when a crew is booked twice."""

    visit: int
    kind: str
    words: str
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


def _conflicts_of(schedule: Schedule, visit: Visit, booked: Sequence[Visit]) -> list[Conflict]:
    reasons = [*_too_soon(schedule, visit), *_hours(schedule, visit)]
    reasons += [_Reason(CREW_TWICE, _twice(schedule, visit, other), other.id) for other in _clashes(visit, booked)]
    if not reasons:
        return []
    earliest = max(visit.starts, schedule.now)
    if visit.phase is not None:
        earliest = max(earliest, schedule.of(visit.phase).early_start)
    first = first_free_time(schedule.plan.calendar, visit, earliest, booked)
    return [Conflict(visit.id, one.kind, one.words, first, one.other) for one in reasons]


class _Reason(NamedTuple):
    kind: str
    words: str
    other: int | None = None


def _too_soon(schedule: Schedule, visit: Visit) -> list[_Reason]:
    if visit.phase is None or schedule.plan.by_id[visit.phase].begun:
        return []
    comes = max(visit.starts, schedule.now)
    if comes >= schedule.of(visit.phase).early_start:
        return []
    found = longest_obstacle(schedule, visit.phase, comes)
    return [_Reason(found.kind, found.words)] if found else []


def _hours(schedule: Schedule, visit: Visit) -> list[_Reason]:
    calendar = schedule.plan.calendar
    day = calendar.day_of(visit.starts)
    if not calendar.is_working_day(day):
        return [_Reason(DAY_OFF, f"{day_words(day)} is a day off.")]
    if not within_hours(calendar, visit.starts, visit.ends):
        return [_Reason(OUT_OF_HOURS, f"The visit on {day_words(day)} is not within working hours.")]
    return []


def _clashes(visit: Visit, booked: Sequence[Visit]) -> list[Visit]:
    """Of two visits of the same project the later one is told; of another project's, always this one."""
    return [
        other for other in booked
        if same_crew(visit, other) and overlap(visit, other)
        and (other.project != visit.project or (other.starts, other.id) < (visit.starts, visit.id))
    ]


def _twice(schedule: Schedule, visit: Visit, other: Visit) -> str:
    calendar = schedule.plan.calendar
    where = "here" if other.project == visit.project else "at another house"
    mine, theirs = (moment_words(calendar.moment(one.starts)) for one in (visit, other))
    return f"{visit.crew} would be at two places at once: this visit is {mine}, another {where} {theirs}."
