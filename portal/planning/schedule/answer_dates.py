"""By when a decision is needed: the latest answers that keep the booked dates, and the finish."""

from dataclasses import dataclass
from datetime import date

from portal.planning.calendar import lead
from portal.planning.schedule.passes import Dates, forward
from portal.planning.schedule.plan import Decision, Plan
from portal.planning.schedule.ready_times import ready_times_unhindered


@dataclass(frozen=True, slots=True)
class AnswerDates:
    """Dates of one decision (its id). `needed_by`: the latest answer that keeps the booked dates, or without a visit
    the early start that the plan had; of a decision that holds nothing the day that was asked for. `latest_by`: the
    latest answer that keeps the finish. None: nothing waits for it (any more)."""

    decision: int
    needed_by: date | None
    latest_by: date | None

    def overdue(self, today: date) -> bool:
        """Tell whether the answer is late: the booked dates can't be kept any more."""
        return self.needed_by is not None and today > self.needed_by


def answer_dates(plan: Plan, now: int, late: Dates) -> tuple[AnswerDates, ...]:
    """Give the dates of all decisions of the plan, in its order. `late`: the late dates of the plan as it stands at
    `now`."""
    planned = _planned_starts(plan, now)
    return tuple(_dates(plan, decision, planned, late) for decision in plan.decisions)


def _dates(plan: Plan, decision: Decision, planned: dict[int, int], late: Dates) -> AnswerDates:
    held = plan.held.get(decision.id, ())
    if not held:
        return AnswerDates(decision.id, decision.asked_for if decision.open else None, None)
    needed = min(_answer_by(plan, planned[phase.id], decision) for phase in held)
    latest = min(_answer_by(plan, late.starts_at(plan.network.position[phase.id]), decision) for phase in held)
    return AnswerDates(decision.id, needed, latest)


def _answer_by(plan: Plan, start: int, decision: Decision) -> date:
    return lead.answer_by(plan.calendar, plan.calendar.day_of(start), decision.lead_days)


def _planned_starts(plan: Plan, now: int) -> dict[int, int]:
    """Start of each held phase, by its id: the next booked visit, else the early start that it would have with every
    answer there and no day lost. (A visit that is under way is not past.)"""
    early = forward(plan, ready_times_unhindered(plan, now))
    held = {phase.id for phases in plan.held.values() for phase in phases}
    return {phase: early.starts_at(plan.network.position[phase]) for phase in held} | {
        phase: starts for phase, starts in plan.next_visits(now).items() if phase in held
    }
