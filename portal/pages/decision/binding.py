"""What an approval means, in plain words, before it is given; and what it has set free, after."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from portal.pages.closed import unanswered_words
from portal.pages.decision.taking_back import taking_back_words
from portal.pages.home.asking import question_words
from portal.pages.home.booked_words import booked_words
from portal.pages.home.contract import price_with
from portal.pages.in_the_way import approvals_missing
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, PhaseFact, Snapshot
from portal.words.dates import dated_words, working_days
from portal.words.lists import listed, quoted


def binding_sentences(
    snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, option: dict[str, Any], today: date
) -> Iterator[str]:
    """That it binds, until when it can be taken back, the new price, the finish."""
    yield "This binds you: your typed name counts like your signature."
    yield taking_back_words(snapshot, outlook, decision, today)
    yield from price_with(snapshot, option)
    yield from _finish(outlook, option, today)


def open_questions(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    """A question that was asked back is not settled by an approval, and is not forgotten by it."""
    for question in decision.unanswered:
        yield question_words(question, snapshot.project.timezone, unanswered_words(decision))
    if decision.unanswered:
        yield "You need not wait for the answer, but you may. If you approve now, we still owe it."


def set_free(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Iterator[str]:
    """Of each phase that the approval no longer holds: when it comes, and what else it waits for."""
    for phase in (snapshot.phase(one) for one in decision.holds):
        if phase.started_at is None:
            yield " ".join(_free(snapshot, outlook, phase, today))


def _free(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> Iterator[str]:
    missing = approvals_missing(snapshot, phase)
    unasked = [one.question for one in snapshot.unasked(phase)]
    if missing:
        yield f"“{phase.name}” is still held until {missing}."
    if unasked:
        yield f"We still have to ask you {quoted(unasked)} before “{phase.name}” starts."
    if not missing and not unasked:
        yield f"“{phase.name}” is no longer held."
    booked = booked_words(snapshot, outlook, phase.id, today)
    starts = dated_words(outlook.starts[phase.id], today)
    yield f"It is {booked}." if booked else f"By today’s plan it starts on {starts}."
    before = [one.name for one in map(snapshot.phase, dict(phase.after)) if one.finished_at is None]
    if before:
        yield f"Before that comes: {quoted(before)}."
    ordered = [one.item for one in snapshot.deliveries if phase.id in one.phases and one.arrived_at is None]
    if ordered:
        yield f"It waits for what is ordered: {listed(ordered)}."


def _finish(outlook: Outlook, option: dict[str, Any], today: date) -> Iterator[str]:
    """By the plan as booked, which doesn't know yet what this choice takes or saves."""
    finish, days = outlook.finish, option.get("days") or 0
    if finish is None:
        return
    yield f"If you approve today, the whole job is done on {dated_words(finish, today)} by today’s plan."
    if days > 0:
        later = dated_words(outlook.booked.plan.calendar.add_days(finish, days), today)
        yield f"This choice takes {working_days(days)} more, so it may be {later}."
