"""Where the plan stands at `now`: from when each phase is free to go on, apart from what it follows."""

from dataclasses import dataclass
from datetime import date

from portal.planning.calendar import lead
from portal.planning.schedule.passes import Forward, forward
from portal.planning.schedule.plan import DONE, INSPECTION, STOPPED, Delivery, Phase, Plan


@dataclass(frozen=True, slots=True)
class Floors:
    """Floors of the passes, as work coordinates and as instants; the first is shared by all that have no own."""

    work: list[int]
    clock: dict[int, int]


def floors_at(plan: Plan, now: int) -> Floors:
    """Nothing that has not begun lies in the past; an open decision is reckoned with as if answered today."""
    today = plan.calendar.day_of(now) if plan.floored else None
    return _floors(plan, now, _latest(plan.starts, now, plan.resumes_at), today)


def floors_unhindered(plan: Plan, now: int) -> Floors:
    """As if every answer were there and no day had been lost yet by what has not begun."""
    return _floors(plan, now, _latest(plan.starts, plan.resumes_at), None)


def run(plan: Plan, floors: Floors) -> Forward:
    return forward(plan.rows.forward, floors.work, floors.clock, plan.calendar)


def _floors(plan: Plan, now: int, shared: int, today: date | None) -> Floors:
    """Without `today` no open decision holds anything, and no delivery is overdue."""
    calendar = plan.calendar
    allowed = answered_until(plan) | (held_until(plan, today) if today else {})
    work, clock = [calendar.work_before(shared)], {0: shared}
    for floor, position in enumerate(plan.floored, 1):
        phase = plan.ordered[position]
        if phase.begun and phase.state not in (DONE, INSPECTION):
            work.append(_work_to_go(plan, phase, now))
            clock[floor] = calendar.finish_of(work[floor])
        else:
            clock[floor] = _moment(plan, phase, now, shared, allowed, today or date.min)
            work.append(calendar.work_before(clock[floor]))
    return Floors(work, clock)


def _work_to_go(plan: Plan, phase: Phase, now: int) -> int:
    """Work coordinate of the finish of a phase that has been started.

    It has at least a minute to go: someone must still say that it is done.
    """
    goes_on = _latest(now, plan.resumes_at, phase.resumes_at if phase.state == STOPPED else None)
    return plan.calendar.work_before(goes_on) + max(1, remaining(plan, phase, now))


def remaining(plan: Plan, phase: Phase, now: int) -> int:
    """Work minutes left of a phase: as told, else what was expected less the working time since it was started."""
    if phase.remaining is not None:
        return phase.remaining
    return max(0, phase.expected - worked(plan, phase, now))


def worked(plan: Plan, phase: Phase, now: int) -> int:
    """Working minutes since a phase was started, up to the moment at which it was stopped, less those it rested."""
    assert phase.started is not None
    until = phase.stopped_at if phase.state == STOPPED and phase.stopped_at is not None else now
    return max(0, plan.calendar.count(phase.started, until) - phase.rested)


def _moment(plan: Plan, phase: Phase, now: int, shared: int, allowed: dict[int, int], today: date) -> int:
    if phase.state == DONE:
        return _latest(phase.finished)
    if phase.state == INSPECTION:
        return _latest(now, phase.inspection_at)
    moments = [shared, phase.not_before]
    moments += [at_hand(plan, delivery, today) for delivery in plan.delivered_to.get(phase.id, ())]
    moments += [allowed[decision] for decision in phase.holds if decision in allowed]
    return _latest(*moments)


def held_until(plan: Plan, today: date) -> dict[int, int]:
    """By open decision: when work that it holds may start, if it is answered today."""
    leads = {decision.lead_days for decision in plan.open_decisions.values()}
    by_lead = {days: allowed_from(plan, today, days) for days in leads}
    return {number: by_lead[decision.lead_days] for number, decision in plan.open_decisions.items()}


def answered_until(plan: Plan) -> dict[int, int]:
    """By decision that is answered: when its lead is over. What is ordered or cut after the answer takes as long,
    whether the answer has come or not."""
    return {
        number: allowed_from(plan, decision.answered, decision.lead_days)
        for number, decision in plan.answered.items() if decision.answered
    }


def allowed_from(plan: Plan, answered: date, lead_days: int) -> int:
    """The beginning of the first day on which held work may start, if answered on this day."""
    return plan.calendar.day_start(lead.allowed_day(plan.calendar, answered, lead_days))


def at_hand(plan: Plan, delivery: Delivery, today: date) -> int:
    """A delivery is at hand when the day on which it is expected has ended, or today when it is overdue; once it has
    arrived, from then on. (common practice)"""
    if delivery.arrived is not None:
        return delivery.arrived
    return plan.calendar.day_end(max(delivery.likely, today))


def _latest(*moments: int | None) -> int:
    return max(moment for moment in moments if moment is not None)
