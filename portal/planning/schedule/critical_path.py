"""The schedule: early and late dates, floats, critical paths, and by when each decision is needed.

Forward and backward pass of the critical path method (Kelley & Walker 1959, from memory; check values in
tests/published). Floats are working time. `0 <= free float <= total float`, also with waits by the clock.
"""

from dataclasses import dataclass
from functools import cached_property

from portal.planning.schedule.answer_dates import AnswerDates, answer_dates
from portal.planning.schedule.passes import Dates, backward, forward, last_moment
from portal.planning.schedule.paths import critical_paths
from portal.planning.schedule.plan import DONE, Plan
from portal.planning.schedule.ready_times import ReadyTimes, ready_times


@dataclass(frozen=True, slots=True)
class PhaseDates:
    """Instants, and floats in work minutes; `phase` by id. `critical`: any delay of it moves the finish (no total
    float).

    Of a phase that has begun the start is the actual one; one that is done has no float and is not critical: nothing
    about it can change.
    """

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
    """The dates of a plan as it stands at `now`. `finish`: the instant at which the last phase is finished. `phases`,
    and what `ready`, `early` and `late` hold by position, are in the order of the plan's network."""

    plan: Plan
    now: int
    finish: int
    phases: tuple[PhaseDates, ...]
    ready: ReadyTimes
    early: Dates
    late: Dates

    def of(self, phase: int) -> PhaseDates:
        """Give the dates of a phase by its id. Raises KeyError."""
        return self.phases[self.plan.network.position[phase]]

    @cached_property
    def _paths(self) -> tuple[list[tuple[int, ...]], bool]:
        return critical_paths(self.plan, self.early, self.finish)

    @property
    def critical_paths(self) -> list[tuple[int, ...]]:
        """Every longest chain to the finish, by phase ids; the first MOST_PATHS of them, see `all_paths_shown`."""
        return self._paths[0]

    @property
    def all_paths_shown(self) -> bool:
        """Whether `critical_paths` are all there are."""
        return self._paths[1]

    @cached_property
    def decisions(self) -> tuple[AnswerDates, ...]:
        """`needed_by` and `latest_by` of every decision, in the plan's order."""
        return answer_dates(self.plan, self.now, self.late)


def schedule(plan: Plan, now: int) -> Schedule:
    """Give the plan as it stands at the instant `now`. Raises LoopError, UnknownPredecessor; CalendarError when it
    never ends.

    Plain passes over lists: 200 phases take about a millisecond, of which no page notices anything.
    """
    ready = ready_times(plan, now)
    early = forward(plan, ready)
    end = last_moment(plan, early, now)
    late = backward(plan, end)
    phases = tuple(_phase_dates(plan, i, early, late, end) for i in range(len(plan.phases)))
    return Schedule(plan, now, end, phases, ready, early, late)


def _phase_dates(plan: Plan, i: int, early: Dates, late: Dates, end: int) -> PhaseDates:
    phase, finish = plan.ordered[i], early.finishes_at(i)
    if phase.state == DONE:
        start = finish if phase.started is None else phase.started
        return PhaseDates(phase.id, start, finish, start, finish, 0, 0, critical=False)
    starts = (early.starts_at(i), late.starts_at(i))
    if phase.begun and phase.started is not None:
        starts = (phase.started, phase.started)
    total = late.start[i] - early.start[i]
    return PhaseDates(
        phase.id, starts[0], finish, starts[1], late.finishes_at(i), total, _free_float(plan, i, early, end), total == 0
    )


def _free_float(plan: Plan, i: int, early: Dates, end: int) -> int:
    """Work minutes by which a phase may be late and everything that follows it still starts as early as it can."""
    starts = [early.before(j, wait) for j, wait in plan.successors[i]] or [plan.calendar.work_before(end)]
    return min(starts) - early.finish[i]
