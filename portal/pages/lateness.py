"""What a later answer does, in words and as a small drawing: from the curve of the finish by the day of the answer."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from markupsafe import Markup

from portal.drawings.charts.late_curve import LateAnswer, late_curve
from portal.planning.calendar.lead import answer_by
from portal.planning.forecast.forecast import finish_day
from portal.planning.late_answers.cost import BY_ONE, SOME, AnswerCost, cost_of
from portal.planning.late_answers.curve import LateAnswers
from portal.planning.schedule.critical_path import Schedule
from portal.words.capitals import first_lower
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
    costs: AnswerCost

    def cost(self, today: date, *, ours: bool = False) -> str:
        """What the answer costs from today, in one sentence; of a late one, also since when. `ours`: we owe an answer
        first, and the delay is not the household's. Empty where no later answer moves the finish."""
        if self.needed_by is None or self.needed_by >= today:
            return self._in_time(today)
        since = "" if ours else f"Late: it was due {dated_words(self.needed_by, today)}. "
        return since + self._from_now(today)

    def cost_short(self, today: date) -> str:
        """The same without the date that has passed, in few words, to stand after a colon."""
        keeps = self.costs.keeps
        if keeps == today and self.costs.lost and self.costs.onward == BY_ONE and keeps <= self.costs.first:
            return "each work day you wait costs one."
        if keeps is None or keeps == today:
            return first_lower(self._from_now(today))
        return f"answer it by {dated_words(keeps, today)}: no {'more days' if self.costs.lost else 'day'} lost."

    def _in_time(self, today: date) -> str:
        keeps = self.costs.keeps
        if keeps is None:
            return ""
        last = dated_words(keeps, today)
        if today <= self.moves_after < keeps:
            return f"After {dated_words(self.moves_after, today)} that work moves, after {last} the end."
        return f"An answer {'today' if keeps == today else f'by {last}'} costs no day."

    def _from_now(self, today: date) -> str:
        """Whether a day is lost already, or not yet."""
        costs, none = self.costs, self._none
        if costs.keeps is None:
            return f"It {none}."
        last = "today" if costs.keeps == today else dated_words(costs.keeps, today)
        if costs.keeps > costs.first or not costs.lost:
            return f"An answer {'' if last == 'today' else 'by '}{last} {none}."
        if costs.onward == SOME:
            return f"An answer after {last} moves the end to {dated_words(costs.moved, today)}."
        start, by_one = "from now" if last == "today" else f"after {last}", " by one" if costs.onward == BY_ONE else ""
        return f"Each working day {start} moves the end{by_one}."

    @property
    def _none(self) -> str:
        return "costs no further day" if self.costs.lost else "still costs no day"

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
        if len(steps) > 1 and self.costs.onward != SOME:
            by_one = " by one" if self.costs.onward == BY_ONE else ""
            yield f"From then on, each working day of waiting moves the end{by_one}."


def lateness_of(curve: LateAnswers, booked: Schedule, needed_by: date | None) -> Lateness:
    dates = next(dates for dates in booked.decisions if dates.decision == curve.decision)
    answers = tuple(LateAnswer(on, finish_day(booked.plan, finish)) for on, finish in curve.pairs)
    overdue = needed_by is not None and needed_by < booked.plan.calendar.day_of(booked.now)
    return Lateness(
        answers, needed_by, _moves_after(booked, curve.decision), dates.latest_by,
        cost_of(curve, booked, overdue),
    )


def _moves_after(booked: Schedule, decision: int) -> date:
    """By the dates that the page says, not by the visits: one that can't be kept is moved by no answer."""
    plan = booked.plan
    starts = [plan.calendar.day_of(booked.of(phase.id).early_start) for phase in plan.held[decision]]
    return min(answer_by(plan.calendar, start, plan.open_decisions[decision].lead_days) for start in starts)
