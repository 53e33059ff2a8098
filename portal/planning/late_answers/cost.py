"""What an answer costs from today on, in days of the finish: how long it costs none, and what each day after does."""

from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from portal.planning.late_answers.curve import LateAnswers
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.passes import forward, last_moment
from portal.planning.schedule.plan import Plan
from portal.planning.schedule.ready_times import ready_times

BY_ONE = "by one"
"""Each working day of waiting moves the finish by one working day."""
ON = "on"
"""Each moves it, some by more than one."""
SOME = "some"
"""Some do, some don't."""


@dataclass(frozen=True, slots=True)
class AnswerCost:
    """Of one decision (its id). `keeps`: the last day of an answer that leaves the finish on the day that it has with
    an answer today, None where no later day of the curve moves it. `first`: the first day that an answer can count
    from: today, or the next working day. `finish`, and `moved`: the days of the finish with an answer on `keeps`, and
    one working day later. `onward`: what each working day after `keeps` does, BY_ONE, ON or SOME. `lost`: calendar days
    that the finish would come earlier if it had been answered in time."""

    decision: int
    first: date
    keeps: date | None
    finish: date
    moved: date
    onward: str
    lost: int


def cost_of(curve: LateAnswers, booked: Schedule, overdue: bool) -> AnswerCost:
    """`booked`: the schedule that the curve is of. `overdue`: the answer is late; one that is not has cost nothing."""
    plan = booked.plan
    days = [(on, plan.calendar.day_of(finish - 1)) for on, finish in curve.pairs]
    first, finish = days[0]
    step = next((at for at, (_, day) in enumerate(days) if day > finish), None)
    lost = (finish - _without(booked, curve.decision)).days if overdue else 0
    if step is None:
        return AnswerCost(curve.decision, first, None, finish, finish, SOME, lost)
    onward = _onward(plan, [day for _, day in days[step - 1:]])
    return AnswerCost(curve.decision, first, days[step - 1][0], finish, days[step][1], onward, lost)


def _onward(plan: Plan, finishes: list[date]) -> str:
    steps = list(pairwise(finishes))
    if all(plan.calendar.add_days(one, 1) == two for one, two in steps):
        return BY_ONE
    return ON if all(one < two for one, two in steps) else SOME


def _without(booked: Schedule, decision: int) -> date:
    """The day of the finish if the decision held nothing from today on."""
    answered = tuple(
        replace(one, open=False, answered=None) if one.id == decision else one for one in booked.plan.decisions
    )
    plan = replace(booked.plan, decisions=answered)
    early = forward(plan, ready_times(plan, booked.now))
    return plan.calendar.day_of(last_moment(plan, early, booked.now) - 1)
