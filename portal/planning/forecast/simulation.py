"""Thousands of futures of a plan at once, each by the rules of the schedule: working calendar, waits by the clock, open
decisions, deliveries, actuals and now.

The same forward pass as in `schedule.passes`, over rows of numbers instead of numbers: phase by phase it would take a
hundred times as long.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.work_table import Instants, WorkCoordinates
from portal.planning.forecast import samples
from portal.planning.forecast.distributions import BETA_PERT
from portal.planning.schedule.plan import Plan
from portal.planning.schedule.ready_times import ReadyTimes, ready_times, remaining_work


@dataclass(eq=False)
class Futures:
    """By position in the network, a row a phase and a column a future: `start`, `finish`, work coordinates. `moments`:
    instants of the phases by the clock, by position. `arrivals`: instants at which deliveries are at hand, by id.
    `ready`: the ready times with each delivery on its first possible day. `finishes`: the instant at which everything
    is finished, one a future."""

    plan: Plan
    now: int
    ready: ReadyTimes
    arrivals: dict[int, Instants]
    start: WorkCoordinates
    finish: WorkCoordinates
    moments: dict[int, Instants]
    finishes: Instants
    _waited: dict[tuple[int, int], WorkCoordinates] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """How many futures."""
        return len(self.finishes)

    def finishes_at(self, position: int) -> Instants:
        """Give the instants at which the phase in this position is finished, one a future."""
        moments = self.moments.get(position)
        return self.plan.calendar.finish_at(self.finish[position]) if moments is None else moments

    def after(self, position: int, wait: int) -> WorkCoordinates:
        """Give the work coordinates at which what follows a phase may start, `wait` clock minutes after its finish."""
        if not wait:
            done: WorkCoordinates = self.finish[position]
            return done
        # Kept, since the criticality asks for each a second time: it is most of what a forecast takes.
        over = self._waited.get((position, wait))
        if over is None:
            over = self._waited[position, wait] = self.plan.calendar.work_at(self.finishes_at(position) + wait)
        return over

    def deliveries_of(self, position: int) -> Iterator[tuple[int, Instants]]:
        """Give the deliveries to come that a phase waits for: id, and instants at which each is at hand, one a
        future."""
        for delivery in self.plan.delivered_to.get(self.plan.ordered[position].id, ()):
            if delivery.id in self.arrivals:
                yield delivery.id, self.arrivals[delivery.id]


def simulate(plan: Plan, now: int, count: int = 10_000, shape: str = BETA_PERT) -> Futures:
    """Draw `count` futures of the plan as it stands at the instant `now`; `shape`: one of distributions.SHAPES.

    Raises LoopError, UnknownPredecessor, CalendarError as the schedule does; ValueError for a wrong count or shape.
    """
    if count < 1:
        raise ValueError("count: give at least one future")
    work, arrivals = samples.draw_work(plan, now, count, shape), samples.draw_arrivals(plan, now, count, shape)
    return simulate_with(plan, now, work, arrivals)


def simulate_with(plan: Plan, now: int, work: NDArray[np.int64], arrivals: dict[int, Instants]) -> Futures:
    """Give the futures in which the work takes so long, and the deliveries arrive then: both as `samples` draws them.
    The rows of `work` are used up: they become `finish`."""
    ready = ready_times(samples.soonest_deliveries(plan), now)
    nothing_to_do = np.full(work.shape[1], max(plan.starts, now), np.int64)
    futures = Futures(plan, now, ready, arrivals, np.empty_like(work), work, {}, nothing_to_do)
    for position in range(len(plan.phases)):
        if position in plan.by_clock:
            moments = futures.moments[position] = _moments(futures, position)
            futures.start[position] = futures.finish[position] = plan.calendar.work_at(moments)
        else:
            futures.start[position] = _start(futures, position)
            futures.finish[position] += futures.start[position]
    if plan.phases:
        crews = plan.calendar.finish_at(futures.finish.max(axis=0))
        futures.finishes = np.maximum.reduce([crews, *futures.moments.values()])
    return futures


def _start(futures: Futures, position: int) -> WorkCoordinates:
    """The start of a phase in crew hours: the latest of its ready time and all that it waits for."""
    plan, ready = futures.plan, futures.ready.work[position]
    phase = plan.ordered[position]
    if phase.begun:  # its ready time is when it would be finished by the schedule
        return np.full(futures.count, ready - max(1, remaining_work(plan, phase, futures.now)), np.int64)
    bounds = [futures.after(before, wait) for before, wait in plan.predecessors[position]]
    bounds += [plan.calendar.work_at(instants) for _, instants in futures.deliveries_of(position)]
    return _latest(futures, ready, bounds)


def _moments(futures: Futures, position: int) -> Instants:
    """The instants of a phase by the clock."""
    bounds = [futures.finishes_at(before) + wait for before, wait in futures.plan.predecessors[position]]
    if not futures.plan.ordered[position].begun:
        bounds += [instants for _, instants in futures.deliveries_of(position)]
    return _latest(futures, futures.ready.moments[position], bounds)


def _latest(futures: Futures, ready: int, bounds: list[NDArray[np.int64]]) -> NDArray[np.int64]:
    latest = np.full(futures.count, ready, np.int64)
    for bound in bounds:
        np.maximum(latest, bound, out=latest)
    return latest
