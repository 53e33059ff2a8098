"""What a later answer does, in words and as a small drawing: from the curve of the finish by the day of the answer."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.drawings.late_curve import LateAnswer, late_curve
from portal.pages.words import dated_words
from portal.planning.late import Curve
from portal.planning.schedule import Schedule

_STEADY = 5  # working days after the first step that must all cost a day, to say that each one does


@dataclass(frozen=True, slots=True)
class Lateness:
    """Finish dates by answer date as booked, from today on. `needed_by`: the date that we ask for; `moves_after`: the
    last answer that leaves the held work on the day that the page says, which is later when what it follows is booked
    late; `latest_by`: the last one that keeps the finish."""

    answers: tuple[LateAnswer, ...]
    needed_by: date | None
    moves_after: date | None
    latest_by: date | None

    def sentences(self, today: date) -> Iterator[str]:
        if self.moves_after is not None and self.moves_after >= today and self.latest_by != self.moves_after:
            yield f"If the answer comes after {dated_words(self.moves_after, today)}, that work moves to a later day."
        step = self._first_step()
        if step is None:
            return
        last, after = self.answers[step - 1], self.answers[step]
        finish, moved = dated_words(last.finish, today), dated_words(after.finish, today)
        yield f"With an answer by {dated_words(last.on, today)}, the whole job is done on {finish}."
        yield f"With an answer on {dated_words(after.on, today)}, it is done on {moved}."
        if self._steady(step):
            yield "From then on, each working day of waiting moves the finish."

    def drawing(self) -> Markup:
        """Inline SVG; it holds dates and figures of ours alone. It marks whole days, as the sentences say them."""
        step = self._first_step()
        return Markup(late_curve(self.answers, self.needed_by, self.answers[step - 1].on if step else None))

    def _first_step(self) -> int | None:
        return next((at for at, one in enumerate(self.answers) if one.finish > self.answers[0].finish), None)

    def _steady(self, step: int) -> bool:
        finishes = [one.finish for one in self.answers[step:step + _STEADY + 1]]
        return len(finishes) > 1 and all(one < two for one, two in zip(finishes, finishes[1:], strict=False))


def lateness_of(curve: Curve, booked: Schedule, needed_by: date | None) -> Lateness:
    day_of = booked.plan.calendar.day_of
    dates = next(dates for dates in booked.decisions if dates.decision == curve.decision)
    answers = tuple(LateAnswer(on, day_of(finish)) for on, finish in curve.rows)
    return Lateness(answers, needed_by, dates.needed_by, dates.latest_by)
