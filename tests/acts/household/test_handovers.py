"""Completion: finished work is handed over with what is still open; accepting it is an entry."""

import json
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.acts.household.handovers import accept_handover, add_item, close_item, offer_handover
from portal.acts.keeping.photos import Kept
from portal.acts.refusals import AlreadyAccepted, FieldRefused, NotFound, NotYours
from portal.pages.evidence.entry_words import entry_words
from portal.record.checking.tables_check import check_facts
from portal.store.reading import record_facts
from portal.store.rows import handover_rows, record_rows
from portal.store.tables import Phase
from tests.acts.decisions.test_approve import kinds
from tests.house import NOW, ZONE, House

SCRATCH = {"item": "A scratch on the left door", "who": "Carpenters"}
LISTED = {**SCRATCH, "room": None, "room_id": None, "by": None, "photo": None, "photo_sha256": None}
PHOTO = Kept("3fa901bc77de3fa901bc", "", 1600, 1200, "3fa901bc77de3fa901bc" + "0" * 44)


def newest(house: House) -> dict[str, Any]:
    return json.loads(list(record_rows.every(house.project))[-1][2])


def offer(house: House, phase: str = "floor", items: list | None = None) -> int:
    return offer_handover(
        house.manager, house.project, phase=house.phases[phase], note="Please look at it in daylight.",
        items=items or [], now=NOW,
    ).id


def test_a_finished_phase_is_handed_over_with_its_list(house: House) -> None:
    handover = offer(house, items=[SCRATCH | {"room": house.rooms["bath"]}])
    assert [one.item for one in handover_rows.items(handover)] == [SCRATCH["item"]]
    entry = newest(house)
    assert entry["kind"] == "handed_over" and entry["body"]["phase_id"] == house.phases["floor"]
    assert entry["body"]["open"] == [LISTED | {"room": "Hall bath", "room_id": house.rooms["bath"]}]


def test_all_that_was_listed_is_in_the_entry_and_is_said(house: House) -> None:
    whole = SCRATCH | {"room": house.rooms["bath"], "by_on": date(2026, 12, 18), "photo": PHOTO}
    handover = offer(house, items=[whole])
    told = {**SCRATCH, "room": "Hall bath", "room_id": house.rooms["bath"], "by": "2026-12-18",
            "photo": f"{PHOTO.name}-large.jpg", "photo_sha256": PHOTO.sha256}
    assert newest(house)["body"]["open"] == [told]
    words = "A scratch on the left door (Hall bath, Carpenters, by Fri Dec 18, with a photo)"
    assert entry_words(newest(house), ZONE).endswith(f". Left to finish: {words}")
    add_item(house.homeowner, house.project, handover, whole | {"item": "A chip", "room": None}, NOW)
    added = newest(house)["body"]
    assert added == added | told | {"item": "A chip", "room": None, "room_id": None}
    assert entry_words(newest(house), ZONE).endswith(": “A chip” (Carpenters, by Fri Dec 18, with a photo)")
    accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=2, now=NOW)
    assert newest(house)["body"]["open"] == [told, told | {"item": "A chip", "room": None, "room_id": None}]
    assert f"Left to finish: {words} and A chip (" in entry_words(newest(house), ZONE)


def test_what_an_earlier_version_told_of_a_list_reads_as_before() -> None:
    body = {"handover": 1, "phase": "Lay the floor", "open": ["A chip", "A stain"], "name": "Maren Okafor"}
    said = entry_words({"kind": "handed_over", "body": body}, ZONE)
    assert said == "handed over “Lay the floor”. Left to finish: A chip and A stain"
    added = {"kind": "item_added", "body": {"handover": 1, "phase": None, "item": "A chip"}}
    assert entry_words(added, ZONE) == "put on the list of the whole job: “A chip”"


