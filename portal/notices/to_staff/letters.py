"""Letters to our own people: what a household has told us, and what waits for us. The desk lists the same; whoever gets
such a letter answers there."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from portal.notices.letter import Letter, wrapped_text
from portal.notices.letters.accepted import handover_of, list_words
from portal.pages.answers.who_answered import answered_sentences
from portal.pages.handover_words import accepted_words, what_words
from portal.pages.telling.words import said_of_visit, told_words
from portal.pages.where_and_when import hours_words
from portal.store.facts import DecisionFact, MessageFact, Snapshot, VisitAnswerFact, VisitFact
from portal.words.dates import day_words, local, when_words

About = dict[str, Any]


@dataclass(frozen=True, slots=True)
class StaffReader:
    """Whom it is for, what is true of the house now, and where its page at the desk is (ends in a slash)."""

    id: int
    name: str
    snapshot: Snapshot
    now: int
    desk: str

    @property
    def zone(self) -> str:
        return self.snapshot.project.timezone

    @property
    def house(self) -> str:
        return self.snapshot.project.name


def message(reader: StaffReader, about: About) -> Letter | None:
    """None once it is answered."""
    found = _owed(reader.snapshot, about)
    if found is None:
        return None
    words = [
        told_words(reader.snapshot, found),
        *(["A photo is with it."] if found.photo else []),
        *_phone(reader, found.person_id),
        "Read it and answer it here; the answer goes to them, and stands on their page:",
        f"{reader.desk}messages/{found.id}/answer",
    ]
    return Letter(f"{reader.house}: {found.person} told us something", words)


def visit_does_not_suit(reader: StaffReader, about: About) -> Letter | None:
    """None once it suits them after all, is moved, cancelled or over."""
    found = _unsuited(reader, about)
    if found is None:
        return None
    visit, said = found
    day = day_words(local(visit.starts_at, reader.zone).date())
    return Letter(f"{reader.house}: the visit on {day} does not suit {said.person}", [
        f"{visit.crew}, {visit.purpose}, {day}, {hours_words(visit, reader.zone)}.",
        said_of_visit(said),
        *_phone(reader, said.person_id),
        "Move it or leave it where it is, and tell them:",
        f"{reader.desk}visits/{visit.id}/change",
    ])


def handover_accepted(reader: StaffReader, about: About) -> Letter | None:
    """To our managers, with what is ours to finish; None where it is not there any more."""
    handover = handover_of(reader.snapshot, about)
    if handover is None or handover.accepted_at is None:
        return None
    what = what_words(reader.snapshot, handover)
    left = list(list_words(reader.snapshot, handover))
    return Letter(f"{reader.house}: a hand-over is accepted", [
        f"{what} was accepted by {accepted_words(reader.snapshot, handover)}.",
        *(["Ours to finish:", *left] if left else ["Nothing is left on its list."]),
        f"{reader.desk}handovers/",
    ])


def another_option(reader: StaffReader, about: About) -> Letter | None:
    """None once it is answered, or asked anew."""
    decision = _decision(reader.snapshot, about)
    wanted = [one for one in decision.unanswered if one.id == about["question"]] if decision else []
    if decision is None or not wanted:
        return None
    return Letter(f"{reader.house}, decision {decision.number}: {wanted[0].person} wants another option", [
        f"The question: “{decision.question}”",
        f"In their words: “{wanted[0].text}”",
        "Ask it again with another option, or answer them:",
        f"{reader.desk}decisions/{decision.id}/",
    ])  # fmt: skip


def they_differ(reader: StaffReader, about: About) -> Letter | None:
    """None once they no longer do."""
    decision = _decision(reader.snapshot, about)
    if decision is None or not decision.differ:
        return None
    return Letter(f"{reader.house}, decision {decision.number}: they differ, please call", [
        f"The question: “{decision.question}”",
        *answered_sentences(reader.snapshot, decision),
        *(f"{one.name}: {one.phone}" for one in reader.snapshot.owners if one.phone),
        "One of them takes the choice back on their page, and chooses again. The question at the desk:",
        f"{reader.desk}decisions/{decision.id}/",
    ])  # fmt: skip


def house_handed_over(reader: StaffReader, about: About) -> Letter | None:
    """None once somebody else runs it."""
    if reader.snapshot.project.responsible_id != reader.id:
        return None
    return Letter(f"{reader.house} is yours to run from now on", [
        f"{about['by']} handed it over to you: {reader.house}, {reader.snapshot.project.address}.",
        "What the household tells us, and what waits for us there, is written to you from now on.",
        reader.desk,
    ])


STAFF_KINDS: dict[str, Callable[[StaffReader, About], Letter | None]] = {
    "message": message, "visit_does_not_suit": visit_does_not_suit,
    "handover_accepted": handover_accepted, "another_option": another_option, "they_differ": they_differ,
    "house_handed_over": house_handed_over,
}
"""The letter of each kind; None: there is nothing to do about it any more."""


def staff_text(letter: Letter, reader: StaffReader) -> str:
    """The whole text: greeting, paragraphs, as of when."""
    closing = f"This is as of {when_words(reader.now, reader.zone)}. The house at the desk: {reader.desk}"
    return wrapped_text([f"Hello {reader.name},", *letter.paragraphs, closing])


def _decision(snapshot: Snapshot, about: About) -> DecisionFact | None:
    return next((one for one in snapshot.decisions if one.id == about["decision"]), None)


def _owed(snapshot: Snapshot, about: About) -> MessageFact | None:
    return next((one for one in snapshot.owed_messages if one.id == about["message"]), None)


def _unsuited(reader: StaffReader, about: About) -> tuple[VisitFact, VisitAnswerFact] | None:
    for visit, said in reader.snapshot.unsuited(reader.now):
        if (visit.id, said.person_id) == (about["visit"], about["person"]):
            return visit, said
    return None


def _phone(reader: StaffReader, person_id: int) -> Iterator[str]:
    phone = next((one.phone for one in reader.snapshot.people if one.id == person_id), "")
    if phone:
        yield f"Their phone: {phone}"
