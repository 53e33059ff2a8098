"""What the finish waits for at a moment: where the longest chain to it begins. When the clock alone has moved the
finish, this is why."""

from collections.abc import Iterator
from dataclasses import dataclass

from portal.planning.schedule.passes import Dates, last_moment
from portal.planning.schedule.plan import INSPECTION, STOPPED, Phase, Plan
from portal.planning.schedule.ready_times import at_hand, held_until

NOT_ANSWERED = "not_answered"
NOT_COME = "not_come"
NOT_STARTED = "not_started"
TOOK_LONGER = "took_longer"
RESTED = "rested"
NOT_INSPECTED = "not_inspected"
PASSED = "passed"
"""None of the others: the clock alone."""


@dataclass(frozen=True, slots=True)
class Driver:
    """`did`: one of the words above. `about`: the number of the decision as text, the item, or the phase."""

    did: str
    about: tuple[str, ...] = ()


def driver(plan: Plan, early: Dates, now: int) -> Driver:
    """`plan`, `early`: as portal.planning.schedule.booked.early_as_booked gives them for the instant `now`."""
    phase = _first_of_longest(plan, early, now)
    if phase is None:
        return Driver(PASSED)
    if phase.begun:
        return Driver({STOPPED: RESTED, INSPECTION: NOT_INSPECTED}.get(phase.state, TOOK_LONGER), (phase.name,))
    work_before = plan.calendar.work_before
    latest = max([now, plan.starts, *filter(None, (phase.not_before, plan.resumes_at))], key=work_before)
    bounds = [(work_before(at), found) for at, found in _waits(plan, phase, now)]
    last = max((at for at, _ in bounds), default=-1)
    if bounds and last >= work_before(latest):
        return next(found for at, found in bounds if at == last)
    return Driver(NOT_STARTED, (phase.name,)) if work_before(now) >= work_before(latest) else Driver(PASSED)


def _waits(plan: Plan, phase: Phase, now: int) -> Iterator[tuple[int, Driver]]:
    """The instants before which others keep it from starting: answers first, then deliveries."""
    today = plan.calendar.day_of(now)
    held = held_until(plan, today)
    for decision in phase.holds:
        if decision in held:
            yield held[decision], Driver(NOT_ANSWERED, (f"{plan.open_decisions[decision].number}",))
    for delivery in plan.delivered_to.get(phase.id, ()):
        if delivery.arrived is None and delivery.likely <= today:
            yield at_hand(plan, delivery, today), Driver(NOT_COME, (delivery.item,))


def _first_of_longest(plan: Plan, early: Dates, now: int) -> Phase | None:
    """Back from the phase that is finished last, along the links that bind, to one that no link binds."""
    end = last_moment(plan, early, now)
    last = [at for at in range(len(plan.phases)) if early.finishes_at(at) == end]
    if not last:
        return None
    at = last[0]
    while binding := [before for before, wait in plan.predecessors[at] if _binds(plan, early, before, wait, at)]:
        at = binding[0]
    return plan.ordered[at]


def _binds(plan: Plan, early: Dates, before: int, wait: int, after: int) -> bool:
    if after in plan.by_clock:
        return early.finishes_at(before) + wait == early.moments[after]
    return early.after(before, wait) == early.start[after]
