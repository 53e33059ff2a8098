"""What an approval means, before it is given: when the whole job is then done, and what is still open."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from portal.pages.closed import unanswered_words
from portal.pages.home.asking import question_words
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, Snapshot
from portal.words.dates import dated_words


def open_questions(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    """A question that was asked back is not settled by an approval, and is not forgotten by it."""
    for question in decision.unanswered:
        yield question_words(question, snapshot.project.timezone, unanswered_words(decision))
    if decision.unanswered:
        yield "You need not wait for the answer, but you may. If you approve now, we still owe it."


def finish_with(outlook: Outlook, option: dict[str, Any], today: date) -> str:
    """When the whole job is done if this option is approved today: `done Thu Dec 24`. By the plan as booked, which
    doesn't know yet what this choice takes: where that is days, they are added. Empty where no finish is known."""
    finish, days = outlook.finish, option.get("days") or 0
    if finish is None:
        return ""
    if days <= 0:
        return f"done {dated_words(finish, today)}"
    return f"done by {dated_words(outlook.booked.plan.calendar.add_days(finish, days), today)}"
