"""What a later answer does, and who must give it: the sentences that stand a press away from the question."""

from collections.abc import Iterator
from datetime import date

from portal.pages.answers.who_answered import answered_sentences, called_in
from portal.pages.decision.moving import moving_sentences
from portal.pages.home.booked_words import booked_words
from portal.pages.home.contract import cancel_words, open_window
from portal.pages.outlook import Outlook
from portal.record.log.approval_history import ANY
from portal.store.facts import DecisionFact, Snapshot
from portal.words.dates import day_words, local
from portal.words.lists import listed, quoted


def later_sentences(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Iterator[str]:
    """What one more day costs first, then what waits, what moves, and the finish by the day of the answer."""
    lateness = outlook.lateness.get(decision.id)
    cost = lateness.cost(today, ours=decision.state == "asked_back") if lateness else ""
    yield from [cost] if cost else []
    waiting = [phase for phase in map(snapshot.phase, decision.holds) if phase.started_at is None]
    if waiting:
        dated = [", ".join(filter(None, (quoted([one.name]), booked_words(snapshot, outlook, one.id, today))))
                 for one in waiting if not any(each.decision_id == decision.id for each in one.releases)]
        yield from [f"We don’t start before you answer: {listed(dated)}."] if dated else []
    yield from lateness.sentences(today) if lateness else ()
    yield from moving_sentences(snapshot, outlook, decision, today)


def window_sentences(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Iterator[str]:
    """That the contract can still be cancelled when this answer is due."""
    window, needed_by = open_window(snapshot.project, today), outlook.needed_by.get(decision.id)
    if window is not None and needed_by is not None and needed_by <= window.ends:
        yield cancel_words(window)


def changed_sentences(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    """That the question was asked anew, when and why."""
    if decision.revision > 1:
        asked = day_words(local(decision.asked_at, snapshot.project.timezone).date())
        because = f" {decision.reason.rstrip('.')}." if decision.reason else ""
        yield f"The question changed on {asked}; an earlier answer no longer counts.{because}"


def who_answers(snapshot: Snapshot, decision: DecisionFact, reader: int | None) -> list[str]:
    """Who has chosen what, or whose answer it takes. To one of several of whom one is enough, as `you`."""
    others = [called_in(snapshot, one.id) for one in snapshot.owners if one.id != reader]
    mine = len(others) < len(snapshot.owners)
    if decision.approvers == ANY and not decision.approvals and mine and others:
        told = "the other is told" if len(others) == 1 else "the others are told"
        return [f"You or {listed(others, 'or')} may answer; {told}."]
    return answered_sentences(snapshot, decision)

