"""Every kind of entry reads as a sentence: who did it stands before these words, a full stop after them."""

from typing import Any

import pytest

from portal.pages.evidence.entry_words import WORDS, entry_when, entry_words
from portal.record.log.entry_kinds import KINDS
from portal.record.log.heads import key_name

ZONE = "America/Chicago"
CODE = "3fa901bc77de" + "0" * 52
APPROVED = {"title": "One hole", "decision": 4, "revision": 2, "name": "M. Okafor", "check_code": CODE}
AT = "2026-12-03T15:00:00Z"
VISIT = {"crew": "Stone crew", "purpose": "Set the top", "starts_at": AT}
PERSON = {"name": "Jonas Okafor", "role": "homeowner", "may_approve": True}
ITEM = {"item": "A scratch", "room": "Kitchen", "who": "Carpenters", "by": "2026-12-18", "photo": "1f0c-large.jpg"}
ABOUT = "Kitchen, Carpenters, by Fri Dec 18"
OLD_KEY, NEW_KEY = "0a" * 32, "0b" * 32


def words(kind: str, body: dict[str, Any], **more: Any) -> str:
    return entry_words({"kind": kind, "body": body, **more}, ZONE).replace("\u00a0", " ")


def test_every_kind_has_its_words_and_no_other_has() -> None:
    assert set(WORDS) == set(KINDS)


def test_a_kind_of_a_version_to_come_is_told_by_its_name() -> None:
    assert words("photo_taken", {}) == "photo taken"


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("asked", {"decision": 4, "question": "Which?"}, "asked decision 4: “Which?”"),
    ("revised", {"decision": 4, "revision": 2, "question": "Which now?"},
     "changed decision 4, revision 2: “Which now?”"),
    ("asked_back", {"decision": 4, "text": "Why?"}, "asked about decision 4: “Why?”"),
    ("answered", {"decision": 4, "answer": "So."}, "answered about decision 4: “So.”"),
    ("placement_proposed", {"decision": 4, "layout": "Two holes"}, "sent the project manager a draft for decision 4"),
    ("proposal_settled", {"decision": 4, "proposal": 1, "outcome": "refused", "name": "Pia Lindqvist"},
     "did not take up the draft of Pia Lindqvist for decision 4"),
    ("consent_given", {}, "agreed to deal with us on a screen, and was told how to do it on paper instead"),
    ("consent_withdrawn", {}, "went back to paper"),
    ("released", {"name": "Drill", "reason": "The crew is here"},
     "let “Drill” start without an approval: The crew is here"),
    ("started", {"name": "Drill", "at": AT}, "started “Drill” on Thu Dec 3, 9:00 am"),
    ("finished", {"name": "Drill", "at": AT}, "finished “Drill” on Thu Dec 3, 9:00 am"),
    ("stopped", {"name": "Drill", "reason": "Rain"}, "let “Drill” rest: Rain"),
    ("stopped", {"name": "Drill"}, "let “Drill” rest"),
    ("stopped", {"name": "Drill", "reason": ""}, "let “Drill” rest"),
    ("resumed", {"name": "Drill"}, "went on with “Drill”"),
    ("inspection_awaited", {"name": "Pipes"}, "finished the work of “Pipes”, which waits for inspection"),
    ("visit_booked", VISIT, "booked a visit: Stone crew, Set the top, Thu Dec 3"),
    ("visit_moved", VISIT, "moved a visit: Stone crew, Set the top, Thu Dec 3"),
    ("visit_cancelled", VISIT, "cancelled a visit: Stone crew, Set the top, Thu Dec 3"),
    ("visit_booked", VISIT | {"starts_at": "2026-12-04T05:00:00Z"},
     "booked a visit: Stone crew, Set the top, Thu Dec 3"),
    ("timezone_changed", {"before": "America/Chicago", "timezone": "America/New_York"},
     "put the time zone right, from America/Chicago to America/New_York; visits stay at their time by the clock"),
    ("delivery_arrived", {"item": "Sink", "at": AT}, "noted that “Sink” arrived on Thu Dec 3, 9:00 am"),
    ("link_made", {"name": "Jonas Okafor"}, "made a private link for Jonas Okafor"),
    ("link_revoked", {"name": "Jonas Okafor"}, "revoked the private link of Jonas Okafor"),
    ("contract_changed", {"cents": 1_240_050}, "set the contract amount to $12,400.50"),
    ("contract_changed", {"cents": None}, "set the contract amount"),
    ("key_rotated", {"old_key": OLD_KEY, "new_key": NEW_KEY},
     f"changed our key from {key_name(OLD_KEY)} to {key_name(NEW_KEY)}"),
    ("key_lost", {"old_key": OLD_KEY, "new_key": NEW_KEY},
     f"lost our key; from here on the key {key_name(NEW_KEY)} signs, for which the lost one does not vouch"),
    ("secret_lost", {"links_ended": 3}, "lost what private links are made from; the links until then ended"),
])
def test_what_is_done_and_to_what(kind: str, body: dict[str, Any], said: str) -> None:
    assert words(kind, body) == said


