"""Forward and backward pass of the critical path method (Kelley & Walker 1959, from memory), on a working calendar.

Both run in work coordinates of the calendar, so that a link without a wait is one comparison. Instants are needed only
where the clock matters: at links with a wait, and for phases that happen at a moment of the clock (`Plan.by_clock`).
"""

from dataclasses import dataclass

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.plan import Plan
from portal.planning.schedule.ready_times import ReadyTimes


@dataclass(frozen=True, slots=True)
class Dates:
    """What a pass gives, by position: the early dates of the forward, the late ones of the backward pass.

    `start`, `finish`: work coordinates; `moments`: instants of the phases that happen by the clock.
    """

    calendar: WorkCalendar
    start: list[int]
    finish: list[int]
    moments: dict[int, int]

    @classmethod
    def of(cls, plan: Plan) -> "Dates":
        """Make dates yet to be computed: all zero."""
        return cls(plan.calendar, [0] * len(plan.phases), [0] * len(plan.phases), {})

    def starts_at(self, position: int) -> int:
        """Give the instant at which a phase starts: the next working moment, or its moment by the clock."""
        moment = self.moments.get(position)
        return self.calendar.start_of(self.start[position]) if moment is None else moment

    def finishes_at(self, position: int) -> int:
        """Give the instant at which a phase is finished."""
        moment = self.moments.get(position)
        return self.calendar.finish_of(self.finish[position]) if moment is None else moment

    def after(self, position: int, wait: int) -> int:
        """Give the work coordinate at which what follows a phase may start, `wait` clock minutes after its finish."""
        return self.calendar.work_before(self.finishes_at(position) + wait) if wait else self.finish[position]

    def before(self, position: int, wait: int) -> int:
        """Give the work coordinate at which what a phase follows must be finished, `wait` clock minutes before its
        start."""
        return self.calendar.work_before(self.starts_at(position) - wait) if wait else self.start[position]

    def put(self, position: int, start: int, finish: int) -> None:
        """Set the dates of a phase in crew hours."""
        self.start[position], self.finish[position] = start, finish

    def put_moment(self, position: int, moment: int) -> None:
        """Set the instant at which a phase by the clock happens."""
        self.moments[position] = moment
        self.start[position] = self.finish[position] = self.calendar.work_before(moment)


def forward(plan: Plan, ready: ReadyTimes) -> Dates:
    """Compute the early dates: each phase as soon as it is ready and all that it follows is over."""
    early = Dates.of(plan)
    for i, links in enumerate(plan.predecessors):
        if i in plan.by_clock:
            early.put_moment(i, max([ready.moments[i], *(early.finishes_at(j) + wait for j, wait in links)]))
        else:
            start = max([ready.work[i], *(early.after(j, wait) for j, wait in links)])
            early.put(i, start, start + plan.work[i])
    return early


def backward(plan: Plan, end: int) -> Dates:
    """Compute the late dates: each phase as late as keeps `end`, the instant of the finish."""
    late, last = Dates.of(plan), plan.calendar.work_before(end)
    for i in reversed(range(len(plan.phases))):
        links = plan.successors[i]
        if i in plan.by_clock:
            late.put_moment(i, min([end, *(late.starts_at(j) - wait for j, wait in links)]))
        else:
            finish = min([last, *(late.before(j, wait) for j, wait in links)])
            late.put(i, finish - plan.work[i], finish)
    return late


def last_moment(plan: Plan, early: Dates, now: int) -> int:
    """Give the instant at which everything is finished; of a plan without phases the start of the job, or `now`."""
    if not plan.phases:
        return max(plan.starts, now)
    return max([plan.calendar.finish_of(max(early.finish)), *early.moments.values()])
