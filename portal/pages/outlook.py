"""What the schedule says, in the days and sentences of the page."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.lateness import Lateness, lateness_of
from portal.pages.words import dated_words
from portal.planning.late import late_answers
from portal.planning.schedule import Schedule
from portal.store.facts import Snapshot


@dataclass(frozen=True)
class Outlook:
    """Days by phase and decision. `finish` is None while there is nothing to finish."""

    starts: dict[int, date]
    finishes: dict[int, date]
    needed_by: dict[int, date]
    lateness: dict[int, Lateness]
    finish: date | None

    def finish_sentences(self, today: date) -> Iterator[str]:
        if self.finish is not None:
            yield f"By today’s plan all work is done on {dated_words(self.finish, today)}."


def outlook_of(snapshot: Snapshot, schedule: Schedule) -> Outlook:
    day_of = schedule.plan.calendar.day_of
    return Outlook(
        starts={dates.phase: day_of(dates.early_start) for dates in schedule.phases},
        finishes={dates.phase: day_of(dates.early_finish) for dates in schedule.phases},
        needed_by={d.decision: d.needed_by for d in schedule.decisions if d.needed_by is not None},
        lateness={decision: lateness_of(curve, schedule) for decision, curve in late_answers(schedule).items()},
        finish=day_of(schedule.finish) if snapshot.phases else None,
    )
