"""A hand-over offered too early is taken back; what is open can be changed; the whole is accepted with all that is."""

from datetime import date

import pytest

from portal.acts.household.handovers import (
    accept_handover,
    add_item,
    change_item,
    close_item,
    offer_handover,
    take_back_handover,
)
from portal.acts.refusals import AlreadyAccepted, FieldRefused, HandoverTakenBack, ItemDone, Stale
from portal.pages.evidence.entry_words import entry_words
from portal.record.checking.tables_check import check_facts
from portal.record.verdict import Fault
from portal.store.engine.database import execute
from portal.store.reading import record_facts
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import handover_rows
from portal.store.tables import OpenItem, Phase
from tests.acts.decisions.test_approve import kinds
from tests.acts.household.test_handovers import PHOTO, SCRATCH, newest, offer
from tests.house import NOW, ZONE, House

OF_HANDOVERS = ("handed_over", "handover_accepted", "open_item", "item_closed")


def take_back(house: House, handover: int, reason: str = "The grout is not dry yet.") -> None:
    take_back_handover(house.manager, house.project, handover, reason=reason, now=NOW)


def facts(house: House) -> str:
    """Of hand-overs; the house's questions are older than its record."""
    kept = [ways for ways in record_facts.kept_facts(house.project) if ways[0].kind in OF_HANDOVERS]
    return check_facts(record_facts.kept_entries(house.project), kept)


def the_item(handover: int) -> OpenItem:
    return handover_rows.items(handover)[0]


def test_nobody_is_asked_to_accept_it_any_more_and_the_work_can_be_handed_over_again(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    take_back(house, handover)
    assert read_snapshot(house.project).handovers == ()
    assert newest(house)["body"]["reason"] == "The grout is not dry yet."
    assert entry_words(newest(house), ZONE).startswith("took back the hand-over of “")
    take_back(house, handover)
    assert kinds(house).count("handover_taken_back") == 1
    assert offer(house) != handover


def test_whoever_comes_by_the_old_address_reads_why(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    item = the_item(handover)
    take_back(house, handover)
    for late in (
        lambda: accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=1, now=NOW),
        lambda: add_item(house.homeowner, house.project, handover, {"item": "A chip"}, NOW),
        lambda: change_item(house.office, house.project, item.id, item.version, {"who": "Dana"}, NOW),
    ):
        with pytest.raises(HandoverTakenBack, match="taken back: The grout is not dry yet"):
            late()


def test_what_was_accepted_stays(house: House) -> None:
    handover = offer(house)
    accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=0, now=NOW)
    with pytest.raises(AlreadyAccepted):
        take_back(house, handover)


def test_an_item_gets_another_owner_date_and_photo_and_the_record_agrees(house: House) -> None:
    handover = offer(house, items=[SCRATCH, {"item": "A chip"}])
    item = the_item(handover)
    values = {"who": "Dana", "by_on": date(2026, 12, 18), "photo": PHOTO, "room": house.rooms["bath"]}
    changed = change_item(house.office, house.project, item.id, item.version, values, NOW + 60)
    change_item(house.office, house.project, item.id, changed.version, {"item": "A scratch, left"}, NOW + 90)
    body = newest(house)["body"]
    assert body["before"]["item"] == SCRATCH["item"] and body["item"] == "A scratch, left" and body["who"] == "Dana"
    assert "A scratch, left (Hall bath, Dana, by Fri Dec 18, with a photo)" in entry_words(newest(house), ZONE)
    assert "are those" in facts(house)
    with pytest.raises(Stale):
        change_item(house.office, house.project, item.id, item.version, {"who": "Lou"}, NOW)


def test_a_change_that_no_entry_tells_of_is_found(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    item = the_item(handover)
    change_item(house.office, house.project, item.id, item.version, {"who": "Dana"}, NOW)
    execute("UPDATE open_item SET who = 'Nobody' WHERE id = ?", item.id)
    with pytest.raises(Fault, match="open item"):
        facts(house)


def test_one_that_changes_nothing_keeps_no_entry_and_what_is_done_stays(house: House) -> None:
    handover = offer(house, items=[SCRATCH])
    item = the_item(handover)
    before = kinds(house)
    same = change_item(house.office, house.project, item.id, item.version, dict(SCRATCH), NOW)
    assert kinds(house) == before
    with pytest.raises(FieldRefused, match="Write what is still open"):
        change_item(house.office, house.project, item.id, same.version, {"item": " "}, NOW)
    close_item(house.office, house.project, item.id, now=NOW)
    with pytest.raises(ItemDone):
        change_item(house.office, house.project, item.id, same.version + 1, {"who": "Dana"}, NOW)


def test_the_whole_is_accepted_only_with_what_is_open_of_its_phases(house: House) -> None:
    offer(house, items=[SCRATCH])
    Phase.update(started_at=NOW, finished_at=NOW).where(Phase.project == house.project).execute()
    whole = offer_handover(
        house.manager, house.project, phase=None, note="", items=[{"item": "A chip"}], now=NOW
    )
    for seen in (1, 3):
        with pytest.raises(FieldRefused, match="read it again"):
            accept_handover(house.homeowner, house.project, whole.id, name="Maren Okafor", seen=seen, now=NOW)
    accept_handover(house.homeowner, house.project, whole.id, name="Maren Okafor", seen=2, now=NOW)
    assert [one["item"] for one in newest(house)["body"]["open"]] == ["A chip", SCRATCH["item"]]
    assert "are those" in facts(house)
