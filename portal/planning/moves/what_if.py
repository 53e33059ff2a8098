"""The day of the finish if a phase stood otherwise: what a tap would do, said before it is done."""

from dataclasses import replace
from datetime import date
from typing import NamedTuple

from portal.planning.moves.replay import done_day
from portal.planning.schedule.plan import DONE, UNDER_WAY, WAITING, Phase, Plan


class FinishDays(NamedTuple):
    """The day of the finish of the plan as booked as it stands, and as it would be; None where none can be computed."""

    stands: date | None
    would_be: date | None


def if_started(plan: Plan, phase: int, at: int, now: int) -> FinishDays:
    """`phase`: its id; `at`, `now`: instants."""
    return _days(plan, replace(plan.by_id[phase], state=UNDER_WAY, started=at), now)


def if_finished(plan: Plan, phase: int, at: int, now: int) -> FinishDays:
    """The same of a phase that has begun, finished at `at`."""
    one = plan.by_id[phase]
    return _days(plan, replace(one, state=DONE, finished=max(at, one.started or at), remaining=None), now)


def if_not_started(plan: Plan, phase: int, now: int) -> FinishDays:
    """Neither a rest nor what was left of it counts any more."""
    one = replace(plan.by_id[phase], state=WAITING, started=None, finished=None, remaining=None)
    return _days(plan, replace(one, stopped_at=None, resumes_at=None, inspection_at=None, rested=0), now)


def if_not_finished(plan: Plan, phase: int, now: int) -> FinishDays:
    """It goes on, with what its hours leave."""
    return _days(plan, replace(plan.by_id[phase], state=UNDER_WAY, finished=None, remaining=None), now)


def if_not_come(plan: Plan, delivery: int, now: int) -> FinishDays:
    """`delivery`: its id."""
    changed = tuple(replace(one, arrived=None) if one.id == delivery else one for one in plan.deliveries)
    return FinishDays(done_day(plan, now), done_day(replace(plan, deliveries=changed), now))


def _days(plan: Plan, changed: Phase, now: int) -> FinishDays:
    phases = tuple(changed if one.id == changed.id else one for one in plan.phases)
    return FinishDays(done_day(plan, now), done_day(replace(plan, phases=phases), now))
