"""Until when it goes on, at one look: today's hook, the flag at the finish, and the words at their marks."""

from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.drawings.charts.span import DrawnSpan, Span, draw_span
from portal.pages.finish.done import Finish, done_words, promised_words
from portal.pages.outlook import Outlook
from portal.pages.where_and_when import days_of
from portal.store.facts import Snapshot
from portal.store.reading.desk_lines import owed
from portal.words.plurals import counted

_FAR_RIGHT = 0.5


@dataclass(frozen=True, slots=True)
class SpanSection:
    """`done` and `promised` in words, `answers` counted (empty: none is due). Shares of the width, in percent:
    `before` stands left of the words at the flag, or `after` right of them, `after_promise` right of those there."""

    done: str
    promised: str
    answers: str
    late: bool
    svg: Markup
    before: str
    after: str
    after_promise: str
    answers_far: bool


def span_section(snapshot: Snapshot, outlook: Outlook, finish: Finish | None, today: date) -> SpanSection | None:
    """None where nothing is planned, and where all is done."""
    if finish is None or finish.over:
        return None
    span = Span(
        today, max(finish.day, today), finish.promised, _visit_days(snapshot, outlook, today),
        *_answers(snapshot, outlook, today),
    )
    drawn = draw_span(span)
    ahead = sum(day >= today for day in span.answers)
    answers = f"{ahead} more" if ahead < len(span.answers) else counted(ahead, "answer")
    return SpanSection(
        done_words(finish, today), promised_words(finish, today), answers if ahead else "",
        finish.late, Markup(drawn.svg),
        before=_percent(drawn.flag) if drawn.soon else "", after="" if drawn.soon else _percent(1 - drawn.flag),
        after_promise="" if drawn.promised is None else _percent(1 - drawn.promised), answers_far=_far(drawn),
    )


def _visit_days(snapshot: Snapshot, outlook: Outlook, today: date) -> list[date]:
    calendar = outlook.booked.plan.calendar
    return sorted({day for visit in snapshot.visits for day in days_of(visit, calendar) if day >= today})


def _answers(snapshot: Snapshot, outlook: Outlook, today: date) -> tuple[list[date], bool]:
    """Days by which answers are due, and whether any is over, or a delivery."""
    due = [outlook.needed_by[one.id] for one in snapshot.decisions
           if one.is_open and one.id in outlook.needed_by and not owed(one)]
    missing = any(one.arrived_at is None and one.expected_high < today for one in snapshot.deliveries)
    return due, missing or any(day < today for day in due)


def _far(drawn: DrawnSpan) -> bool:
    return drawn.rings is not None and drawn.rings > _FAR_RIGHT


def _percent(share: float) -> str:
    return f"{max(0.0, share) * 100:.1f}%"
