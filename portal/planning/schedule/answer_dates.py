"""By when a decision is needed: the latest answers that keep the booked dates, and the finish."""

from dataclasses import dataclass
from datetime import date

from portal.planning.calendar import lead
from portal.planning.schedule.passes import Whole
from portal.planning.schedule.plan import Decision, Plan
from portal.planning.schedule.ready_times import floors_unhindered, run


@dataclass(frozen=True, slots=True)
class AnswerDates:
    """`needed_by`: the latest answer that keeps the booked dates, or without a visit the early start that the plan had.
    `latest_by`: the latest answer that keeps the finish. `None`: nothing waits for it (any more)."""

    decision: int
    needed_by: date | None
    latest_by: date | None

    def overdue(self, today: date) -> bool:
        return self.needed_by is not None and today > self.needed_by


def answer_dates(plan: Plan, now: int, late_start: Whole) -> tuple[AnswerDates, ...]:
    """`late_start`: instants by position, from the schedule of the plan as it stands at `now`."""
    planned = _planned_starts(plan, now) if plan.open_decisions else {}
    return tuple(_dates(plan, decision, planned, late_start) for decision in plan.decisions)


def _dates(plan: Plan, decision: Decision, planned: dict[int, int], late_start: Whole) -> AnswerDates:
    held = plan.held.get(decision.id, ())
    if not held:
        return AnswerDates(decision.id, decision.asked_for if decision.open else None, None)
    needed = min(_answer_by(plan, planned[phase.id], decision) for phase in held)
    latest = min(_answer_by(plan, int(late_start[plan.network.position[phase.id]]), decision) for phase in held)
    return AnswerDates(decision.id, needed, latest)


def _answer_by(plan: Plan, start: int, decision: Decision) -> date:
    return lead.answer_by(plan.calendar, plan.calendar.day_of(start), decision.lead_days)


def _planned_starts(plan: Plan, now: int) -> dict[int, int]:
    """Start of each held phase: the next booked visit, else the early start that it would have with every answer there
    and no day lost. (A visit that is under way is not past.)"""
    early = run(plan, floors_unhindered(plan, now))
    starts = {}
    for position in plan.floored:
        place = plan.rows.floors + position
        work = early.finish[place] - int(plan.rows.work[position])
        clock = early.clock.get(place)
        starts[plan.ordered[position].id] = plan.calendar.start_of(work) if clock is None else clock
    for visit in sorted(plan.visits, key=lambda visit: visit.starts, reverse=True):
        if visit.ends > now and visit.phase in starts:
            starts[visit.phase] = visit.starts
    return starts
