"""Every kind of entry reads as a sentence or a few: who did it stands before them, a full stop after them."""

from typing import Any

import pytest

from portal.pages.evidence.entry_words import WORDS, entry_when, entry_words, entry_words_and_names
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
    ("asked", {"decision": 4, "question": "Which?"}, "asked question 4: “Which?”"),
    ("revised", {"decision": 4, "revision": 2, "question": "Which now?"},
     "asked question 4 anew, revision 2: “Which now?”"),
    ("asked_back", {"decision": 4, "text": "Why?"}, "asked about question 4: “Why?”"),
    ("answered", {"decision": 4, "answer": "So."}, "answered about question 4: “So.”"),
    ("placement_proposed", {"decision": 4, "layout": "Two holes"}, "sent the project manager a draft for question 4"),
    ("proposal_settled", {"decision": 4, "proposal": 1, "outcome": "refused", "name": "Pia Lindqvist"},
     "did not take up the draft of Pia Lindqvist for question 4"),
    ("consent_given", {}, "agreed to deal with us on a screen. We told how it goes on paper"),
    ("consent_withdrawn", {}, "went back to paper"),
    ("released", {"name": "Drill", "reason": "The crew is here"},
     "let “Drill” start without an approval. Why: The crew is here"),
    ("started", {"name": "Drill", "at": AT}, "started “Drill” on Thu Dec 3, 9:00 am"),
    ("finished", {"name": "Drill", "at": AT}, "finished “Drill” on Thu Dec 3, 9:00 am"),
    ("stopped", {"name": "Drill", "reason": "Rain"}, "let “Drill” rest. Why: Rain"),
    ("stopped", {"name": "Drill"}, "let “Drill” rest"),
    ("stopped", {"name": "Drill", "reason": ""}, "let “Drill” rest"),
    ("resumed", {"name": "Drill"}, "went on with “Drill”"),
    ("inspection_awaited", {"name": "Pipes"}, "finished the work of “Pipes”. It waits for inspection"),
    ("visit_booked", VISIT, "booked a visit on Thu Dec 3. Stone crew: Set the top"),
    ("visit_moved", VISIT, "moved a visit to Thu Dec 3. Stone crew: Set the top"),
    ("visit_cancelled", VISIT, "called off a visit on Thu Dec 3. Stone crew: Set the top"),
    ("visit_booked", VISIT | {"starts_at": "2026-12-04T05:00:00Z"},
     "booked a visit on Thu Dec 3. Stone crew: Set the top"),
    ("timezone_changed", {"before": "America/Chicago", "timezone": "America/New_York"},
     "put the time zone right, from America/Chicago to America/New_York. Visits stay at their time by the clock"),
    ("delivery_arrived", {"item": "Sink", "at": AT}, "noted that “Sink” came on Thu Dec 3, 9:00 am"),
    ("link_made", {"name": "Jonas Okafor"}, "made a private link for Jonas Okafor"),
    ("link_revoked", {"name": "Jonas Okafor"}, "ended the private link of Jonas Okafor"),
    ("contract_changed", {"cents": 1_240_050}, "set the contract amount to $12,400.50"),
    ("contract_changed", {"cents": None}, "set the contract amount"),
    ("key_rotated", {"old_key": OLD_KEY, "new_key": NEW_KEY},
     f"changed our key from {key_name(OLD_KEY)} to {key_name(NEW_KEY)}"),
    ("key_lost", {"old_key": OLD_KEY, "new_key": NEW_KEY},
     f"lost our key. From here on the key {key_name(NEW_KEY)} signs. The lost one does not vouch for it"),
    ("secret_lost", {"links_ended": 3}, "lost what private links are made from. The links until then ended"),
])
def test_what_is_done_and_to_what(kind: str, body: dict[str, Any], said: str) -> None:
    assert words(kind, body) == said


@pytest.mark.parametrize(("more", "how", "question", "price"), [
    ({}, "approved “One hole”.", ".", ""),
    ({"question": "Which?"}, "approved “One hole”.", ": “Which?”", ""),
    ({"question": "Say which"}, "approved “One hole”.", ": “Say which”.", ""),
    ({"cost_cents": 4500, "days": 1}, "approved “One hole”.", ".", " Price $45 and 1 day."),
    ({"cost_cents": -669_556, "days": 2}, "approved “One hole”.", ".", " Price −$6,695.56 and 2 days."),
    ({"days": 3}, "approved “One hole”.", ".", " 3 days."),
    ({"cost_cents": 0, "days": 0}, "approved “One hole”.", ".", ""),
    ({"failed": ["too near"]}, "approved “One hole”.", ".", " It breaks a rule: too near."),
    ({"on_paper": True, "signer": "Maren Okafor", "signed_on": "2026-12-01"},
     "entered that Maren Okafor signed “One hole” on paper, Tue Dec 1.", ".", ""),
    ({"on_paper": True, "signed_on": None}, "entered that M. Okafor signed “One hole” on paper.", ".", ""),
])
def test_an_approval_says_what_of_which_revision_under_which_name_and_price(
    more: dict[str, Any], how: str, question: str, price: str
) -> None:
    assert words("approved", APPROVED | more) == (
        f"{how} Question 4, revision 2{question} Signed as M. Okafor.{price} Check code 3fa9-01bc-77de"
    )


