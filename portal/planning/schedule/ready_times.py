"""Ready times: from when each phase is free to go on at `now`, apart from what it follows.

Ready time, or release date, is the word of scheduling theory (from memory); releasing a hold is something else.
"""

from dataclasses import dataclass
from datetime import date

from portal.planning.calendar import lead
from portal.planning.schedule.plan import DONE, INSPECTION, STOPPED, Delivery, Phase, Plan


@dataclass(frozen=True, slots=True)
class ReadyTimes:
    """By position: the instant from which a phase may start as far as it alone is concerned, as `moments`, and as work
    coordinates, `work`. Of one that has begun: when it is finished."""

    work: list[int]
    moments: list[int]


def ready_times(plan: Plan, now: int) -> ReadyTimes:
    """Compute the ready times at the instant `now`: nothing that has not begun lies in the past; an open decision is
    reckoned with as if answered today."""
    return _ready_times(plan, now, _latest(plan.starts, now, plan.resumes_at), plan.calendar.day_of(now))


def ready_times_unhindered(plan: Plan, now: int) -> ReadyTimes:
    """Compute the ready times as if every answer were there and no day had been lost yet by what has not begun."""
    return _ready_times(plan, now, _latest(plan.starts, plan.resumes_at), None)


def ready_times_if_answered(plan: Plan, ready: ReadyTimes, decision: int, on: date) -> ReadyTimes:
    """Give the ready times with the answer to one open decision on a day from today on. `ready`: those with an answer
    today."""
    morning = allowed_from(plan, on, plan.open_decisions[decision].lead_days)
    later = ReadyTimes(list(ready.work), list(ready.moments))
    for phase in plan.held[decision]:
        position = plan.network.position[phase.id]
        later.moments[position] = max(ready.moments[position], morning)
        later.work[position] = plan.calendar.work_before(later.moments[position])
    return later


def _ready_times(plan: Plan, now: int, earliest: int, today: date | None) -> ReadyTimes:
    """`earliest`: an instant that binds everything that has not begun. Without `today` no open decision holds anything,
    and no delivery is overdue."""
    allowed = lead_over(plan) | (held_until(plan, today) if today else {})
    moments = [
        _finish_of_begun(plan, phase, now) if phase.begun
        else _latest(*_bounds(plan, phase, earliest, allowed, today or date.min))
        for phase in plan.ordered
    ]
    return ReadyTimes([plan.calendar.work_before(moment) for moment in moments], moments)


def _finish_of_begun(plan: Plan, phase: Phase, now: int) -> int:
    """The instant at which a phase that has begun is finished.

    Under way, it has at least a minute to go: someone must still say that it is done.
    """
    if phase.state == DONE:
        return _latest(phase.finished)
    if phase.state == INSPECTION:
        return _latest(now, phase.inspection_at)
    goes_on = _latest(now, plan.resumes_at, phase.resumes_at if phase.state == STOPPED else None)
    return plan.calendar.add(goes_on, max(1, remaining_work(plan, phase, now)))


def remaining_work(plan: Plan, phase: Phase, now: int) -> int:
    """Give the work minutes left of a phase that has begun: as told, else what was expected less the working time since
    it was started."""
    if phase.remaining is not None:
        return phase.remaining
    return max(0, phase.expected - worked(plan, phase, now))


def worked(plan: Plan, phase: Phase, now: int) -> int:
    """Count the working minutes since a phase was started, up to the moment at which it was stopped, less those it
    rested."""
    assert phase.started is not None
    until = phase.stopped_at if phase.state == STOPPED and phase.stopped_at is not None else now
    return max(0, plan.calendar.count(phase.started, until) - phase.rested)


def _bounds(plan: Plan, phase: Phase, earliest: int, allowed: dict[int, int], today: date) -> list[int | None]:
    """The instants before which a phase that has not begun may not start."""
    deliveries = [at_hand(plan, delivery, today) for delivery in plan.delivered_to.get(phase.id, ())]
    return [earliest, phase.not_before, *deliveries, *(allowed.get(decision) for decision in phase.holds)]


def held_until(plan: Plan, today: date) -> dict[int, int]:
    """Give, by id of each open decision: the instant from which work that it holds may start, if it is answered
    today."""
    return {
        number: allowed_from(plan, today, decision.lead_days) for number, decision in plan.open_decisions.items()
    }


def lead_over(plan: Plan) -> dict[int, int]:
    """Give, by id of each decision that is answered: the instant at which its lead is over. What is ordered or cut
    after the answer takes as long, whether the answer has come or not."""
    return {
        number: allowed_from(plan, decision.answered, decision.lead_days)
        for number, decision in plan.answered.items() if decision.answered
    }


def allowed_from(plan: Plan, answered: date, lead_days: int) -> int:
    """Give the instant at which the first day begins on which held work may start, if answered on this day."""
    return plan.calendar.day_start(lead.allowed_day(plan.calendar, answered, lead_days))


def at_hand(plan: Plan, delivery: Delivery, today: date) -> int:
    """Give the instant at which a delivery is at hand: when the day on which it is expected has ended, or today when it
    is overdue; once it has arrived, from then on. (common practice)"""
    if delivery.arrived is not None:
        return delivery.arrived
    return plan.calendar.day_end(max(delivery.likely, today))


def _latest(*moments: int | None) -> int:
    return max(moment for moment in moments if moment is not None)
