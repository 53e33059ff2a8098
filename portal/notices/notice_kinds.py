"""The kinds of notices: for each, its letter, and what the office tells whoever gets no mail."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from portal.notices import answering, asking, visiting
from portal.notices.letter import Letter, Reader
from portal.store.facts import Snapshot
from portal.words.dates import when_words

About = dict[str, Any]
Receipts = Callable[[int], bytes]
"""Entry's number to the bytes of its receipt file."""


@dataclass(frozen=True, slots=True)
class Kind:
    """`told`: a sentence for the phone, from `about` and the zone. `legal`: asks or proves an answer, so whoever has
    gone back to paper gets it on paper. `by_phone`: whether it must reach people without mail, too. `is_true`: whether
    there is still something to tell this person now; what is no longer true has no letter, either."""

    letter: Callable[[Reader, About, Receipts], Letter | None]
    told: Callable[[About, str], str]
    legal: bool = True
    by_phone: bool = True
    is_true: Callable[[Snapshot, int, About, int], bool] = lambda snapshot, person, about, now: True


KINDS: dict[str, Kind] = {
    "asked": Kind(
        lambda reader, about, _: asking.asked(reader, about["decision"], about["revision"]),
        lambda about, _: f"Decision {about['number']} needs an answer"
        f"{', because the question has changed' if about['revision'] > 1 else ''}.",
        is_true=lambda snapshot, person, about, _: asking.still_asked(
            snapshot, person, about["decision"], about["revision"]) is not None,
    ),
    "reminder": Kind(
        lambda reader, about, _: asking.reminder(reader, about["decision"], about["revision"]),
        lambda about, _: f"Decision {about['number']} is still open, and its answer is needed soon.",
        is_true=lambda snapshot, person, about, _: asking.still_theirs(
            snapshot, person, about["decision"], about["revision"]) is not None,
    ),
    "question_withdrawn": Kind(
        lambda reader, about, _: asking.withdrawn(reader, about["decision"], about["revision"]),
        lambda about, _: f"Decision {about['number']} is withdrawn: no answer is needed, and no sheet of it is to be "
        "signed.",
        is_true=lambda snapshot, _, about, now: asking.still_withdrawn(
            snapshot, about["decision"], about["revision"]) is not None,
    ),
    "answered": Kind(
        lambda reader, about, _: answering.answered(reader, about["decision"], about["question"]),
        lambda about, _: f"Their question about decision {about['number']} is answered.",
    ),
    "receipt": Kind(
        lambda reader, about, receipts: answering.receipt(reader, receipts(about["entry"])),
        lambda about, _: f"The receipt of their approval of decision {about['number']}, entry {about['entry']}.",
        by_phone=False,  # they have seen it on the page, at once
    ),
    "taken_back": Kind(
        lambda reader, about, _: answering.taken_back(reader, about),
        lambda about, _: f"We had entered their signature for decision {about['number']} by mistake, and took it back: "
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
        is_true=lambda snapshot, _, about, now: visiting.still_to_come(about, now),
    ),
    "timezone_changed": Kind(
        lambda reader, about, _: visiting.clock_kept(reader),
        lambda about, _: "Visits stay at the times on their page; their own calendar may have shown other times.",
        legal=False,
        by_phone=False,  # nobody comes at another time than they know
    ),
}
