"""How far a phase is, in a line for the household: its state, and the day of that."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.drawings.vignettes.folding_rule import DONE, HELD, NOW, OPEN
from portal.pages.outlook import Outlook
from portal.store.facts import PhaseFact, Snapshot
from portal.words.dates import dated_words, local
from portal.words.lists import listed
from portal.words.plurals import counted


@dataclass(frozen=True, slots=True)
class PhaseLine:
    """`state`: of drawings.vignettes.folding_rule; `words`: the same, with its day; `more`: sentences."""

    name: str
    state: str
    words: str
    more: tuple[str, ...] = ()


def phase_line(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> PhaseLine:
    """Say how far a phase is. What it waits for comes before its day: the day counts on that."""
    say = _left if snapshot.stopped and phase.finished_at is None else _BY_STATE.get(phase.state, _waiting)
    state, words = say(snapshot, outlook, phase, today)
    return PhaseLine(phase.name, state, words, tuple(_more(snapshot, phase, today)))


def _done(snapshot: Snapshot, _: Outlook, phase: PhaseFact, today: date) -> tuple[str, str]:
    return DONE, f"done {_on(snapshot, phase.finished_at, today)}"


def _under_way(_: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> tuple[str, str]:
    finish = outlook.finishes.get(phase.id)
    return NOW, f"under way, until {dated_words(finish, today)}" if finish else "under way"


def _left(_: Snapshot, __: Outlook, phase: PhaseFact, ___: date) -> tuple[str, str]:
    """Of a job that ended early: nobody goes on with it, and no day is foreseen."""
    return (OPEN, "not begun") if phase.started_at is None else (NOW, "begun, not finished")


def _stopped(snapshot: Snapshot, _: Outlook, phase: PhaseFact, today: date) -> tuple[str, str]:
    goes_on = _on(snapshot, phase.resumes_at, today)
    then = f"goes on {goes_on}" if goes_on else "nobody knows yet until when"
    return NOW, f"stopped {_on(snapshot, phase.stopped_at, today)}, {then}"


def _inspection(snapshot: Snapshot, _: Outlook, phase: PhaseFact, today: date) -> tuple[str, str]:
    return NOW, ", ".join(filter(None, ["waits for the inspector", _on(snapshot, phase.inspection_at, today)]))


def _waiting(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, today: date) -> tuple[str, str]:
    waits = list(waits_for(snapshot, phase))
    starts = f"starts {dated_words(outlook.starts[phase.id], today)}"
    return (HELD, f"waits for {listed(waits)}, {starts}") if waits else (OPEN, starts)


_BY_STATE = {"done": _done, "under_way": _under_way, "stopped": _stopped, "inspection": _inspection}


def waits_for(snapshot: Snapshot, phase: PhaseFact) -> Iterator[str]:
    """Name whom and what a phase waits for that has not begun: answers, our own questions, deliveries."""
    holding = snapshot.holding(phase)
    ours = [one for one in holding if one.withdrawn or one.state == "asked_back"]
    if yours := len(holding) - len(ours):
        yield "your answer" if yours == 1 else counted(yours, "answer")
    if any(not one.withdrawn for one in ours):
        yield "our answer to you"
    if snapshot.unasked(phase) or any(one.withdrawn for one in ours):
        yield "a question we still have to ask"
    for delivery in snapshot.deliveries:
        if phase.id in delivery.phases and delivery.arrived_at is None:
            yield f"a delivery ({delivery.item})"


def _more(snapshot: Snapshot, phase: PhaseFact, today: date) -> Iterator[str]:
    """Why it was stopped, and who of us let it start without an answer: that stays on the page for good."""
    if phase.state == "stopped" and phase.stopped_reason:
        yield f"{phase.stopped_reason.rstrip('.')}."
    for release in phase.releases:
        asked = snapshot.decision(release.decision_id).question
        yield _let_start(release.staff, asked, _on(snapshot, release.at, today), release.reason)
    for decision in map(snapshot.decision, phase.held_by):
        if (one := decision.withdrawn) and one.lifts_hold:
            yield _let_start(one.staff, decision.question, _on(snapshot, one.at, today), one.reason)


def _let_start(staff: str, question: str, on: str, reason: str) -> str:
    return f"{staff} let it start without an answer to “{question}” ({on}): {reason.rstrip('.')}."


def _on(snapshot: Snapshot, at: int | None, today: date) -> str:
    return "" if at is None else dated_words(local(at, snapshot.project.timezone).date(), today)
