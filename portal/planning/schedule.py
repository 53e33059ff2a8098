"""The schedule: early and late dates, floats, critical paths, and by when each decision is needed.

Forward and backward pass of the critical path method (Kelley & Walker 1959, from memory; check values in
tests/published). Floats are working time. `0 <= free float <= total float`, also with waits by the clock.
"""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

import numpy as np

from portal.planning import answers, paths
from portal.planning.network import LoopError, UnknownPredecessor
from portal.planning.plan import DONE, Plan
from portal.planning.situation import Floors, floors_at, run
from portal.planning.sweep import Backward, Forward, Whole, backward

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
    early_finish: Whole
    late_start: Whole
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
    def decisions(self) -> tuple["answers.AnswerDates", ...]:
        """needed_by and latest_by of every decision."""
        return answers.answer_dates(self)

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
    rows, calendar = plan.rows, plan.calendar
    if not plan.phases:
        return max(plan.starts, now)
    by_clock = max((early.clock[rows.floors + i] for i in rows.clocked), default=None)
    moment = calendar.finish_of(max(early.finish[rows.floors:]))
    return moment if by_clock is None else max(by_clock, moment)


def _columns(plan: Plan, now: int, end: int, floors: Floors, early: Forward, late: Backward) -> Schedule:
    rows, calendar = plan.rows, plan.calendar
    early_finish = np.fromiter(early.finish[rows.floors:], np.int64, len(plan.phases))
    late_start = np.fromiter(late.start[:0:-1], np.int64, len(plan.phases))
    early_start, late_finish = early_finish - rows.work, late_start + rows.work
    total = late_start - early_start
    free = _free_float(plan, early, late.start[0], early_start, early_finish)
    starts = calendar.start_at(np.concatenate((early_start, late_start)))
    finishes = calendar.finish_at(np.concatenate((early_finish, late_finish)))
    count = len(plan.phases)
    dates = starts[:count], finishes[:count], starts[count:], finishes[count:]
    if rows.clocked or rows.floors > 1:
        _put_actuals(plan, early, late, dates, total, free)
    critical = total == 0
    for position in plan.finished:
        critical[position] = False
    return Schedule(plan, now, end, *dates, total, free, critical, floors, early, late)


def _free_float(plan: Plan, early: Forward, end: int, early_start: Whole, early_finish: Whole) -> Whole:
    """How much later a phase may finish without moving the early start of any that follows it."""
    rows, calendar = plan.rows, plan.calendar
    if not len(early_start):
        return early_start
    starts = np.append(early_start, end)
    free = np.minimum.reduceat(starts[rows.followers], rows.first_follower) - early_finish
    for before, after, wait in rows.waits:
        moment = early.clock.get(rows.floors + after)
        must = calendar.start_of(int(early_start[after])) if moment is None else moment
        free[before] = min(free[before], calendar.work_before(must - wait) - early_finish[before])
    return np.asarray(free)


Dates = tuple[Whole, Whole, Whole, Whole]


def _put_actuals(plan: Plan, early: Forward, late: Backward, dates: Dates, total: Whole, free: Whole) -> None:
    """Moments of the clock instead of crew hours, and what has happened instead of what was computed."""
    early_start, early_finish, late_start, late_finish = dates
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
            total[i] = free[i] = 0
