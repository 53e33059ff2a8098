"""When a house's plan has crews at work, day by day, and which of its visits can't be kept: kept with its page, so that
the week over all houses is only looked up.

It is true of one change of the house and of one day of it: within a day, what should have begun and has not moves on by
hours, which a week is not read for. What is not kept, or is of another day, is computed when it is asked for.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from portal.planning.conflicts.crew_days import PLANNED, RUNNING
from portal.planning.conflicts.unkept_visits import CREW_TWICE, own_conflicts
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import INSPECTION, STOPPED, UNDER_WAY, Phase
from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_date, first_row
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot

HELD, UNKEPT = "held", "unkept"
DAYS_AHEAD = 70
"""Days from today for which planned work is told; visits are told however far they are."""

_KEPT = "SELECT changed, day FROM planned_work WHERE project_id = ?"
_KEEP = """INSERT INTO planned_work (project_id, changed, day, work, visits) VALUES (?, ?, ?, ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, day = excluded.day, work = excluded.work,
    visits = excluded.visits WHERE excluded.changed >= planned_work.changed"""


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """`work`: [phase, crew, name, kind, held, [[starts, ends], ...]], instants by day; `visits`: [visit, HELD or
    UNKEPT, held] of each that does not simply come. `held`: [numbers of decisions, questions still to be asked] for
    which the phase may not start; empty where it may."""

    project: int
    changed: int
    day: date
    work: list[list[Any]]
    visits: list[list[Any]]


def work_of(snapshot: Snapshot, pure: Schedule) -> PlannedWork:
    """`pure`: the schedule of the snapshot, not as booked."""
    booked = as_booked(pure)
    held = _held(snapshot)
    work = [[phase.id, phase.crew, phase.name, RUNNING if phase.state == UNDER_WAY else PLANNED,
             held.get(phase.id, []), days]
            for phase in booked.plan.phases if phase.crew and (days := list(_days(booked, phase)))]
    phases = {visit.id: visit.phase_id for visit in snapshot.visits}
    visits = [[visit, how, held.get(phases[visit] or 0, [])] for visit, how in _standing(snapshot, booked).items()]
    today = booked.plan.calendar.day_of(booked.now)
    return PlannedWork(snapshot.project.id, snapshot.project.changed, today, work, visits)


def anew(snapshot: Snapshot, pure: Schedule) -> PlannedWork | None:
    """What is to be kept with the page that is published; None where it is kept."""
    kept = first_row(_KEPT, snapshot.project.id, day=as_date)
    today = pure.plan.calendar.day_of(pure.now)
    return None if kept == {"changed": snapshot.project.changed, "day": today} else work_of(snapshot, pure)


def keep(found: PlannedWork) -> None:
    """Unless that of a later change is kept already."""
    with write():
        texts = json.dumps(found.work), json.dumps(found.visits)
        execute(_KEEP, found.project, found.changed, found.day.isoformat(), *texts)


def computed(project_id: int, now: int) -> PlannedWork:
    snapshot = read_snapshot(project_id)
    return work_of(snapshot, schedule_of(snapshot, now))


def _days(booked: Schedule, phase: Phase) -> Iterator[list[int]]:
    """The hours of each day on which the crew is at work by the plan, from now on."""
    if phase.finished is not None or phase.state in (INSPECTION, STOPPED):
        return
    calendar, dates = booked.plan.calendar, booked.of(phase.id)
    begins, ends = max(dates.early_start, booked.now), dates.early_finish
    day = calendar.day_of(begins)
    last = min(calendar.day_of(ends), calendar.day_of(booked.now) + timedelta(days=DAYS_AHEAD))
    while day <= last:
        inside = [(max(a, begins), min(b, ends)) for a, b in calendar.periods_on(day)]
        worked = [(a, b) for a, b in inside if a < b]
        if worked:
            yield [worked[0][0], worked[-1][1]]
        day += timedelta(days=1)


def _held(snapshot: Snapshot) -> dict[int, list[Any]]:
    """By phase that may not start yet, as everywhere else: an answer is missing, or our own question."""
    found = {phase.id: [[one.number for one in snapshot.holding(phase)], [one.question for one in
                        snapshot.unasked(phase)]] for phase in snapshot.phases}
    return {phase: why for phase, why in found.items() if any(why)}


def _standing(snapshot: Snapshot, booked: Schedule) -> dict[int, str]:
    """By visit: that it can't be kept, else that its phase still waits for an answer. A crew that comes twice is shown
    twice."""
    held = _held(snapshot)
    found = {visit.id: HELD for visit in snapshot.visits if visit.phase_id in held}
    return found | {one.visit: UNKEPT for one in own_conflicts(booked) if one.kind != CREW_TWICE}
