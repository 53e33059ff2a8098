"""What the schedule says, in days: starts and finishes as booked, need-by dates as they must be."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from portal.pages.lateness import Lateness, lateness_of
from portal.planning.forecast.forecast import finish_day
from portal.planning.late_answers.curve import late_answers
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot


@dataclass(frozen=True)
class Outlook:
    """Days by phase and decision. `finish`: the day on which all work is done, by the plan as booked, which is what
    "done" means everywhere (portal.pages.finish); None while there is nothing to finish."""

    schedule: Schedule
    booked: Schedule
    starts: dict[int, date]
    finishes: dict[int, date]
    needed_by: dict[int, date]
    finish: date | None

    @cached_property
    def lateness(self) -> dict[int, Lateness]:
        """By open decision that holds work; computed when asked for, since a list of decisions needs only the dates."""
        curves = late_answers(self.booked)
        return {one: lateness_of(curve, self.booked, self.needed_by.get(one)) for one, curve in curves.items()}


def outlook_of(snapshot: Snapshot, schedule: Schedule) -> Outlook:
    """`schedule`: the pure one."""
    day_of = schedule.plan.calendar.day_of
    booked = as_booked(schedule)
    return Outlook(
        schedule,
        booked,
        starts={dates.phase: day_of(dates.early_start) for dates in booked.phases},
        finishes={dates.phase: finish_day(booked.plan, dates.early_finish) for dates in booked.phases},
        needed_by={d.decision: d.needed_by for d in schedule.decisions if d.needed_by is not None},
        finish=finish_day(booked.plan, booked.finish) if snapshot.phases else None,
    )
