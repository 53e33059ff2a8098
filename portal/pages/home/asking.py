"""What is said of an open question wherever it is asked: by when, what a later answer does, who must give it, what was
asked back. The cards of the page stand in portal.pages.cards."""

from collections.abc import Iterator
from datetime import date

from portal.pages.answers.who_answered import answered_sentences
from portal.pages.closed import unanswered_words
from portal.pages.home.booked_words import booked_words
from portal.pages.home.contract import cancel_words, open_window
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, PhaseFact, QuestionFact, Snapshot
from portal.words.dates import dated_words, day_words, local, near_words, when_words
from portal.words.lists import listed, quoted


def urgency_words(needed_by: date | None, today: date, ours: bool = False) -> str:
    """`ours`: we owe an answer first, and say so."""
    if ours and needed_by is not None and needed_by < today:
        was = dated_words(needed_by, today)
        return f"Your answer was needed by {was}. Until we have answered you, the delay is ours."
    if ours:
        then = f" by {near_words(needed_by, today)}" if needed_by else ""
        return f"Once you have our answer, we need yours{then}."
    if needed_by is None:
        return "No date depends on this yet, but please don’t leave it lying."
    if needed_by < today:
        return f"We needed your answer by {dated_words(needed_by, today)}. It is late: please answer now."
    if needed_by == today:
        return f"Please answer {near_words(needed_by, today)}."
    return f"Please answer by {near_words(needed_by, today)}."


def consequences(
    snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date, reader: int | None = None
) -> Iterator[str]:
    """What waits for the answer, what a later one moves, whose answer it takes and who has given it. `reader`: the
    person who reads."""
    held = [snapshot.phase(phase) for phase in decision.holds]
    waiting = [phase for phase in held if phase.started_at is None and not _released(snapshot, phase.id, decision.id)]
    if waiting:
        dated = [_with_date(snapshot, outlook, phase, today) for phase in waiting]
        yield f"Until this is approved we don’t start: {listed(dated)}."
    if decision.id in outlook.lateness:
        costs = " ".join(outlook.lateness[decision.id].sentences(today))
        yield from [costs] if costs else []
    window, needed_by = open_window(snapshot.project, today), outlook.needed_by.get(decision.id)
    if window is not None and needed_by is not None and needed_by <= window.ends:
        yield cancel_words(window)
    yield from answered_sentences(snapshot, decision)
    yield from withdrawal_sentences(snapshot, decision, reader)
    if decision.revision > 1:
        asked = day_words(local(decision.asked_at, snapshot.project.timezone).date())
        because = f" {decision.reason.rstrip('.')}." if decision.reason else ""
        yield f"The question changed on {asked}; an earlier answer no longer counts.{because}"


def withdrawal_sentences(snapshot: Snapshot, decision: DecisionFact, reader: int | None = None) -> Iterator[str]:
    """Approvals that were taken back. `reader`: the person who reads; what they did is said to them."""
    for one in decision.withdrawals:
        title = (decision.option(one.option) or {}).get("title", one.option)
        on = when_words(one.at, snapshot.project.timezone)
        because = f" Why: {one.reason.rstrip('.')}." if one.reason else ""
        if one.entered_by:
            yield f"{one.entered_by} took back on {on} what had been entered as signed by {one.person}.{because}"
        elif one.person_id == reader:
            yield f"You took your approval of “{title}” back on {on}. It no longer counts.{because}"
        else:
            yield f"{one.person} took the approval of “{title}” back on {on}.{because}"


def question_sentences(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    for question in decision.questions:
        yield question_words(question, snapshot.project.timezone, unanswered_words(decision))


def question_words(question: QuestionFact, zone: str, unanswered: str) -> str:
    """`unanswered`: what is said where there is no answer."""
    asked = day_words(local(question.asked_at, zone).date())
    words = f"{question.person} asked on {asked}: “{question.text}”"
    if question.answer is None or question.answered_at is None:
        return f"{words} {unanswered}"
    answered = day_words(local(question.answered_at, zone).date())
    return f"{words} {question.answered_by or 'We'} answered on {answered}: “{question.answer}”"


def _with_date(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> str:
    booked = booked_words(snapshot, outlook, phase.id, today)
    return ", ".join(filter(None, [quoted([phase.name]), booked]))


def _released(snapshot: Snapshot, phase_id: int, decision_id: int) -> bool:
    return any(release.decision_id == decision_id for release in snapshot.phase(phase_id).releases)
