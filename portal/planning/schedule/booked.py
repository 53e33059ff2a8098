"""The schedule as booked: what the household is told.

The pure schedule says when each phase could start; a crew comes when it is booked. So, in the dates that people read, a
phase that has not begun starts with its next visit if it can, and what follows shifts with it. Floats, critical paths,
`needed_by` and `latest_by` stay those of the pure schedule: a visit that was booked late is slack, not necessity.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.passes import Dates, forward
from portal.planning.schedule.plan import Plan
from portal.planning.schedule.ready_times import ready_times


@lru_cache(maxsize=8)  # a page asks for it in several of its sections
def as_booked(pure: Schedule) -> Schedule:
    """Give the schedule of the same plan and moment, with booked visits kept where they can be. `pure`: as `schedule`
    gives it.

    It is the same object when no visit is later than what is possible.
    """
    booked = pure.plan.next_visits(pure.now)
    later = {phase: starts for phase, starts in booked.items() if starts > pure.of(phase).early_start}
    return schedule(_not_before(pure.plan, later), pure.now) if later else pure


def early_as_booked(plan: Plan, now: int) -> tuple[Plan, Dates]:
    """Give the plan with booked visits kept where they can be, and its early dates alone: what `as_booked` gives, at a
    third of the price, for whoever asks for the finish of many plans."""
    early = forward(plan, ready_times(plan, now))
    place = plan.network.position
    later = {
        phase: starts for phase, starts in plan.next_visits(now).items() if starts > early.starts_at(place[phase])
    }
    if not later:
        return plan, early
    booked = _not_before(plan, later)
    return booked, forward(booked, ready_times(booked, now))


def _not_before(plan: Plan, later: Mapping[int, int]) -> Plan:
    phases = tuple(
        replace(phase, not_before=max(later[phase.id], phase.not_before or 0)) if phase.id in later else phase
        for phase in plan.phases
    )
    return replace(plan, phases=phases)
