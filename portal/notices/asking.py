"""Letters that ask: a decision, a decision that has changed, a reminder, and the link to one's own page; and that an
answer is needed no more."""

from collections.abc import Iterator

from portal.notices.letter import Letter, Reader
from portal.pages.closed import closed_words
from portal.pages.decision.decision_page import Option, options_of
from portal.pages.home.asking import consequences, urgency_words
from portal.pages.undoing.taken_back import opened_again_words
from portal.store.facts import DecisionFact, PersonFact, Snapshot
from portal.words.dates import dated_words

ONLY_THERE = "Only an answer on that page counts, not one by phone or mail."


def asked(reader: Reader, decision_id: int, revision: int) -> Letter | None:
    """None once it is answered, asked anew, or no longer this person's to answer."""
    decision = still_asked(reader.snapshot, reader.person, decision_id, revision)
    if decision is None:
        return None
    if revision > 1:
        opening = "This question has changed, so we ask you again."
        return Letter(_subject(reader, decision, "has changed"), [opening, *_question(reader, decision)])
    opening = "We need your answer."
    return Letter(_subject(reader, decision), [opening, *_question(reader, decision)])


def reminder(reader: Reader, decision_id: int, revision: int) -> Letter | None:
    decision = still_theirs(reader.snapshot, reader.person, decision_id, revision)
    if decision is None:
        return None
    opening = "A reminder: we still need your answer."
    return Letter(_subject(reader, decision, "is still open"), [opening, *_question(reader, decision)])


def withdrawn(reader: Reader, decision_id: int, revision: int) -> Letter | None:
    """None once it is asked again."""
    decision = still_withdrawn(reader.snapshot, decision_id, revision)
    if decision is None:
        return None
    return Letter(
        f"{reader.house}, question {decision.number} is withdrawn: no answer is needed",
        [
            f"We asked you a question about the {reader.house}: “{decision.question}”",
            closed_words(reader.snapshot, decision),
            "If you have a printed sheet of it, don’t sign it. You can still read the question:",
            reader.way_to(decision),
        ],
    )


def opened_again(reader: Reader, decision_id: int, revision: int, phase: str) -> Letter | None:
    """None once it is answered, asked anew, or closed again."""
    decision = still_asked(reader.snapshot, reader.person, decision_id, revision)
    if decision is None:
        return None
    return Letter(
        _subject(reader, decision, "is open again"),
        [f"{opened_again_words(phase)} So this question is open again.", *_question(reader, decision)],
    )


def still_withdrawn(snapshot: Snapshot, decision_id: int, revision: int) -> DecisionFact | None:
    """The decision, while this revision of it is withdrawn."""
    decision = next((one for one in snapshot.decisions if one.id == decision_id), None)
    return decision if decision and decision.withdrawn and decision.revision == revision else None


def own_link(reader: Reader) -> Letter:
    """The way to the page, and to each decision that waits for this person."""
    waiting = [one for one in reader.snapshot.decisions if waits_for(reader.snapshot, one, reader.person)]
    paragraphs = [
        f"This is your own page of the {reader.house}: who comes, what needs your answer, what works tonight.",
        reader.link,
    ]
    if waiting:
        paragraphs.append("To answer, open the question and choose there:")
        for one in waiting:
            paragraphs += [f"- Question {one.number}: “{one.question}” {urgency(reader, one)}", reader.way_to(one)]
        paragraphs.append(ONLY_THERE.replace("that page", "your page"))
    return Letter(f"Your page of the {reader.house}", paragraphs)


def still_asked(snapshot: Snapshot, person_id: int, decision_id: int, revision: int) -> DecisionFact | None:
    """The decision, while this revision of it is this person's to answer."""
    decision = next((one for one in snapshot.decisions if one.id == decision_id), None)
    if decision is None or decision.revision != revision or not waits_for(snapshot, decision, person_id):
        return None
    return decision


def still_theirs(snapshot: Snapshot, person_id: int, decision_id: int, revision: int) -> DecisionFact | None:
    """The same, unless it is our turn: they asked back."""
    decision = still_asked(snapshot, person_id, decision_id, revision)
    return None if decision is None or decision.state == "asked_back" else decision


def waits_for(snapshot: Snapshot, decision: DecisionFact, person_id: int) -> bool:
    """Whether the decision is this person's to answer: open, and not approved by them yet."""
    person = next((one for one in snapshot.people if one.id == person_id), None)
    given = {approval.person_id for approval in decision.approvals}
    return decision.is_open and person is not None and person_id not in given and _may(person, decision)


def _may(person: PersonFact, decision: DecisionFact) -> bool:
    named = decision.approvers in ("any", "all", str(person.id))
    return person.role == "homeowner" and person.may_approve and named


def _subject(reader: Reader, decision: DecisionFact, what: str = "") -> str:
    needed_by = reader.outlook.needed_by.get(decision.id)
    if needed_by is None:
        wish = "please answer"
    elif needed_by < reader.today:
        wish = "your answer is late"
    else:
        wish = f"please answer by {dated_words(needed_by, reader.today)}"
    return f"{reader.house}, question {decision.number}{f' {what}' if what else ''}: {wish}"


def _question(reader: Reader, decision: DecisionFact) -> Iterator[str]:
    yield f"Question {decision.number}, {reader.snapshot.room_name(decision.room_id)}: “{decision.question}”"
    yield urgency(reader, decision)
    yield from consequences(reader.snapshot, reader.outlook, decision, reader.today)
    yield "The choices:"
    yield from (f"- {' '.join(_option(option))}" for option in options_of(decision))
    yield "See them and answer here:"
    yield reader.way_to(decision)
    yield ONLY_THERE


def _option(option: Option) -> Iterator[str]:
    yield f"“{option.title}”"
    if option.fails:
        yield f"Before you choose it: it does not pass all checks. {option.fails}"
    if option.recommended:
        yield "We recommend this."
    yield from option.sentences
    if option.cannot_be_undone:
        yield f"Can’t be undone: {option.cannot_be_undone}"


def urgency(reader: Reader, decision: DecisionFact) -> str:
    ours = decision.state == "asked_back"  # by another of the household, perhaps
    return urgency_words(reader.outlook.needed_by.get(decision.id), reader.today, ours)
