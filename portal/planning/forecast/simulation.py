"""Thousands of futures of a plan at once, each by the rules of the schedule: working calendar, waits by the clock, open
decisions, deliveries, actuals and now."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.minute_table import Minutes, Row
from portal.planning.forecast import samples
from portal.planning.forecast.distributions import BETA_PERT
from portal.planning.forecast.samples import Matrix
from portal.planning.schedule.plan import Plan
from portal.planning.schedule.ready_times import Floors, floors_at, remaining


@dataclass(eq=False)
class Futures:
    """By position in the network: `start`, `finish` in work minutes (a row a phase, a column a future).

    `clock`: clock minutes of phases that happen at a moment rather than in crew hours. `arrivals`: instants at which
    deliveries are at hand, by id. `end`: clock minutes at which everything is finished, `crew_end`: work minutes at
    which the crews are.
    """

    plan: Plan
    now: int
    minutes: Minutes
    floors: Floors
    arrivals: dict[int, NDArray[np.int64]]
    start: Matrix
    finish: Matrix
    clock: dict[int, Row]
    crew_end: Row
    end: Row

    @property
    def count(self) -> int:
        return len(self.end)

    @property
    def last(self) -> list[int]:
        """Positions of the phases that nobody waits for."""
        ordered = self.plan.ordered
        return [i for i, after in enumerate(self.plan.network.after) if all(ordered[j].begun for j, _ in after)]

    @property
    def finishes(self) -> NDArray[np.int64]:
        """Instants at which everything is finished, one a future."""
        return self.minutes.instants(self.end)

    def of(self, phase: int) -> NDArray[np.int64]:
        """Instants at which a phase (by id) is finished."""
        return self.minutes.instants(self.moments(self.plan.network.position[phase]))

    def moments(self, position: int) -> Row:
        """Clock minutes at which a phase is finished."""
        clock = self.clock.get(position)
        return self.minutes.clock(self.finish[position]) if clock is None else clock

    def over(self, position: int, wait: int) -> Row:
        """Work minutes done when the wait after a phase is over."""
        clock = self.clock.get(position)
        if clock is not None:
            return self.minutes.work(clock + np.int32(wait)) if wait else self.finish[position]
        return self.minutes.after_wait(self.finish[position], wait) if wait else self.finish[position]

    def deliveries(self, position: int) -> Iterator[tuple[int, NDArray[np.int64]]]:
        """Deliveries to come that a phase waits for: id and instants."""
        for delivery in self.plan.delivered_to.get(self.plan.ordered[position].id, ()):
            if delivery.id in self.arrivals:
                yield delivery.id, self.arrivals[delivery.id]


def simulate(plan: Plan, now: int, count: int = 10_000, shape: str = BETA_PERT) -> Futures:
    """All futures of the plan as it stands at `now`.

    Raises LoopError, UnknownPredecessor, CalendarError as the schedule does; ValueError for a wrong count or shape.
    """
    if count < 1:
        raise ValueError("count: give at least one future")
    return play(plan, now, samples.work_rows(plan, now, count, shape), samples.arrivals(plan, now, count, shape))


def play(plan: Plan, now: int, work: Matrix, arrivals: dict[int, NDArray[np.int64]]) -> Futures:
    """The futures in which the work takes so long, and the deliveries arrive then: both as `draws` draws them. The
    rows of `work` are used up."""
    floors = floors_at(samples.soonest_deliveries(plan), now)
    minutes = Minutes(plan.calendar, min(floors.work))
    ends = np.zeros((2, work.shape[1]), np.int32)
    found = Futures(plan, now, minutes, floors, arrivals, np.empty_like(work), work, {}, *ends)
    own = {position: floor for floor, position in enumerate(plan.floored, 1)}
    clocked = set(plan.rows.clocked)
    for position in range(len(plan.phases)):
        _settle(found, position, own.get(position, 0), position in clocked)
    _end(found)
    return found


def _settle(found: Futures, position: int, floor: int, clocked: bool) -> None:
    """One phase in all futures. Its row of `finish` still holds its work."""
    if clocked:
        found.clock[position] = moments = _moments(found, position, floor)
        found.start[position] = found.finish[position] = found.minutes.work(moments)
        return
    phase = found.plan.ordered[position]
    start, finish = found.start[position], found.finish[position]
    bound = found.floors.work[floor] - found.minutes.first
    if phase.begun:  # its floor is where it would be finished by the schedule
        start.fill(bound - max(1, remaining(found.plan, phase, found.now)))
    else:
        _bind(found, position, bound, start)
    finish += start


def _bind(found: Futures, position: int, floor: int, start: Row) -> None:
    """The start of a phase: the latest of its floor and all that it waits for."""
    bounds = [found.over(before, wait) for before, wait in found.plan.network.before[position]]
    if bounds:
        np.maximum(bounds[0], floor, out=start)
    else:
        start.fill(floor)
    for bound in bounds[1:]:
        np.maximum(start, bound, out=start)
    for _, instants in found.deliveries(position):
        work = found.plan.calendar.work_at(instants) - found.minutes.first
        np.maximum(start, work.astype(np.int32), out=start)


def _moments(found: Futures, position: int, floor: int) -> Row:
    """Clock minutes of a phase that happens at a moment."""
    clock = np.full(found.count, found.floors.clock[floor] - found.minutes.begin, np.int32)
    if not found.plan.ordered[position].begun:
        for before, wait in found.plan.network.before[position]:
            np.maximum(clock, found.moments(before) + np.int32(wait), out=clock)
        for _, instants in found.deliveries(position):
            np.maximum(clock, (instants - found.minutes.begin).astype(np.int32), out=clock)
    return clock


def _end(found: Futures) -> None:
    for position in found.last:
        if position not in found.clock:
            np.maximum(found.crew_end, found.finish[position], out=found.crew_end)
    if found.plan.phases:
        found.end = found.minutes.clock(found.crew_end)
    else:
        found.end += max(found.plan.starts, found.now) - found.minutes.begin
    for clock in found.clock.values():
        np.maximum(found.end, clock, out=found.end)