def test_the_tables_hold_what_the_entries_tell_of_it(house: House) -> None:
    """On either database; what was changed past the product is tried in test_verifying.py."""
    whole = SCRATCH | {"room": house.rooms["bath"], "by_on": date(2026, 12, 18), "photo": PHOTO}
    handover = offer(house, items=[whole, SCRATCH])
    added = add_item(house.homeowner, house.project, handover, SCRATCH, NOW + 60)
    close_item(house.office, house.project, added.id, now=NOW + 120)
    accept_handover(house.co_owner, house.project, handover, name="Jonas Okafor", seen=3, now=NOW + 180)
    asked = ("asked", "approved", "asked_back")  # the house's own were laid down without entries
    facts = [ways for ways in record_facts.kept_facts(house.project) if ways[0].kind not in asked]
    assert "hand-overs (6) are those" in check_facts(record_facts.kept_entries(house.project), facts)


def test_unfinished_work_is_not_handed_over(house: House) -> None:
    with pytest.raises(FieldRefused, match="not finished"):
        offer(house, "top")
    with pytest.raises(FieldRefused, match="Not everything is finished"):
        offer_handover(house.manager, house.project, phase=None, note="", items=[], now=NOW)


def test_the_whole_job_is_handed_over_when_all_is_finished(house: House) -> None:
    Phase.update(started_at=NOW - 9, finished_at=NOW - 5, state="done").where(Phase.project == house.project).execute()
    offer_handover(house.manager, house.project, phase=None, note="", items=[], now=NOW)
    with pytest.raises(FieldRefused, match="already"):
        offer_handover(house.manager, house.project, phase=None, note="", items=[], now=NOW)


def test_the_homeowner_adds_an_item_and_accepts_with_the_rest_open(house: House) -> None:
    handover = offer(house)
    add_item(house.homeowner, house.project, handover, SCRATCH, NOW)
    accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=1, now=NOW)
    entry = newest(house)
    assert entry["body"]["open"] == [LISTED] and entry["body"]["name"] == "Maren Okafor"
    assert kinds(house) == ["handed_over", "item_added", "handover_accepted"]


def test_an_onlooker_of_the_household_can_not_accept(house: House) -> None:
    handover = offer(house)
    with pytest.raises(NotYours):
        accept_handover(
            replace(house.homeowner, may_approve=False), house.project, handover, name="Maren Okafor", seen=0, now=NOW
        )
    assert kinds(house) == ["handed_over"]


def test_accepting_a_list_that_has_changed_is_refused(house: House) -> None:
    handover = offer(house)
    add_item(house.office, house.project, handover, SCRATCH, NOW)
    with pytest.raises(FieldRefused, match="changed since you read it"):
        accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=0, now=NOW)


def test_it_is_accepted_once(house: House) -> None:
    handover = offer(house)
    accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=0, now=NOW)
    with pytest.raises(AlreadyAccepted):
        accept_handover(house.co_owner, house.project, handover, name="Jonas Okafor", seen=0, now=NOW)
    with pytest.raises(AlreadyAccepted):
        add_item(house.homeowner, house.project, handover, SCRATCH, NOW)


def test_an_item_is_closed_once(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    (item,) = handover_rows.items(handover)
    close_item(house.office, house.project, item.id, now=NOW)
    close_item(house.office, house.project, item.id, now=NOW)
    assert kinds(house) == ["handed_over", "item_closed"]


def test_strangers_and_wrong_roles_are_refused(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    (item,) = handover_rows.items(handover)
    with pytest.raises(NotFound):
        add_item(house.other_homeowner, house.project, handover, SCRATCH, NOW)
    with pytest.raises(NotFound):
        close_item(house.office, house.other_project, item.id, now=NOW)
    with pytest.raises(NotYours):
        close_item(house.homeowner, house.project, item.id, now=NOW)
    with pytest.raises(NotYours):
        accept_handover(house.manager, house.project, handover, name="Dana Whitcombe", seen=1, now=NOW)
