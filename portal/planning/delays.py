"""Later starts carried through the phases that follow, exactly, over waits by the clock: many delays at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from portal.planning.network import WaitLink
from portal.planning.schedule import Schedule
from portal.planning.sweep import Whole
from portal.planning.worktable import WorkTable


@dataclass(frozen=True, slots=True)
class Delay:
    """The phases in `places` (positions) start no earlier than a day that begins at `midnights` (instants), or
    `mornings` (work coordinates): one future for each entry."""

    places: tuple[int, ...]
    midnights: Whole
    mornings: Whole


def carried(schedule: Schedule, delays: list[Delay]) -> Whole:
    """Instant of the finish, a row for each delay, a column for each of its futures."""
    calendar = schedule.plan.calendar
    high = max(schedule.late.start[0], *(int(delay.mornings[-1]) for delay in delays))
    while True:
        table = calendar.table_with(min(schedule.floors.work), high)
        carrier = _Carrier(schedule, delays, table)
        finishes = carrier.finishes()
        # Nothing lies behind the finish, so when that is inside the table, everything was.
        if finishes.max() < table.end and carrier.end.max() < table.high:
            return finishes
        high = table.high


class _Carrier:
    """Goes through the phases in order. Rows are delays, columns futures; `finish` in work coordinates, `moment`
    (of phases by the clock) in instants. A phase that no delay reaches keeps its early dates and is not stored."""

    def __init__(self, schedule: Schedule, delays: list[Delay], table: WorkTable) -> None:
        self.schedule, self.plan, self.table = schedule, schedule.plan, table
        self.work = schedule.plan.rows.work.tolist()
        self.delays = delays
        self.shape = (len(delays), len(delays[0].mornings))
        self.finish: dict[int, Whole] = {}
        self.moment: dict[int, Whole] = {}
        self.reached: set[int] = set()
        self.end = np.full(self.shape, schedule.late.start[0], np.int64)
        self.end_moment = np.full(self.shape, schedule.finish, np.int64)

    def finishes(self) -> Whole:
        held: dict[int, list[int]] = {}
        for row, delay in enumerate(self.delays):
            for place in delay.places:
                held.setdefault(place, []).append(row)
        before, begun, clocked = self.plan.network.before, self.plan.begun, self.plan.rows.clocked
        for i in range(min(held), len(before)):
            links = [link for link in before[i] if link[0] in self.reached]
            if (links or i in held) and i not in begun:
                carry = self._carry_moment if i in clocked else self._carry
                carry(i, links, held.get(i, ()))
        return np.maximum(self.end_moment, self.table.finish_at(self.end))

    def _carry(self, i: int, links: Sequence[WaitLink], rows: Sequence[int]) -> None:
        start = self._start(i, links)
        for row in rows:
            np.maximum(start[row], self.delays[row].mornings, out=start[row])
        if self.plan.crew_hours_onward[i]:
            late = self.schedule.late.start
            np.maximum(self.end, start + (late[0] - late[len(self.schedule.ids) - i]), out=self.end)
            return
        start += self.work[i]
        self.finish[i] = start
        self.reached.add(i)
        if not self.plan.network.after[i]:
            np.maximum(self.end, start, out=self.end)

    def _start(self, i: int, links: Sequence[WaitLink]) -> Whole:
        early = self.schedule.early.finish[self.plan.rows.floors + i] - self.work[i]
        if not links:
            return np.full(self.shape, early, np.int64)
        start = np.maximum(self._free(*links[0]), early)
        for j, wait in links[1:]:
            np.maximum(start, self._free(j, wait), out=start)
        return start

    def _free(self, i: int, wait: int) -> Whole:
        """Work coordinate from which one that follows is free to start."""
        finish = self.finish.get(i)
        if finish is None:
            return self.table.work_at(self.moment[i] + wait)
        return self.table.work_at(self.table.finish_at(finish) + wait) if wait else finish

    def _carry_moment(self, i: int, links: Sequence[WaitLink], rows: Sequence[int]) -> None:
        moment = np.full(self.shape, self.schedule.early.clock[self.plan.rows.floors + i], np.int64)
        for j, wait in links:
            np.maximum(moment, self._instant(j) + wait, out=moment)
        for row in rows:
            np.maximum(moment[row], self.delays[row].midnights, out=moment[row])
        self.moment[i] = moment
        self.reached.add(i)
        np.maximum(self.end_moment, moment, out=self.end_moment)

    def _instant(self, i: int) -> Whole:
        moment = self.moment.get(i)
        return self.table.finish_at(self.finish[i]) if moment is None else moment