@pytest.mark.parametrize(("body", "said"), [
    ({"decision": 4, "reason": "Let us think"}, "took back the approval of question 4. Why: Let us think"),
    ({"decision": 4, "reason": ""}, "took back the approval of question 4"),
    ({"decision": 4, "on_paper": True, "name": "M. Okafor", "reason": "Misread"},
     "took back the paper signed as M. Okafor for question 4. Why: Misread"),
])
def test_taking_back_says_of_what_and_why(body: dict[str, Any], said: str) -> None:
    assert words("withdrawn", body) == said


@pytest.mark.parametrize(("who", "said"), [
    ({"approvers": "any"}, "any one of the household"), ({"approvers": "all"}, "all of the household"),
    ({"approvers": "8", "approver": "Jonas Okafor"}, "Jonas Okafor"), ({"approvers": "8"}, "one person"),
])
def test_who_must_approve_is_named(who: dict[str, str], said: str) -> None:
    assert words("approvers_changed", {"decision": 4, **who}) == f"changed who must approve question 4: {said}"


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
    ("handed_over", {"phase": "Set the top", "open": []}, "handed over “Set the top”. Nothing is left to finish"),
    ("handed_over", {"phase": None}, "handed over the whole job. Nothing is left to finish"),
    ("handed_over", {"phase": None, "open": ["Old words", {"item": "Paint"}, ITEM]},
     f"handed over the whole job. Left to finish: Old words, Paint and A scratch ({ABOUT}, with a photo)"),
    ("handover_accepted", {"phase": "Set the top", "name": "M. Okafor", "open": [{"item": "Paint"}]},
     "accepted the hand-over of “Set the top” as M. Okafor. Left to finish: Paint"),
    ("item_added", {"phase": "Set the top", **ITEM, "photo": None},
     "put on the list of “Set the top”: “A scratch” (Kitchen, Carpenters, by Fri Dec 18)"),
    ("item_added", {"item": "Paint"}, "put on the list of the whole job: “Paint”"),
    ("item_closed", {"phase": "Set the top", "item": "Paint"}, "set right, of “Set the top”: “Paint”"),
])
def test_a_hand_over_says_what_is_still_open(kind: str, body: dict[str, Any], said: str) -> None:
    assert words(kind, body) == said


def test_a_clock_that_was_set_back_is_said_with_whatever_was_done() -> None:
    assert words("consent_withdrawn", {}, clock_moved=True) == (
        "went back to paper. The clock had been set back before this. The numbers of the entries tell the order"
    )


def test_the_time_of_an_entry_is_told_by_the_clock_at_the_house() -> None:
    assert entry_when({"at": "2026-12-03T05:30:00.5Z"}, ZONE).replace("\u00a0", " ") == "Wed Dec 2, 11:30 pm"


def test_what_happened_when_it_was_written_down_has_its_time_once() -> None:
    started = {"name": "Drill", "at": AT}
    assert words("started", started, at="2026-12-03T15:00:59.5Z") == "started “Drill”"
    assert words("started", started, at="2026-12-03T15:01:00Z") == "started “Drill” on Thu Dec 3, 9:00 am"
    assert words("delivery_arrived", {"item": "Sink", "at": AT}, at=AT) == "noted that “Sink” came"


def test_names_that_an_entry_counts_up_are_lines_of_a_list() -> None:
    body = {"added": ["Tile", "Grout"], "changed": [], "removed": ["Paint"]}
    changed = {"kind": "plan_changed", "body": body, "clock_moved": True}
    assert words("plan_changed", body) == "changed the plan. Added: “Tile” and “Grout”. Removed: “Paint”"
    said, names = entry_words_and_names(changed, ZONE)
    assert said.startswith("changed the plan. The clock")
    assert names == ["Added: “Tile”", "Added: “Grout”", "Removed: “Paint”"]
    assert entry_words_and_names({"kind": "consent_withdrawn", "body": {}}, ZONE) == ("went back to paper", [])


def test_a_reason_brings_no_full_stop_into_the_sentence() -> None:
    opened = {"kind": "house_opened", "body": {"reason": "They stay after all."}}
    assert entry_words(opened, "America/Chicago") == "opened the house again. Why: They stay after all"
    body = {"decision": 1, "question": "Which?", "held": ["Tile"], "hold_lifted": True, "reason": "It is not built."}
    said = entry_words({"kind": "question_withdrawn", "body": body}, "America/Chicago")
    assert said.endswith("“Which?” Why: It is not built. “Tile” may start without it")
