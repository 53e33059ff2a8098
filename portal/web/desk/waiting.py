"""Who waits on whom in a project: open decisions by the date they are needed by, and what we owe an answer to."""

from dataclasses import dataclass
from datetime import date

from portal.pages.outlook import Outlook
from portal.pages.words import near_words
from portal.store.facts import DecisionFact, QuestionFact, Snapshot


@dataclass(frozen=True, slots=True)
class Waiting:
    """One open decision. `ours`: we owe an answer first, to `unanswered`."""

    decision: DecisionFact
    needed_by: date | None
    words: str
    late: bool
    ours: bool
    unanswered: list[QuestionFact]


def waiting_of(snapshot: Snapshot, outlook: Outlook, today: date) -> list[Waiting]:
    """The nearest date first, those without a date last."""
    found = [_waiting(outlook, decision, today) for decision in snapshot.decisions if decision.is_open]
    return sorted(found, key=lambda one: (one.needed_by or date.max, one.decision.number))


def _waiting(outlook: Outlook, decision: DecisionFact, today: date) -> Waiting:
    day, ours = outlook.needed_by.get(decision.id), decision.state == "asked_back"
    late = day is not None and day < today
    whom = "The household waits for our answer on" if ours else "We wait for the household on"
    by = "" if day is None else f", needed by {near_words(day, today)}"
    words = f"{whom} decision {decision.number}, “{decision.question}”{by}.{' It is late.' if late else ''}"
    return Waiting(decision, day, words, late, ours, [one for one in decision.questions if one.answer is None])
