"""What we owe the household: answers to what they asked or wrote, another option, and what is open of a hand-over."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.answers.who_answered import another_words
from portal.pages.cards.card import leads_to
from portal.pages.handover_words import item_words, what_words
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, QuestionFact, Snapshot
from portal.words.dates import dated_words, day_words, local
from portal.words.lists import quoted
from portal.words.names import called


@dataclass(frozen=True, slots=True)
class Owed:
    """`said`: what they asked or wrote, in its words; `ours`: what we do; `then`: what comes after it. `leads`: where
    more of it stands, `way` the words of that link; both empty where there is nothing more."""

    said: str
    ours: str
    then: str = ""
    leads: str = ""
    way: str = ""


def owed_section(snapshot: Snapshot, outlook: Outlook, today: date) -> list[Owed]:
    """Everything that we owe, answers first."""
    return [*_answers(snapshot, outlook, today), *_messages(snapshot), *_items(snapshot)]


def _answers(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Owed]:
    for decision in snapshot.decisions:
        for question in decision.unanswered:
            then = _then(outlook, decision, today)
            if question.wants_another:
                said, ours = another_words(snapshot, question), ""
            else:
                said, ours = f"{_asked(snapshot, question)} “{question.text}”", "Our answer is due."
            yield Owed(said, ours, then, leads_to(decision), f"About {quoted([decision.question])}")


def _asked(snapshot: Snapshot, question: QuestionFact) -> str:
    name = called(question.person, [one.name for one in snapshot.people])
    return f"{name} asked on {day_words(local(question.asked_at, snapshot.project.timezone).date())}:"


def _then(outlook: Outlook, decision: DecisionFact, today: date) -> str:
    """What we need from them once we have answered; of what is late by then, whose delay that is."""
    needed_by = outlook.needed_by.get(decision.id)
    if decision.state != "asked_back" or not decision.is_open:
        return ""
    if needed_by is not None and needed_by < today:
        return f"The choice was due {dated_words(needed_by, today)}: until we answer, the delay is ours."
    return f"Then you choose{f', by {dated_words(needed_by, today)}' if needed_by else ''}."


def _messages(snapshot: Snapshot) -> Iterator[Owed]:
    zone, names = snapshot.project.timezone, [one.name for one in snapshot.people]
    for one in snapshot.owed_messages:
        on = day_words(local(one.told_at, zone).date())
        said = f"{called(one.person, names)} wrote on {on}: “{one.text}”"
        yield Owed(said, "Our answer is due.")


def _items(snapshot: Snapshot) -> Iterator[Owed]:
    for handover in snapshot.handovers:
        leads, way = f"handovers/{handover.id}/", f"See the hand-over: {what_words(snapshot, handover)}"
        for item in handover.still_open:
            yield Owed(item_words(snapshot, item), "We mend this.", leads=leads, way=way)
