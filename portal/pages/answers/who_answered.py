"""Who of the household has answered a question, and what; in names, since one page is for all of them."""

from collections.abc import Iterator

from portal.record.log.approval_history import ALL, ANY
from portal.store.facts import DecisionFact, QuestionFact, Snapshot
from portal.words.dates import day_words, local
from portal.words.lists import listed, quoted
from portal.words.names import called


def answered_sentences(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    """Say of an open question who chose what, whom we wait for, and that they differ: `Maren chose “Keep it”; we wait
    for Jonas.` Before anybody has chosen, say whose answer it takes; nothing where only one person can answer."""
    if not decision.approvals:
        return list(_whose(snapshot, decision))
    return list(_given(snapshot, decision))


def enough_words(snapshot: Snapshot) -> str:
    """Say that one answer is enough: `One answer is enough: from Maren or Jonas.` Empty where only one can answer."""
    names = [called_in(snapshot, one.id) for one in snapshot.owners]
    return f"One answer is enough: from {listed(names, 'or')}." if len(names) > 1 else ""


def another_words(snapshot: Snapshot, question: QuestionFact) -> str:
    """Say who wants another option: `Jonas wants another option: “...” We look into it.`"""
    name = called(question.person, [one.name for one in snapshot.people])
    words = f"{name} wants another option: {quoted([question.text])}."
    if question.answer is None:
        return f"{words} We look into it."
    on = day_words(local(question.answered_at or 0, snapshot.project.timezone).date())
    return f"{words} {question.answered_by or 'We'} answered on {on}: {quoted([question.answer])}."


def called_in(snapshot: Snapshot, person_id: int) -> str:
    """What somebody of the household is called there; empty for whoever is not of it any more."""
    names = {one.id: one.name for one in snapshot.people}
    return called(names[person_id], names.values()) if person_id in names else ""


def missing(snapshot: Snapshot, decision: DecisionFact) -> list[str]:
    """Names of those whose answer it still takes, where all must agree, or one person is named."""
    given = {approval.person_id for approval in decision.approvals}
    wanted = [one.id for one in snapshot.owners if decision.approvers in (ALL, str(one.id))]
    return [called_in(snapshot, one) for one in wanted if one not in given]


def _whose(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    names = missing(snapshot, decision)
    if decision.approvers == ANY:
        enough = enough_words(snapshot)
        yield from [enough] if enough else []
    elif decision.approvers == ALL and len(names) > 1:
        yield f"{listed(names)} must agree on this."
    elif decision.approvers != ALL:
        yield f"This is for {listed(names) or 'a person no longer named here'} to answer."


def _given(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    chose = [
        f"{called_in(snapshot, one.person_id) or one.name} chose {quoted([title_of(decision, one.option)])}"
        for one in decision.approvals
    ]
    if decision.differ:
        yield f"{listed(chose)}."
        yield "They differ, so nothing is settled: we call."
        return
    names = missing(snapshot, decision)
    waits = f"; we wait for {listed(names)}" if names else ""
    yield f"{listed(chose)}{waits}."


def title_of(decision: DecisionFact, option: str) -> str:
    """The title of an option of a decision; of one that is not there, its key."""
    return str((decision.option(option) or {}).get("title", option))
