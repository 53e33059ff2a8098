"""Who waits on whom in a project: open decisions by the date they are needed by, and what we owe an answer to."""

from dataclasses import dataclass
from datetime import date

from portal.pages.answers.who_answered import answered_sentences
from portal.pages.home.asking import withdrawal_sentences
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, QuestionFact, Snapshot
from portal.store.reading.desk_lines import Waits, owed, waits_of
from portal.words.dates import near_words


@dataclass(frozen=True, slots=True)
class Waiting:
    """One open decision, or one that is approved while we owe an answer. `ours`: we do, to `unanswered`."""

    decision: DecisionFact
    needed_by: date | None
    words: str
    late: bool
    ours: bool
    unanswered: list[QuestionFact]


def waiting_of(snapshot: Snapshot, outlook: Outlook, today: date) -> list[Waiting]:
    """The nearest date first, those without a date last."""
    found = [
        _waiting(snapshot, outlook, decision, today)
        for decision in snapshot.decisions if decision.is_open or decision.unanswered
    ]
    return sorted(found, key=lambda one: (one.needed_by or date.max, one.decision.number))


def waiting_words(one: Waits, today: date) -> str:
    if one.kind == "message" and one.needed_by:
        return f"{one.person} told us something {_on(one.needed_by, today)}: “{one.question}” We owe an answer."
    if one.kind == "visit" and one.needed_by:
        return f"The visit {_on(one.needed_by, today)} does not suit {one.person} (“{one.question}”)."
    whom = _whom(one)
    by = "" if one.needed_by is None else f", needed by {near_words(one.needed_by, today)}"
    return f"{whom} decision {one.number}, “{one.question}”{by}.{' It is late.' if is_late(one, today) else ''}"


def _whom(one: Waits) -> str:
    if one.another:
        return "The household wants another option than those of"
    if one.ours:
        return "The household waits for our answer on"
    return "They differ, so call them about" if one.differ else "We wait for the household on"


def is_late(one: Waits, today: date) -> bool:
    return one.kind == "decision" and one.needed_by is not None and one.needed_by < today


def _on(day: date, today: date) -> str:
    """`today, Wed Dec 2`, or `on Wed Dec 2`."""
    words = near_words(day, today)
    return words if words.startswith(("today", "tomorrow")) else f"on {words}"


def _waiting(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> Waiting:
    day, ours = outlook.needed_by.get(decision.id) if decision.is_open else None, owed(decision)
    one = waits_of(decision, day)
    words = [waiting_words(one, today), *withdrawal_sentences(snapshot, decision)]
    if decision.differ:
        words += answered_sentences(snapshot, decision)
    if not decision.is_open:
        words.append("It is approved all the same.")
    return Waiting(decision, day, " ".join(words), is_late(one, today), ours, decision.unanswered)
