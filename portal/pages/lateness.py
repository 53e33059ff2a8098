"""What a later answer does, in words and as a small drawing: from the curve of the finish by the day of the answer."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from markupsafe import Markup

from portal.drawings.charts.late_curve import LateAnswer, late_curve
from portal.planning.calendar.lead import answer_by
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.forecast.forecast import finish_day
from portal.planning.late_answers.curve import LateAnswers
from portal.planning.schedule.critical_path import Schedule
from portal.words.dates import dated_words


@dataclass(frozen=True, slots=True)
class Lateness:
    """Finish dates by answer date as booked, from today on. `needed_by`: the date that we ask for; `moves_after`: the
    last answer that leaves the held work on the day that the page says, which is later when what it follows is late;
    `latest_by`: the last one that keeps the finish."""

    answers: tuple[LateAnswer, ...]
    needed_by: date | None
    moves_after: date
    latest_by: date | None
    calendar: WorkCalendar

    def short(self, today: date) -> Iterator[str]:
        """When the work moves, and until when the finish stays."""
        yield from self._moves(today)
        step = self._first_step()
        if step is not None:
            last = self.answers[step - 1]
            on = "today" if last.on == today else f"by {dated_words(last.on, today)}"
            yield f"An answer {on} still keeps the finish, {dated_words(last.finish, today)}."

    def sentences(self, today: date) -> Iterator[str]:
        yield from self._moves(today)
        step = self._first_step()
        if step is None:
            return
        last, after = self.answers[step - 1], self.answers[step]
        finish, moved = dated_words(last.finish, today), dated_words(after.finish, today)
        yield f"With an answer by {dated_words(last.on, today)}, the whole job is done on {finish}."
        yield f"With an answer on {dated_words(after.on, today)}, it is done on {moved}."
        yield from self._onward(step)

    def _moves(self, today: date) -> Iterator[str]:
        if self.moves_after >= today and self.latest_by != self.moves_after:
            yield f"If the answer comes after {dated_words(self.moves_after, today)}, that work moves to a later day."

    def drawing(self) -> Markup:
        """Inline SVG; it holds dates and figures of ours alone. It marks whole days, as the sentences say them."""
        step = self._first_step()
        return Markup(late_curve(self.answers, self.needed_by, self.answers[step - 1].on if step else None))

    def _first_step(self) -> int | None:
        return next((at for at, one in enumerate(self.answers) if one.finish > self.answers[0].finish), None)

    def _onward(self, step: int) -> Iterator[str]:
        """What each day after the first step costs, where they all do."""
        steps = list(pairwise(one.finish for one in self.answers[step - 1:]))
        if len(steps) > 1 and all(self.calendar.add_days(one, 1) == two for one, two in steps):
            yield "From then on, each working day of waiting moves the finish by one."
        elif len(steps) > 1 and all(one < two for one, two in steps):
            yield "From then on, each working day of waiting moves the finish."


def lateness_of(curve: LateAnswers, booked: Schedule, needed_by: date | None) -> Lateness:
    dates = next(dates for dates in booked.decisions if dates.decision == curve.decision)
    answers = tuple(LateAnswer(on, finish_day(booked.plan, finish)) for on, finish in curve.pairs)
    return Lateness(answers, needed_by, _moves_after(booked, curve.decision), dates.latest_by, booked.plan.calendar)


def _moves_after(booked: Schedule, decision: int) -> date:
    """By the dates that the page says, not by the visits: one that can't be kept is moved by no answer."""
    plan = booked.plan
    starts = [plan.calendar.day_of(booked.of(phase.id).early_start) for phase in plan.held[decision]]
    return min(answer_by(plan.calendar, start, plan.open_decisions[decision].lead_days) for start in starts)
