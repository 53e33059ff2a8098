"""What the schedule says, in days."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from portal.pages.lateness import Lateness, lateness_of
from portal.planning.late import late_answers
from portal.planning.schedule import Schedule
from portal.store.facts import Snapshot


@dataclass(frozen=True)
class Outlook:
    """Days by phase and decision. `finish` is None while there is nothing to finish."""

    schedule: Schedule
    starts: dict[int, date]
    finishes: dict[int, date]
    needed_by: dict[int, date]
    finish: date | None

    @cached_property
    def lateness(self) -> dict[int, Lateness]:
        """By open decision that holds work; computed when asked for, since a list of decisions needs only the dates."""
        curves = late_answers(self.schedule)
        return {decision: lateness_of(curve, self.schedule) for decision, curve in curves.items()}


def outlook_of(snapshot: Snapshot, schedule: Schedule) -> Outlook:
    day_of = schedule.plan.calendar.day_of
    return Outlook(
        schedule,
        starts={dates.phase: day_of(dates.early_start) for dates in schedule.phases},
        finishes={dates.phase: day_of(dates.early_finish) for dates in schedule.phases},
        needed_by={d.decision: d.needed_by for d in schedule.decisions if d.needed_by is not None},
        finish=day_of(schedule.finish) if snapshot.phases else None,
    )
