"""Later starts carried through the phases that follow, exactly, over waits by the clock: many days at once."""

from collections.abc import Collection, Sequence
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.work_table import Instants, WorkCoordinates
from portal.planning.schedule.critical_path import Schedule


def delayed_finishes(schedule: Schedule, held: Collection[int], allowed: Instants) -> Instants:
    """Give the instant of the finish for each of the instants `allowed` before which the phases in `held` (positions)
    may not start. Both in one dimension, of the same length.

    Only what a delay reaches is computed, one phase after another, all days at a time: for 200 phases and 20 days as
    long as one schedule takes, where running the schedule again for each day takes twenty.
    """
    carrier = _Carrier(schedule, held, allowed)
    for position in range(min(held), len(schedule.phases)):
        carrier.carry(position)
    return carrier.ends()


class _Carrier:
    """`finish`: work coordinates of the delayed phases by position, one for each day; `moments`: instants of those by
    the clock. What is not there keeps its early dates."""

    def __init__(self, schedule: Schedule, held: Collection[int], allowed: Instants) -> None:
        self.plan, self.early, self.calendar = schedule.plan, schedule.early, schedule.plan.calendar
        self.held, self.allowed = held, allowed
        self.end = schedule.finish
        self.finish: dict[int, WorkCoordinates] = {}
        self.moments: dict[int, Instants] = {}

    def carry(self, position: int) -> None:
        """Delay a phase as far as those delay it that it follows, and as it is held itself."""
        links = [(j, wait) for j, wait in self.plan.predecessors[position] if j in self.finish]
        if not links and position not in self.held:
            return
        if position in self.plan.by_clock:
            bounds = [self._finishes_at(j) + wait for j, wait in links]
            bounds += [self.allowed] if position in self.held else []
            moments = self.moments[position] = _latest(self.early.moments[position], bounds)
            self.finish[position] = self.calendar.work_at(moments)
        else:
            bounds = [self._after(j, wait) for j, wait in links]
            bounds += [self.calendar.work_at(self.allowed)] if position in self.held else []
            self.finish[position] = _latest(self.early.start[position], bounds) + self.plan.work[position]

    def ends(self) -> Instants:
        """Give the instants at which everything is finished."""
        last = reduce(np.maximum, self.finish.values())
        return _latest(self.end, [self.calendar.finish_at(last), *self.moments.values()])

    def _finishes_at(self, position: int) -> Instants:
        moment = self.moments.get(position)
        return self.calendar.finish_at(self.finish[position]) if moment is None else moment

    def _after(self, position: int, wait: int) -> WorkCoordinates:
        return self.calendar.work_at(self._finishes_at(position) + wait) if wait else self.finish[position]


def _latest(earliest: int, bounds: Sequence[NDArray[np.int64]]) -> NDArray[np.int64]:
    return reduce(np.maximum, bounds[1:], np.maximum(bounds[0], earliest))
