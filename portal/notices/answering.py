"""Letters that answer: the receipt of an approval, and what we say to a question asked back."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from portal.notices.asking import ONLY_THERE, urgency, waits_for
from portal.notices.letter import Letter, Reader
from portal.notices.letters.accepted import accepted_by_you
from portal.pages.decision.decision_page import options_of
from portal.pages.decision.taking_back import taking_back_on_receipt
from portal.pages.evidence.entry_words import entry_when
from portal.pages.home.asking import question_sentences
from portal.pages.telling.words import about_where
from portal.pages.without_sums import prices_words, without
from portal.record.log.heads import key_name
from portal.record.papers.receipt import parse_receipt
from portal.store.facts import DecisionFact
from portal.words.codes import short_code
from portal.words.dates import day_words, local, time_words, when_words
from portal.words.money import price_words


def receipt(reader: Reader, file: bytes) -> Letter:
    """The copy in words, from the entry itself, with the file that proves it. It is sent whatever came after."""
    found = parse_receipt(file)
    if found.entry["kind"] == "handover_accepted":
        return accepted_by_you(reader, found, file)
    if not reader.snapshot.sums:  # they were an owner when they approved
        return _receipt_in_words(reader, without(found.entry))
    entry, body = found.entry, found.entry["body"]
    number, sequence = body["decision"], entry["sequence"]
    return Letter(
        f"{reader.house}, question {number}: your approval is kept",
        [
            *_approved(reader, entry),
            f"The attached file, receipt-{sequence}.json, is your receipt: it proves what you approved, and when.",
            f"Our key is called {key_name(found.signed.public_key)}. How anyone can check the receipt, without us:",
            f"{reader.guide}check-the-record/",
            "The same, to read:",
            f"{reader.link}record/{sequence}/",
            taking_back_on_receipt(reader.snapshot, reader.outlook, entry, reader.today),
            f"{reader.link}decisions/{number}/",
        ],
        file, f"receipt-{sequence}.json",
    )


def _receipt_in_words(reader: Reader, entry: dict[str, Any]) -> Letter:
    """Without the file, which holds the price."""
    paragraphs = [*_approved(reader, entry), prices_words(reader.snapshot)]
    return Letter(f"{reader.house}, question {entry['body']['decision']}: your approval is kept", paragraphs)


def answered(reader: Reader, decision_id: int, question_id: int) -> Letter | None:
    decision = reader.decision(decision_id)
    words = _words_of(reader, decision, question_id) if decision else None
    if decision is None or words is None:
        return None
    opening = f"You asked us something about question {decision.number}, “{decision.question}”. Here is the answer."
    paragraphs = [opening, words]
    if waits_for(reader.snapshot, decision, reader.person):
        paragraphs += [urgency(reader, decision), reader.way_to(decision), ONLY_THERE]
    return Letter(f"{reader.house}, question {decision.number}: our answer to your question", paragraphs)


def message_answered(reader: Reader, message_id: int) -> Letter | None:
    message = next((one for one in reader.snapshot.messages if one.id == message_id), None)
    if message is None or message.answer is None:
        return None
    on = day_words(local(message.told_at, reader.zone).date())
    return Letter(f"{reader.house}: our answer to what you told us", [
        f"On {on} you told us{about_where(reader.snapshot, message)}: “{message.text}”",
        f"{message.answered_by or 'We'} answered: “{message.answer}”",
        "The same, to read:",
        f"{reader.link}messages/{message.id}/",
    ])


def taken_back(reader: Reader, about: dict[str, Any]) -> Letter:
    """Sent whatever came after: they were told that they had signed."""
    decision, number = reader.decision(about["decision"]), about["number"]
    paragraphs = [
        f"On {when_words(about['entered_at'], reader.zone)} we entered your signature on paper for question {number}.",
        "That was our mistake, and we have taken it back: it no longer counts.",
        f"Why: {about['because'].rstrip('.')}.",
    ]
    if decision is not None and waits_for(reader.snapshot, decision, reader.person):
        paragraphs += [f"The question is open: “{decision.question}”", urgency(reader, decision)]
        paragraphs += [reader.way_to(decision), ONLY_THERE]
    return Letter(f"{reader.house}, question {number}: we took back what we had entered", paragraphs)


def _approved(reader: Reader, entry: dict[str, Any]) -> Iterator[str]:
    body = entry["body"]
    when, title = entry_when(entry, reader.zone), f"“{body['title']}”"
    if body.get("on_paper"):
        dated = f" of {_dated(body['signed_on'])}" if body.get("signed_on") else ""
        yield f"On {when} we entered your signature on paper{dated} under {title} for question {body['decision']}."
        yield "If you did not sign that, call us at once."
    else:
        yield f"On {when} you approved {title} for question {body['decision']}, as {body['name']}."
    decision = next((one for one in reader.snapshot.decisions if one.number == body["decision"]), None)
    if decision is not None and decision.revision == body["revision"]:
        yield f"The question was: “{decision.question}”"
        yield from _what_it_does(decision, body["option"])
    yield " ".join(filter(None, (price_words(body.get("cost_cents")), time_words(body.get("days")))))
    yield f"Check code of what you were shown: {short_code(body['check_code'])} (revision {body['revision']})."


def _dated(day: str) -> str:
    return day_words(date.fromisoformat(day))


def _what_it_does(decision: DecisionFact, key: str) -> Iterator[str]:
    chosen = next(one for one in options_of(decision) if one.key == key)
    if chosen.fails:
        yield chosen.fails
    effects = (decision.option(key) or {}).get("effects")
    if effects:
        yield str(effects)
    if chosen.cannot_be_undone:
        yield f"Can’t be undone: {chosen.cannot_be_undone}"


def _words_of(reader: Reader, decision: DecisionFact, question_id: int) -> str | None:
    said = zip(decision.questions, question_sentences(reader.snapshot, decision), strict=True)
    return next((words for one, words in said if one.id == question_id and one.answer is not None), None)
