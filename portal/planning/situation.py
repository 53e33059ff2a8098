"""Where the plan stands at `now`: from when each phase is free to go on, apart from what it follows."""

from dataclasses import dataclass
from datetime import date

from portal.planning import lead
from portal.planning.plan import DONE, INSPECTION, STOPPED, Delivery, Phase, Plan
from portal.planning.sweep import Forward, forward


@dataclass(frozen=True, slots=True)
class Floors:
    """Floors of the passes, as work coordinates and as instants; the first is shared by all that have no own."""

    work: list[int]
    clock: dict[int, int]


def floors_at(plan: Plan, now: int) -> Floors:
    """Nothing that has not begun lies in the past; an open decision is reckoned with as if answered today."""
    return _floors(plan, now, _latest(plan.starts, now, plan.resumes_at), holds=True)


def floors_unhindered(plan: Plan, now: int) -> Floors:
    """As if every answer were there and no day had been lost yet by what has not begun."""
    return _floors(plan, now, _latest(plan.starts, plan.resumes_at), holds=False)


def run(plan: Plan, floors: Floors) -> Forward:
    return forward(plan.rows.forward, floors.work, floors.clock, plan.calendar)


def _floors(plan: Plan, now: int, shared: int, holds: bool) -> Floors:
    calendar = plan.calendar
    work, clock = [calendar.work_before(shared)], {0: shared}
    for floor, position in enumerate(plan.floored, 1):
        phase = plan.ordered[position]
        if phase.begun and phase.state not in (DONE, INSPECTION):
            work.append(_work_to_go(plan, phase, now))
            clock[floor] = calendar.finish_of(work[floor])
        else:
            clock[floor] = _moment(plan, phase, now, shared, holds)
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
    assert phase.started is not None
    until = phase.stopped_at if phase.state == STOPPED and phase.stopped_at is not None else now
    return max(0, phase.expected - max(0, plan.calendar.count(phase.started, until)))


def _moment(plan: Plan, phase: Phase, now: int, shared: int, holds: bool) -> int:
    if phase.state == DONE:
        return _latest(phase.finished)
    if phase.state == INSPECTION:
        return _latest(now, phase.inspection_at)
    today = plan.calendar.day_of(now)
    moments = [shared, phase.not_before]
    expected_from = now if holds else plan.starts
    moments += [at_hand(plan, delivery, expected_from) for delivery in plan.delivered_to.get(phase.id, ())]
    if holds:
        moments += [allowed_from(plan, today, decision) for decision in open_holds(plan, phase)]
    return _latest(*moments)


def at_hand(plan: Plan, delivery: Delivery, now: int) -> int:
    """A delivery is at hand when the day on which it is expected has ended, or today when it is overdue; once it has
    arrived, from then on. (common practice)"""
    if delivery.arrived is not None:
        return delivery.arrived
    return plan.calendar.day_end(max(delivery.likely, plan.calendar.day_of(now)))


def allowed_from(plan: Plan, answered: date, decision: int) -> int:
    """The beginning of the first day on which work that the decision holds may start, if answered on this day."""
    lead_days = plan.open_decisions[decision].lead_days
    return plan.calendar.day_start(lead.allowed_day(plan.calendar, answered, lead_days))


def open_holds(plan: Plan, phase: Phase) -> list[int]:
    return [decision for decision in phase.holds if decision in plan.open_decisions]


def _latest(*moments: int | None) -> int:
    return max(moment for moment in moments if moment is not None)
