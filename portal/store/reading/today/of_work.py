"""What somebody must say of the work: that it has begun, goes on, is finished, has passed."""

from collections.abc import Iterator
from datetime import date, timedelta

from portal.planning.day_list import Due
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.passes import forward
from portal.planning.schedule.plan import INSPECTION, STOPPED, UNDER_WAY
from portal.planning.schedule.ready_times import ready_times_unhindered
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.today.matters import FINISH, PASSED, RESUME, START, Matter

_A_DAY = timedelta(days=1)


def work_matters(snapshot: Snapshot, pure: Schedule, booked: Schedule) -> Iterator[Matter]:
    """One of each phase at most."""
    if not snapshot.phases:
        return
    early = forward(pure.plan, ready_times_unhindered(pure.plan, pure.now))
    visits = pure.plan.next_visits(pure.now)
    for phase in snapshot.phases:
        if phase.state == UNDER_WAY:
            yield _to_finish(snapshot, booked, phase)
        elif phase.state == INSPECTION and phase.inspection_at is not None:
            day = pure.plan.calendar.day_of(phase.inspection_at // 60)
            yield Matter(PASSED, f"{phase.id}", Due(day, day), _facts(snapshot, booked, phase))
        elif phase.state == STOPPED and phase.resumes_at is not None:
            day = pure.plan.calendar.day_of(phase.resumes_at // 60)
            yield Matter(RESUME, f"{phase.id}", Due(day, day), _facts(snapshot, booked, phase))
        elif phase.started_at is None and is_free(snapshot, phase, pure.now * 60):
            planned = visits.get(phase.id, early.starts_at(pure.plan.network.position[phase.id]))
            day = pure.plan.calendar.day_of(planned)
            yield Matter(START, f"{phase.id}", Due(day, day), _facts(snapshot, booked, phase))


def is_free(snapshot: Snapshot, phase: PhaseFact, now: int) -> bool:
    """Tell whether nothing stands before it any more: what it follows is finished and has rested, its answers are there
    and its deliveries have come. `now` in seconds."""
    if snapshot.holding(phase) or snapshot.unasked(phase):
        return False
    for before, wait in phase.after:
        finished = snapshot.phase(before).finished_at
        if finished is None or finished + wait * 60 > now:
            return False
    return all(one.arrived_at is not None for one in snapshot.deliveries if phase.id in one.phases)


def _to_finish(snapshot: Snapshot, booked: Schedule, phase: PhaseFact) -> Matter:
    """From the day on which it ends by the plan; late when a working day has gone by since its latest finish, by the
    longest that was expected of it. Of one whose rest was counted anew nobody knows what is longest."""
    calendar = booked.plan.calendar
    ends, latest = calendar.day_of(booked.of(phase.id).early_finish - 1), None
    if phase.remaining is None and phase.started_at is not None:
        longest = calendar.add(phase.started_at // 60, max(1, phase.work_high + phase.rested))
        latest = calendar.add_days(calendar.day_of(longest - 1), 1) - _A_DAY
    first = min(ends, latest) if latest else ends
    return Matter(FINISH, f"{phase.id}", Due(latest, first), {**_facts(snapshot, booked, phase), "ends": f"{ends}"})


def _facts(snapshot: Snapshot, booked: Schedule, phase: PhaseFact) -> dict[str, object]:
    """`then`: what follows it, and when that starts as booked."""
    calendar = booked.plan.calendar
    follow: list[tuple[date, str]] = [
        (calendar.day_of(booked.of(one.id).early_start), one.name) for one in snapshot.phases
        if one.started_at is None and any(before == phase.id for before, _ in one.after)
    ]
    follow.sort()
    return {
        "phase": phase.id, "name": phase.name, "crew": phase.crew,
        "then": [follow[0][1], f"{follow[0][0]}"] if follow else None,
    }
