"""Letters that tell that a hand-over was accepted: to whoever accepted it, with the receipt; to the others; to us."""

from collections.abc import Iterator
from typing import Any

from portal.notices.letter import Letter, Reader
from portal.pages.handover_words import accepted_words, item_words, what_words
from portal.pages.signers import signer_words
from portal.record.log.heads import key_name
from portal.record.papers.receipt import Receipt
from portal.store.facts import HandoverFact, Snapshot
from portal.words.dates import dated_words

CLOSES_NO_FAULT = "Accept or not: what is on the list stays ours to finish."
About = dict[str, Any]


def accepted_by_you(reader: Reader, found: Receipt, file: bytes) -> Letter:
    """The receipt of an acceptance, with the file that proves it."""
    sequence, body = found.entry["sequence"], found.entry["body"]
    who = signer_words(found.entry["actor"]["name"], body["name"]).rstrip(",")
    handover = handover_of(reader.snapshot, body)
    return Letter(
        f"{reader.house}: the hand-over is accepted",
        [
            f"You accepted what we handed over, as {who}.",
            *_list(reader, handover),
            f"The attached file, receipt-{sequence}.json, is your receipt: it proves what you accepted, and when.",
            f"Our key is called {key_name(found.signed.public_key)}. How anyone can check the receipt, without us:",
            f"{reader.guide}check-the-record/",
            "The same, to read:",
            f"{reader.link}record/{sequence}/",
        ],
        file, f"receipt-{sequence}.json",
    )


def accepted_by_other(reader: Reader, about: About) -> Letter | None:
    """To the others of the household; None where it is not there any more."""
    handover = handover_of(reader.snapshot, about)
    if handover is None or handover.accepted_at is None:
        return None
    return Letter(f"{reader.house}: a hand-over is accepted", [
        f"{what_words(reader.snapshot, handover)} was accepted by {accepted_words(reader.snapshot, handover)}.",
        *_list(reader, handover),
        f"{reader.link}handovers/{handover.id}/",
    ])


def handover_of(snapshot: Snapshot, about: About) -> HandoverFact | None:
    """The hand-over that a notice or an entry is about."""
    return next((one for one in snapshot.handovers if one.id == about["handover"]), None)


def list_words(snapshot: Snapshot, handover: HandoverFact) -> Iterator[str]:
    """What is still open, as points of a list."""
    yield from (f"- {item_words(snapshot, item)}" for item in handover.still_open)


def _list(reader: Reader, handover: HandoverFact | None) -> Iterator[str]:
    if handover is None:
        return
    if handover.still_open:
        yield "Ours to finish:"
        yield from list_words(reader.snapshot, handover)
    yield CLOSES_NO_FAULT
    if handover.items_until and handover.takes_items(reader.today):
        yield f"You can add to the list until {dated_words(handover.items_until, reader.today)}."
