"""What the schedule says, in the days and sentences of the page."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.words import dated_words
from portal.planning.schedule import Schedule
from portal.store.facts import Snapshot


@dataclass(frozen=True)
class Outlook:
    """Days by phase and decision. `finish` is None while there is nothing to finish."""

    schedule: Schedule
    starts: dict[int, date]
    finishes: dict[int, date]
    needed_by: dict[int, date]
    latest_by: dict[int, date]
    finish: date | None

    def late_sentences(self, decision_id: int, today: date) -> Iterator[str]:
        """What an answer after the needed-by date does."""
        needed_by, latest_by = self.needed_by.get(decision_id), self.latest_by.get(decision_id)
        if needed_by is None or latest_by is None:
            return
        if latest_by <= today:
            yield "Each working day of waiting from now on moves the finish of the whole job."
        elif latest_by > max(needed_by, today):
            by, last = max(needed_by, today), latest_by
            yield f"If the answer comes after {dated_words(by, today)}, that work moves to a later day."
            yield f"If it comes after {dated_words(last, today)}, the finish of the whole job moves, too."
        else:
            yield f"If the answer comes after {dated_words(latest_by, today)}, the finish of the whole job moves."

    def finish_sentences(self, today: date) -> Iterator[str]:
        if self.finish is not None:
            yield f"By today’s plan all work is done on {dated_words(self.finish, today)}."


def outlook_of(snapshot: Snapshot, schedule: Schedule) -> Outlook:
    day_of = schedule.plan.calendar.day_of
    return Outlook(
        schedule,
        starts={dates.phase: day_of(dates.early_start) for dates in schedule.phases},
        finishes={dates.phase: day_of(dates.early_finish) for dates in schedule.phases},
        needed_by={d.decision: d.needed_by for d in schedule.decisions if d.needed_by is not None},
        latest_by={d.decision: d.latest_by for d in schedule.decisions if d.latest_by is not None},
        finish=day_of(schedule.finish) if snapshot.phases else None,
    )
