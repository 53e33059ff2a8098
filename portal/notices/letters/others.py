"""Letters that tell an owner what another of the household did to a question: chose, took it back, asked, or wanted
another option."""

from collections.abc import Iterator
from typing import Any

from portal.notices.asking import ONLY_THERE, urgency, waits_for
from portal.notices.letter import Letter, Reader
from portal.notices.letters.asked_words import named
from portal.pages.answers.who_answered import answered_sentences, called_in, title_of
from portal.store.facts import ANOTHER_OPTION, QUESTION, DecisionFact, QuestionFact, Snapshot
from portal.words.dates import when_words
from portal.words.lists import quoted

About = dict[str, Any]


def other_owner(reader: Reader, about: About) -> Letter | None:
    """None once it is no longer so: the choice was taken back, or made again; the question was asked anew."""
    decision = still_so(reader.snapshot, about)
    name = called_in(reader.snapshot, about["person"])
    if decision is None or not name:
        return None
    did = f"{name} {did_words(decision, about)}"
    return Letter(f"{reader.house}, question {decision.number}: {did}", [
        f"{did}. The question: “{decision.question}”", *_said(reader, decision, about), *_then(reader, decision),
        reader.way_to(decision), *([ONLY_THERE] if waits_for(reader.snapshot, decision, reader.person) else []),
    ])  # fmt: skip


def still_so(snapshot: Snapshot, about: About) -> DecisionFact | None:
    """The decision, while what was done to this revision of it still stands as it was told."""
    decision = next((one for one in snapshot.decisions if one.id == about["decision"]), None)
    if decision is None or decision.revision != about["revision"] or decision.withdrawn:
        return None
    chose = any(one.person_id == about["person"] for one in decision.approvals)
    if about["did"] in (QUESTION, ANOTHER_OPTION):
        return decision if _question(decision, about) else None
    return decision if chose == (about["did"] == "approved") else None


def did_words(decision: DecisionFact, about: About) -> str:
    """Say what they did: `chose “Keep it”`."""
    if about["did"] == "approved":
        return f"chose {quoted([title_of(decision, about['option'])])}"
    return {QUESTION: "asked us something", ANOTHER_OPTION: "wants another option"}.get(
        about["did"], "took the choice back")


def told(about: About, zone: str) -> str:
    """What the office says of it by phone."""
    words = {
        "approved": "Another owner chose", "taken_back": "Another owner took the choice back",
        QUESTION: "Another owner asked us something", ANOTHER_OPTION: "Another owner wants another option",
    }  # fmt: skip
    return f"{words[about['did']]}: {named(about)}."


def _said(reader: Reader, decision: DecisionFact, about: About) -> Iterator[str]:
    question = _question(decision, about)
    if question is not None:
        when = when_words(question.asked_at, reader.zone)
        yield f"In their words, on {when}: {quoted([question.text])}"
    elif about["did"] == "approved":
        mine = next(one for one in decision.approvals if one.person_id == about["person"])
        yield f"That was on {when_words(mine.at, reader.zone)}."


def _then(reader: Reader, decision: DecisionFact) -> Iterator[str]:
    """How the question stands now, and whether this reader is still asked."""
    if decision.state == "approved":
        yield "It is approved: no other answer is needed."
        return
    yield from answered_sentences(reader.snapshot, decision)
    if decision.differ:
        yield "To agree, one of you takes the choice back on that page, and chooses again."
    elif waits_for(reader.snapshot, decision, reader.person):
        yield urgency(reader, decision)


def _question(decision: DecisionFact, about: About) -> QuestionFact | None:
    return next((one for one in decision.questions if one.id == about.get("question")), None)
