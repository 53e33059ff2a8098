"""What a late answer costs: the finish by the day on which the answer comes.

Late answer identity (check-values 1.2): delaying a phase by d moves the finish by max(0, d - total float). So where
only crew hours follow, the backward pass of the schedule says everything. Behind a wait by the clock a delay may shrink
or grow (a cure that falls on a weekend costs nothing), so there the delays are carried through the phases that follow
(portal.planning.late_answers.delays), for all decisions and days at once.
"""

from bisect import bisect_left
from dataclasses import dataclass
from datetime import date

import numpy as np

from portal.planning.late_answers.delays import Delay, carried
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.passes import Whole

BEYOND = 20
"""Working days past the latest answer that keeps the finish."""


@dataclass(frozen=True, slots=True)
class Curve:
    """`finishes[n]`: the instant of the finish when the answer comes on `days[n]`. Days are working days, from today
    on: an answer on a day off counts as one on the next working day. The first `kept` of them keep the finish."""

    decision: int
    days: tuple[date, ...]
    finishes: tuple[int, ...]
    kept: int

    @property
    def rows(self) -> list[tuple[date, int]]:
        return list(zip(self.days, self.finishes, strict=True))

    def finish_if_answered(self, on: date) -> int:
        """`on` up to the last of the days."""
        return self.finishes[bisect_left(self.days, on)]


def late_answers(schedule: Schedule) -> dict[int, Curve]:
    """Curves of all open decisions that hold phases, from today to 20 working days past `latest_by`."""
    plan = schedule.plan
    held = {number: phases for number, phases in plan.held.items() if phases}
    if not held:
        return {}
    places = {number: tuple(plan.network.position[phase.id] for phase in phases) for number, phases in held.items()}
    leads = {number: plan.open_decisions[number].lead_days for number in held}
    days, midnights, mornings = _answer_days(schedule, max(leads.values()))
    kept = {number: _kept(schedule, places[number], leads[number], midnights, mornings) for number in held}
    late = [
        Delay(places[number], *(begins[first:first + BEYOND] for begins in (midnights, mornings)))
        for number in held for first in [kept[number] + leads[number]]
    ]
    finishes = _finishes(schedule, late).tolist()
    return {
        number: Curve(number, tuple(days[:kept[number] + BEYOND]), (*[schedule.finish] * kept[number], *late_finishes),
                      kept[number])
        for number, late_finishes in zip(held, finishes, strict=True)
    }


def _answer_days(schedule: Schedule, lead: int) -> tuple[list[date], Whole, Whole]:
    """As many days as the curves can need: work may start on the last of them at the latest."""
    calendar = schedule.plan.calendar
    today = calendar.day_of(schedule.now)
    until_finish = calendar.count_days(today, calendar.day_of(schedule.finish))
    return calendar.days_from(today, max(0, until_finish) + lead + BEYOND + 2)


def _kept(schedule: Schedule, places: tuple[int, ...], lead: int, midnights: Whole, mornings: Whole) -> int:
    """How many of the days keep the finish when the answer comes on them."""
    rows, late = schedule.plan.rows, schedule.late
    latest = len(mornings)
    for place in places:
        back = len(schedule.ids) - place
        if place in rows.clocked:
            latest = min(latest, int(midnights.searchsorted(late.clock[back], side="right")))
        else:
            latest = min(latest, int(mornings.searchsorted(late.start[back], side="right")))
    return latest - lead


def _finishes(schedule: Schedule, delays: list[Delay]) -> Whole:
    """Instants of the finish, a row for each delay."""
    plan, late = schedule.plan, schedule.late
    count = len(schedule.ids)
    finishes = np.empty((len(delays), BEYOND), np.int64)
    simple = [all(plan.crew_hours_onward[place] for place in delay.places) for delay in delays]
    for row, delay in enumerate(delays):
        if simple[row]:
            latest_start = min(late.start[count - place] for place in delay.places)
            finishes[row] = delay.mornings + (late.start[0] - latest_start)
    crew = np.array(simple)
    if crew.any():
        finishes[crew] = plan.calendar.finish_at(finishes[crew])
    if not crew.all():
        finishes[~crew] = carried(schedule, [delay for row, delay in enumerate(delays) if not simple[row]])
    return np.maximum(finishes, schedule.finish)
