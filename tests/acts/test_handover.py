"""Completion: finished work is handed over with what is still open; accepting it is an entry."""

import json
from dataclasses import replace

import pytest

from portal.acts.handovers import accept_handover, add_item, close_item, offer_handover
from portal.acts.refusals import AlreadyAccepted, FieldRefused, NotFound, NotYours
from portal.store import handover_rows, record_rows
from portal.store.tables import Phase
from tests.acts.test_approve import kinds
from tests.house import NOW, House

SCRATCH = {"item": "A scratch on the left door", "who": "Carpenters"}


def offer(house: House, phase: str = "floor", items: list | None = None) -> int:
    return offer_handover(
        house.manager, house.project, phase=house.phases[phase], note="Please look at it in daylight.",
        items=items or [], now=NOW,
    ).id


def test_a_finished_phase_is_handed_over_with_its_list(house: House) -> None:
    handover = offer(house, items=[SCRATCH | {"room": house.rooms["bath"]}])
    assert [one.item for one in handover_rows.items(handover)] == [SCRATCH["item"]]
    entry = json.loads(list(record_rows.every(house.project))[-1][2])
    assert entry["kind"] == "handed_over" and entry["body"]["open"] == [SCRATCH["item"]]


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
    entry = json.loads(list(record_rows.every(house.project))[-1][2])
    assert entry["body"]["open"] == [SCRATCH["item"]] and entry["body"]["name"] == "Maren Okafor"
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