@pytest.mark.parametrize(("more", "how", "question", "price"), [
    ({}, "approved", "", ""),
    ({"question": "Which?"}, "approved", ", “Which?”", ""),
    ({"cost_cents": 4500, "days": 1}, "approved", "", " (price $45, 1 day)"),
    ({"cost_cents": -669_556, "days": 2}, "approved", "", " (price −$6,695.56, 2 days)"),
    ({"days": 3}, "approved", "", " (3 days)"),
    ({"cost_cents": 0, "days": 0}, "approved", "", ""),
    ({"on_paper": True, "signer": "Maren Okafor", "signed_on": "2026-12-01"},
     "entered what Maren Okafor signed on paper on Tue Dec 1:", "", ""),
    ({"on_paper": True, "signed_on": None}, "entered what M. Okafor signed on paper:", "", ""),
])
def test_an_approval_says_what_of_which_revision_under_which_name_and_price(
    more: dict[str, Any], how: str, question: str, price: str
) -> None:
    assert words("approved", APPROVED | more) == (
        f"{how} “One hole” for decision 4{question}, revision 2, as M. Okafor{price}; check code 3fa9-01bc-77de"
    )


@pytest.mark.parametrize(("body", "said"), [
    ({"decision": 4, "reason": "Let us think"}, "took back the approval of decision 4: Let us think"),
    ({"decision": 4, "reason": ""}, "took back the approval of decision 4"),
    ({"decision": 4, "on_paper": True, "name": "M. Okafor", "reason": "Misread"},
     "took back what had been entered from paper for decision 4, as M. Okafor: Misread"),
])
def test_taking_back_says_of_what_and_why(body: dict[str, Any], said: str) -> None:
    assert words("withdrawn", body) == said


@pytest.mark.parametrize(("who", "said"), [
    ({"approvers": "any"}, "any one of the household"), ({"approvers": "all"}, "all of the household"),
    ({"approvers": "8", "approver": "Jonas Okafor"}, "Jonas Okafor"), ({"approvers": "8"}, "one person"),
])
def test_who_must_approve_is_named(who: dict[str, str], said: str) -> None:
    assert words("approvers_changed", {"decision": 4, **who}) == f"changed who must approve decision 4: {said}"


@pytest.mark.parametrize(("body", "said"), [
    (PERSON | {"did": "added"}, "added Jonas Okafor, who may approve"),
    (PERSON | {"did": "added", "may_approve": False}, "added Jonas Okafor, who may read and ask, but not approve"),
    (PERSON | {"did": "added", "role": "designer"},
     "added Jonas Okafor, who as the designer may propose, but not approve"),
    (PERSON | {"did": "removed"}, "removed Jonas Okafor from the household"),
    (PERSON | {"did": "changed", "before": PERSON | {"name": "J. Okafor"}},
     "changed the name of J. Okafor to Jonas Okafor"),
    (PERSON | {"did": "changed", "may_approve": False, "before": PERSON},
     "changed what Jonas Okafor may do: Jonas Okafor may read and ask, but not approve"),
    (PERSON | {"did": "changed", "before": PERSON | {"name": "J. Okafor", "may_approve": False}},
     "changed the name of J. Okafor to Jonas Okafor; changed what Jonas Okafor may do: Jonas Okafor may approve"),
    (PERSON | {"did": "changed", "role": "designer", "may_approve": False,
               "before": PERSON | {"role": "designer", "may_approve": True}}, "changed who Jonas Okafor is"),
])
def test_a_change_of_the_household_says_what_somebody_may_do(body: dict[str, Any], said: str) -> None:
    assert words("household_changed", body) == said


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("handed_over", {"phase": "Set the top", "open": []}, "handed over “Set the top”; nothing is open"),
    ("handed_over", {"phase": None}, "handed over the whole project; nothing is open"),
    ("handed_over", {"phase": None, "open": ["Old words", {"item": "Paint"}, ITEM]},
     f"handed over the whole project; still open: Old words, Paint and A scratch ({ABOUT}, with a photo)"),
    ("handover_accepted", {"phase": "Set the top", "name": "M. Okafor", "open": [{"item": "Paint"}]},
     "accepted the hand-over of “Set the top” as M. Okafor; still open: Paint"),
    ("item_added", {"phase": "Set the top", **ITEM, "photo": None},
     "added to what is open of “Set the top”: “A scratch” (Kitchen, Carpenters, by Fri Dec 18)"),
    ("item_added", {"item": "Paint"}, "added to what is open of the whole project: “Paint”"),
    ("item_closed", {"phase": "Set the top", "item": "Paint"}, "did what was open of “Set the top”: “Paint”"),
])
def test_a_hand_over_says_what_is_still_open(kind: str, body: dict[str, Any], said: str) -> None:
    assert words(kind, body) == said


def test_a_clock_that_was_set_back_is_said_with_whatever_was_done() -> None:
    assert words("consent_withdrawn", {}, clock_moved=True) == (
        "went back to paper (the clock had been set back before this; the number of the entry tells the order)"
    )


def test_the_time_of_an_entry_is_told_by_the_clock_at_the_house() -> None:
    assert entry_when({"at": "2026-12-03T05:30:00.5Z"}, ZONE).replace("\u00a0", " ") == "Wed Dec 2, 11:30 pm"


def test_a_reason_brings_no_full_stop_into_the_sentence() -> None:
    opened = {"kind": "house_opened", "body": {"reason": "They stay after all."}}
    assert entry_words(opened, "America/Chicago") == "opened the house again: They stay after all"
    body = {"decision": 1, "question": "Which?", "held": ["Tile"], "hold_lifted": True, "reason": "It is not built."}
    said = entry_words({"kind": "question_withdrawn", "body": body}, "America/Chicago")
    assert said.endswith(": It is not built (“Tile” may start without it)")
