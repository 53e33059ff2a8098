"""What a late answer costs: the finish by the day on which the answer comes.

Late answer identity (check-values 1.2): delaying a phase by d moves the finish by max(0, d - total float). Behind a
wait by the clock a delay may shrink or grow (a cure that falls on a weekend costs nothing), so the delays are carried
through the phases that follow.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from portal.planning.late_answers.delays import delayed_finishes
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.ready_times import allowed_from

DAYS_BEYOND = 20
"""Working days past the latest answer that keeps the finish."""


@dataclass(frozen=True, slots=True)
class LateAnswers:
    """`finishes[n]`: the instant of the finish when the answer to a decision (its id) comes on `days[n]`. Days are
    working days, from today on: an answer on a day off counts as one on the next working day."""

    decision: int
    days: tuple[date, ...]
    finishes: tuple[int, ...]

    @property
    def pairs(self) -> list[tuple[date, int]]:
        """Each day of the answer with its finish."""
        return list(zip(self.days, self.finishes, strict=True))


def late_answers(schedule: Schedule) -> dict[int, LateAnswers]:
    """Give, by id of each open decision that holds phases: from today to DAYS_BEYOND working days past its
    `latest_by`."""
    plan = schedule.plan
    latest = {dates.decision: dates.latest_by for dates in schedule.decisions}
    return {
        decision: _late_answers(schedule, decision, until)
        for decision in plan.open_decisions if (until := latest[decision]) is not None
    }


def _late_answers(schedule: Schedule, decision: int, latest: date) -> LateAnswers:
    plan, calendar = schedule.plan, schedule.plan.calendar
    today = calendar.day_of(schedule.now)
    # At least today: the schedule reckons with an answer today.
    in_time = max(1, calendar.count_days(today, latest + timedelta(days=1)))
    days = [calendar.add_days(today, n) for n in range(in_time + DAYS_BEYOND)]
    lead = plan.open_decisions[decision].lead_days
    allowed = np.array([allowed_from(plan, day, lead) for day in days[in_time:]], np.int64)
    held = {plan.network.position[phase.id] for phase in plan.held[decision]}
    finishes = (*[schedule.finish] * in_time, *delayed_finishes(schedule, held, allowed).tolist())
    return LateAnswers(decision, tuple(days), finishes)
