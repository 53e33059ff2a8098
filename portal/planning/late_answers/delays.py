"""Later starts carried through the phases that follow, exactly, over waits by the clock: many delays at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from portal.planning.calendar.work_table import WorkTable
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.network_levels import Level
from portal.planning.schedule.passes import Whole

_AT_ONCE = 4_000_000
"""Numbers that are carried at once at the most (32 MB)."""


@dataclass(frozen=True, slots=True)
class Delay:
    """The phases in `places` (positions) start no earlier than a day that begins at `midnights` (instants), or
    `mornings` (work coordinates): one future for each entry."""

    places: tuple[int, ...]
    midnights: Whole
    mornings: Whole


def carried(schedule: Schedule, delays: Sequence[Delay]) -> Whole:
    """Instant of the finish, a row for each delay, a column for each of its futures."""
    together = max(1, _AT_ONCE // (schedule.plan.levels.rows * len(delays[0].mornings)))
    parts = [delays[first:first + together] for first in range(0, len(delays), together)]
    return np.concatenate([_carried(schedule, part) for part in parts])


def _carried(schedule: Schedule, delays: Sequence[Delay]) -> Whole:
    calendar = schedule.plan.calendar
    high = max(schedule.late.start[0], *(int(delay.mornings[-1]) for delay in delays))
    while True:
        table = calendar.table_with(min(schedule.floors.work), high)
        carrier = _Carrier(schedule, delays, table)
        finishes = carrier.finishes()
        # Nothing lies behind the finish, so when that is inside the table, everything was.
        if finishes.max() < table.end and carrier.last < table.high:
            return finishes
        high = table.high


class _Carrier:
    """`finish`: work coordinates by row of the levels, all futures of all delays beside each other: of a phase whose
    level has not come, the earliest start. `moments`: instants of the phases by the clock."""

    def __init__(self, schedule: Schedule, delays: Sequence[Delay], table: WorkTable) -> None:
        self.schedule, self.delays, self.table = schedule, delays, table
        self.rows, self.levels = schedule.plan.rows, schedule.plan.levels
        self.futures = len(delays[0].mornings)
        self.finish = self._before_any()
        self.moments: dict[int, Whole] = {}
        self.last = schedule.late.start[0]

    def finishes(self) -> Whole:
        for level in self.levels.levels:
            for crew in level.crew:
                start = self.finish[crew.sources].max(axis=0)
                self.finish[crew.places] = start + crew.work
            self._come_to_moments(level)
            self._wait(level)
        return np.maximum(self._end(), self.schedule.finish).reshape(len(self.delays), self.futures)

    def _before_any(self) -> Whole:
        early = np.array(self.schedule.early.finish[self.rows.floors:], np.int64)
        early[self.levels.reached] -= self.rows.work[self.levels.reached]
        finish = np.empty((self.levels.rows, len(self.delays) * self.futures), np.int64)
        finish[:len(early)] = early[:, None]
        clocked = set(self.rows.clocked)
        for delay, futures in zip(self.delays, self._columns(), strict=True):
            for place in delay.places:
                if place not in clocked:
                    np.maximum(finish[place, futures], delay.mornings, out=finish[place, futures])
        return finish

    def _columns(self) -> list[slice]:
        """Where the futures of each delay stand."""
        return [slice(n * self.futures, (n + 1) * self.futures) for n in range(len(self.delays))]

    def _come_to_moments(self, level: Level) -> None:
        for i, links in level.clocked:
            moment = np.full(self.finish.shape[1], self.schedule.early.clock[self.rows.floors + i], np.int64)
            for j, wait in links:
                np.maximum(moment, self._instant(j) + wait, out=moment)
            for delay, futures in zip(self.delays, self._columns(), strict=True):
                if i in delay.places:
                    np.maximum(moment[futures], delay.midnights, out=moment[futures])
            self.moments[i] = moment
            self.finish[i] = self.table.work_at(moment)

    def _wait(self, level: Level) -> None:
        rows, ends, minutes = level.waits
        if len(rows):
            self.finish[rows] = self.table.work_at(self.table.finish_at(self.finish[ends]) + minutes)
        for row, i, wait in level.after_moments:
            self.finish[row] = self.table.work_at(self.moments[i] + wait)

    def _instant(self, i: int) -> Whole:
        moment = self.moments.get(i)
        return self.table.finish_at(self.finish[i]) if moment is None else moment

    def _end(self) -> Whole:
        late = self.schedule.late.start
        onward = self.levels.onward
        after = np.array([late[0] - late[len(self.schedule.ids) - i] for i in onward.tolist()], np.int64)
        ends = np.concatenate([self.finish[onward] + after[:, None], self.finish[self.levels.last]])
        work = ends.max(axis=0, initial=late[0])
        self.last = int(work.max())
        moments = np.array([*self.moments.values()], np.int64).reshape(-1, len(work))
        return np.maximum(self.table.finish_at(work), moments.max(axis=0, initial=self.schedule.finish))
