"""The schedule: early and late dates, floats, critical paths, and by when each decision is needed.

Forward and backward pass of the critical path method (Kelley & Walker 1959, from memory; check values in
tests/published). Floats are working time. `0 <= free float <= total float`, also with waits by the clock.
"""

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from struct import pack

import numpy as np

from portal.planning.schedule import answer_dates, paths
from portal.planning.schedule.network import LoopError, UnknownPredecessor
from portal.planning.schedule.passes import Backward, Forward, Whole, backward
from portal.planning.schedule.plan import DONE, Plan
from portal.planning.schedule.ready_times import Floors, floors_at, run

__all__ = ["LoopError", "PhaseDates", "Schedule", "UnknownPredecessor", "schedule"]


@dataclass(frozen=True, slots=True)
class PhaseDates:
    """Instants, and floats in work minutes. Of a phase that has begun the start is the actual one; one that is done
    has no float and is not critical: nothing about it can change."""

    phase: int
    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    total_float: int
    free_float: int
    critical: bool


@dataclass(frozen=True, eq=False)
class Schedule:
    """Columns in the order of `ids`. `finish`: the instant at which the last phase is finished.

    `critical`: any delay of the phase moves the finish (no total float).
    """

    plan: Plan
    now: int
    finish: int
    early_start: Whole
    late_start: Whole
    early_finish: Whole
    late_finish: Whole
    total_float: Whole
    free_float: Whole
    critical: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]"
    floors: Floors
    early: Forward
    late: Backward

    @property
    def ids(self) -> tuple[int, ...]:
        return self.plan.network.ids

    @cached_property
    def phases(self) -> tuple[PhaseDates, ...]:
        columns = (
            self.early_start, self.early_finish, self.late_start, self.late_finish, self.total_float, self.free_float,
            self.critical,
        )
        return tuple(map(PhaseDates, self.ids, *(column.tolist() for column in columns)))

    def of(self, phase: int) -> PhaseDates:
        return self.phases[self.plan.network.position[phase]]

    @cached_property
    def _paths(self) -> tuple[list[tuple[int, ...]], bool]:
        return paths.critical_paths(self.plan, self.early, self.finish)

    @property
    def critical_paths(self) -> list[tuple[int, ...]]:
        """Every longest chain to the finish, by phase ids; at most paths.MOST of them, see `all_paths_shown`."""
        return self._paths[0]

    @property
    def all_paths_shown(self) -> bool:
        return self._paths[1]

    @cached_property
    def decisions(self) -> tuple["answer_dates.AnswerDates", ...]:
        """needed_by and latest_by of every decision."""
        return answer_dates.answer_dates(self.plan, self.now, self.late_start)

    def needed_by(self, decision: int) -> date | None:
        return next(dates.needed_by for dates in self.decisions if dates.decision == decision)


def schedule(plan: Plan, now: int) -> Schedule:
    """The plan as it stands at `now`. Raises LoopError, UnknownPredecessor; CalendarError when it never ends."""
    floors = floors_at(plan, now)
    early = run(plan, floors)
    end = last_moment(plan, early, now)
    late = backward(plan.rows.backward, end, plan.calendar)
    return _columns(plan, now, end, floors, early, late)


def last_moment(plan: Plan, early: Forward, now: int) -> int:
    """The instant at which everything is finished."""
    if not plan.phases:
        return max(plan.starts, now)
    rows, finish = plan.rows, early.finish
    moment = plan.calendar.finish_of(max([finish[rows.floors + i] for i in rows.last]))
    return max([moment, *(early.clock[rows.floors + i] for i in rows.clocked)])


def _columns(plan: Plan, now: int, end: int, floors: Floors, early: Forward, late: Backward) -> Schedule:
    rows, count = plan.rows, len(plan.phases)
    last = late.start[0]
    # The end is one more place, at which those without a follower find what they must not move.
    work = np.empty((4, count + 1), np.int64)
    early_start, late_start, early_finish, late_finish = work
    early_finish[:-1] = _array(early.finish)[rows.floors:]
    early_finish[-1] = last
    late_start[:] = _array(late.start)[::-1]
    np.subtract(early_finish, rows.work, out=early_start)
    np.add(late_start, rows.work, out=late_finish)
    total = (late_start - early_start)[:count]
    if not count:  # a project whose plan is yet to be made; reduceat refuses to reduce nothing
        nothing = np.empty(0, np.int64)
        columns = (*([nothing] * 6), total == 0)
        return Schedule(plan, now, end, *columns, floors, early, late)  # type: ignore[call-arg]
    free = np.minimum.reduceat(early_start[rows.followers], rows.first_follower) - early_finish[:count]
    dates = _dates(plan, work, min(floors.work), last)[:, :count]
    if rows.floors > 1 or rows.clocked:
        _put_actuals(plan, early, late, dates)
    if rows.waits:
        _shorten_by_waits(plan, free, dates[0], work[2, :count])
    critical = total == 0
    for position in plan.finished:
        total[position] = free[position] = 0
        critical[position] = False
    columns = (*dates, total, free, critical)
    return Schedule(plan, now, end, *columns, floors, early, late)  # type: ignore[call-arg]


def _array(numbers: list[int]) -> Whole:
    """Through `struct`, because it takes half as long as numpy's own reading of a list."""
    return np.frombuffer(pack(f"{len(numbers)}q", *numbers), np.int64)


def _dates(plan: Plan, work: Whole, low: int, high: int) -> Whole:
    """Instants of early starts, late starts, early finishes, late finishes. Work is finished a minute after its last
    minute was started, so that one look-up does for both."""
    minutes = work.copy()
    minutes[2:] -= 1
    dates = plan.calendar.table_with(low, high).start_at(minutes)
    dates[2:] += 1
    return dates


def _shorten_by_waits(plan: Plan, free: Whole, early_start: Whole, early_finish: Whole) -> None:
    """A phase before a wait may be as late as lets the next one start when it would have started anyway."""
    before, after, wait = plan.rows.wait_columns
    latest = plan.calendar.work_at(early_start[after] - wait)
    np.minimum.at(free, before, latest - early_finish[before])


def _put_actuals(plan: Plan, early: Forward, late: Backward, dates: Whole) -> None:
    """Moments of the clock instead of crew hours, and what has happened instead of what was computed."""
    early_start, late_start, early_finish, late_finish = dates
    rows = plan.rows
    for i in rows.clocked:
        early_start[i] = early_finish[i] = early.clock[rows.floors + i]
        late_start[i] = late_finish[i] = late.clock[len(plan.phases) - i]
    for i in plan.floored:
        phase = plan.ordered[i]
        if phase.begun and phase.started is not None:
            early_start[i] = late_start[i] = phase.started
        if phase.state == DONE:
            late_finish[i] = early_finish[i]
            late_start[i] = early_start[i]
