"""The kinds of notices: for each, its letter, and what the office tells whoever gets no mail."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from portal.notices import answering, asking, visiting
from portal.notices.evenings import letter as evening_letter
from portal.notices.letter import Letter, Reader
from portal.notices.letters import others, proposed
from portal.notices.letters.accepted import accepted_by_other
from portal.notices.letters.asked_words import named, needs_an_answer
from portal.pages.undoing.taken_back import opened_again_words
from portal.store.facts import Snapshot
from portal.words.dates import when_words

About = dict[str, Any]
Receipts = Callable[[int], bytes]
"""Entry's number to the bytes of its receipt file."""


@dataclass(frozen=True, slots=True)
class Kind:
    """`told`: a sentence for the phone, from `about` (with the `question`, the day by which its answer is `needed`,
    and `today`, where they are known) and the zone. `legal`: asks or proves an answer, so whoever has
    gone back to paper gets it on paper. `by_phone`: whether it must reach people without mail, too. `is_true`: whether
    there is still something to tell this person now; what is no longer true has no letter, either."""

    letter: Callable[[Reader, About, Receipts], Letter | None]
    told: Callable[[About, str], str]
    legal: bool = True
    by_phone: bool = True
    is_true: Callable[[Snapshot, int, About, int], bool] = lambda snapshot, person, about, now: True


def _receipt_of(about: About) -> str:
    return f"the choice for {named(about)}" if "number" in about else "the hand-over that was accepted"


def _named(about: About) -> str:
    name = named(about)
    return f"{name[0].upper()}{name[1:]}"


KINDS: dict[str, Kind] = {
    "asked": Kind(
        lambda reader, about, _: asking.asked(reader, about["decision"], about["revision"]),
        lambda about, _: f"{'The question has changed: ' if about['revision'] > 1 else ''}{needs_an_answer(about)}.",
        is_true=lambda snapshot, person, about, _: asking.still_asked(
            snapshot, person, about["decision"], about["revision"]) is not None,
    ),
    "reminder": Kind(
        lambda reader, about, _: asking.reminder(reader, about["decision"], about["revision"]),
        lambda about, _: f"{needs_an_answer(about, 'still ')}.",
        is_true=lambda snapshot, person, about, _: asking.still_theirs(
            snapshot, person, about["decision"], about["revision"]) is not None,
    ),
    "question_withdrawn": Kind(
        lambda reader, about, _: asking.withdrawn(reader, about["decision"], about["revision"]),
        lambda about, _: f"{_named(about)} is withdrawn: no answer is needed, and no sheet of it is to be signed.",
        is_true=lambda snapshot, _, about, now: asking.still_withdrawn(
            snapshot, about["decision"], about["revision"]) is not None,
    ),
    "opened_again": Kind(
        lambda reader, about, _: asking.opened_again(reader, about["decision"], about["revision"], about["phase"]),
        lambda about, _: f"{opened_again_words(about['phase'])} So it is open again. {needs_an_answer(about)}.",
        is_true=lambda snapshot, person, about, _: asking.still_asked(
            snapshot, person, about["decision"], about["revision"]) is not None,
    ),
    "answered": Kind(
        lambda reader, about, _: answering.answered(reader, about["decision"], about["question"]),
        lambda about, _: f"What was asked about {named(about)} is answered, on the page.",
    ),
    "other_owner": Kind(
        lambda reader, about, _: others.other_owner(reader, about), others.told,
        by_phone=False,  # the page says it, by name; where they differ, the manager calls
        is_true=lambda snapshot, _, about, now: others.still_so(snapshot, about) is not None,
    ),
    "proposal_settled": Kind(
        lambda reader, about, _: proposed.proposal_settled(reader, about),
        lambda about, _: proposed.told(about),
        legal=False,
    ),
    "message_answered": Kind(
        lambda reader, about, _: answering.message_answered(reader, about["message"]),
        lambda about, _: "What was told to us is answered, on the page.",
        legal=False,
    ),
    "receipt": Kind(
        lambda reader, about, receipts: answering.receipt(reader, receipts(about["entry"])),
        lambda about, _: f"The receipt of {_receipt_of(about)}, entry {about['entry']}.",
        by_phone=False,  # they have seen it on the page, at once
    ),
    "handover_accepted": Kind(
        lambda reader, about, _: accepted_by_other(reader, about),
        lambda about, _: "Another of the household accepted a hand-over.",
        legal=False,
        by_phone=False,  # their page shows it, and nothing is to be done
    ),
    "taken_back": Kind(
        lambda reader, about, _: answering.taken_back(reader, about),
        lambda about, _: f"We had entered a signature for {named(about)} by mistake, and took it back: "
        f"{about['because'].rstrip('.')}.",
    ),
    "link": Kind(
        lambda reader, about, _: asking.own_link(reader), lambda about, _: "They were promised their own link.",
        legal=False,
    ),
    "visit_moved": Kind(
        lambda reader, about, _: visiting.visit_moved(reader, about),
        lambda about, zone: f"{about['crew']}, {about['purpose']}: moved from "
        f"{when_words(about['before']['starts_at'], zone)} to {when_words(about['starts_at'], zone)}.",
        legal=False,
        is_true=lambda snapshot, _, about, now: visiting.still_moved(snapshot, about, now),
    ),
    "visit_cancelled": Kind(
        lambda reader, about, _: visiting.visit_cancelled(reader, about),
        lambda about, zone: f"{about['crew']}, {about['purpose']}, {when_words(about['starts_at'], zone)}: cancelled"
        f"{': ' + about['because'].rstrip('.') if about['because'] else ''}.",
        legal=False,
        is_true=lambda snapshot, _, about, now: visiting.still_cancelled(snapshot, about, now),
    ),
    "evening": Kind(
        lambda reader, about, _: evening_letter.evening(reader, about),
        lambda about, _: evening_letter.told_by_phone(about),
        legal=False,
        is_true=lambda snapshot, _, about, now: evening_letter.still_ahead(snapshot, about, now),
    ),
    "timezone_changed": Kind(
        lambda reader, about, _: visiting.clock_kept(reader),
        lambda about, _: "Visits stay at the times on their page; their own calendar may have shown other times.",
        legal=False,
        by_phone=False,  # nobody comes at another time than they know
    ),
}
