"""What the futures of a plan draw: work of its phases and dates of its deliveries, in whole minutes.

Draws are independent from phase to phase. What slows everything at once (a sick crew, a hard winter) is not in them.
Each phase draws from a seed of its own, made from its id and its times: the same state gives the same futures, and a
change moves only what it touches, not the luck of all the rest.
"""

from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.work_table import Instants
from portal.planning.forecast.distributions import draw, seed_of
from portal.planning.schedule.plan import Phase, Plan
from portal.planning.schedule.ready_times import remaining_work, worked


def draw_work(plan: Plan, now: int, count: int, shape: str) -> NDArray[np.int64]:
    """Give the work minutes left, a row a phase in the order of the network, a column a future; 0 for what happens by
    the clock. `shape`: one of distributions.SHAPES. Raises ValueError for another."""
    rows = np.zeros((len(plan.phases), count), np.int64)
    for position, phase in enumerate(plan.ordered):
        if position not in plan.by_clock:
            rows[position] = _left(plan, phase, now, count, shape) if phase.begun else _work(phase, count, shape) + 0.5
    return rows


def draw_arrivals(plan: Plan, now: int, count: int, shape: str) -> dict[int, Instants]:
    """Give the instants at which each delivery that is still to come is at hand, by its id, one a future: at the end of
    the day it comes, which is today at the earliest. A delivery that no phase waits for is left out."""
    today = plan.calendar.day_of(now).toordinal()
    drawn = {}
    for delivery in plan.deliveries:
        if delivery.arrived is None and delivery.phases:
            points = (delivery.low.toordinal(), delivery.likely.toordinal(), delivery.high.toordinal())
            days = np.rint(draw(points, count, seed_of("delivery", delivery.id, points), shape)).astype(np.int64)
            days = np.maximum(days, today)
            first = int(days.min())
            ends = [plan.calendar.day_end(date.fromordinal(day)) for day in range(first, int(days.max()) + 1)]
            drawn[delivery.id] = np.array(ends, np.int64)[days - first]
    return drawn


def soonest_deliveries(plan: Plan) -> Plan:
    """Give the plan with every delivery on its first possible day: what no future comes before."""
    if all(one.arrived is not None or one.low == one.likely for one in plan.deliveries):
        return plan
    return replace(plan, deliveries=tuple(replace(one, likely=one.low) for one in plan.deliveries))


def _work(phase: Phase, count: int, shape: str) -> NDArray[np.float64]:
    points = (phase.low, phase.likely, phase.high)
    return draw(points, count, seed_of(phase.id, points), shape)


def _left(plan: Plan, phase: Phase, now: int, count: int, shape: str) -> NDArray[np.float64]:
    """Work minutes left of a phase under way: as told, and as uncertain as its plan was; else what it takes, knowing
    that it has already taken this long. At least a minute: someone must still say that it is done."""
    left: NDArray[np.float64]
    if phase.remaining is not None:
        scale = phase.remaining / phase.expected if phase.expected else 0.0
        left = _work(phase, count, shape) * scale if scale else np.full(count, float(phase.remaining))
    elif phase.low == phase.high:
        left = np.full(count, float(remaining_work(plan, phase, now)))
    else:
        left = _longer_than(_work(phase, count, shape), worked(plan, phase, now))
    return np.maximum(1, np.rint(left))


def _longer_than(work: NDArray[np.float64], done: int) -> NDArray[np.float64]:
    """What is left where the work takes longer than what is done; shorter draws are out of the question by now."""
    longer = work[work > done]
    return np.resize(longer, len(work)) - done if len(longer) else np.zeros(len(work))
