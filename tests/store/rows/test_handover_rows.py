"""A phase or the whole project is handed over with its list; what is open stands first."""

import pytest

from portal.store import tables
from portal.store.rows import handover_rows
from tests.house import NOW, House


@pytest.fixture
def handover(house: House) -> tables.Handover:
    return tables.Handover.create(project=house.project, phase=house.phases["floor"], offered_at=NOW)


def item(handover: tables.Handover, text: str, done_at: int | None = None) -> tables.OpenItem:
    return tables.OpenItem.create(handover=handover, item=text, added_by="Dana", added_at=NOW, done_at=done_at)


def test_what_was_offered_is_told_apart_by_phase_and_project(house: House, handover: tables.Handover) -> None:
    assert handover_rows.offered(house.project, house.phases["floor"])
    assert not handover_rows.offered(house.project, house.phases["top"])
    assert not handover_rows.offered(house.project, None), "the whole project was not"
    assert not handover_rows.offered(house.other_project, house.phases["floor"])
    tables.Handover.create(project=house.other_project, offered_at=NOW)
    assert handover_rows.offered(house.other_project, None) and not handover_rows.offered(house.project, None)
    assert handover_rows.of_project(house.project) == [handover]


def test_phases_are_finished_or_not_in_their_order(house: House) -> None:
    done = [row.id for row in handover_rows.finished(house.project)]
    assert done == [house.phases[key] for key in ("out", "rough", "inspection", "floor")]
    left = [row.id for row in handover_rows.unfinished(house.project)]
    assert left == [one for one in house.phases.values() if one not in done]
    assert handover_rows.finished(house.other_project) == handover_rows.unfinished(house.other_project) == []


def test_open_items_come_before_those_that_are_done(house: House, handover: tables.Handover) -> None:
    done, first, second = item(handover, "A chip", NOW), item(handover, "A loose tile"), item(handover, "Dust")
    assert handover_rows.items(handover.id) == [first, second, done]
    assert handover_rows.items(handover.id + 1) == []


def test_an_item_is_found_in_its_project_only(house: House, handover: tables.Handover) -> None:
    chip = item(handover, "A chip")
    assert handover_rows.item_of(house.project, chip.id) == (chip, handover)
    assert handover_rows.item_of(house.other_project, chip.id) is None
    assert handover_rows.item_of(house.project, chip.id + 1) is None


def test_hand_overs_and_items_come_as_they_were_offered(house: House, handover: tables.Handover) -> None:
    second = tables.Handover.create(project=house.project, offered_at=NOW - 60)
    first = [item(handover, text) for text in ("A chip", "Dust")]
    tables.Handover.update(note="Please look").where(tables.Handover.id == handover.id).execute()
    tables.OpenItem.update(who="Dana Whitcombe").where(tables.OpenItem.id == first[0].id).execute()
    assert handover_rows.of_project(house.project) == [handover, second]
    assert handover_rows.items(handover.id) == first and handover_rows.items(second.id) == []


def test_of_items_that_are_done_the_first_listed_comes_first(house: House, handover: tables.Handover) -> None:
    late, early, left = item(handover, "A chip", NOW + 9), item(handover, "Dust", NOW + 5), item(handover, "A drip")
    assert handover_rows.items(handover.id) == [left, late, early]


def test_phases_of_one_place_in_the_plan_come_as_they_were_added(house: House) -> None:
    tables.Phase.update(position=3).execute()
    tables.Phase.update(note="n").where(tables.Phase.id << [house.phases["out"], house.phases["top"]]).execute()
    for found in (handover_rows.finished(house.project), handover_rows.unfinished(house.project)):
        assert found and [row.id for row in found] == sorted(row.id for row in found)
    tables.Phase.update(position=1).where(tables.Phase.id << [house.phases["floor"], house.phases["walk"]]).execute()
    assert handover_rows.finished(house.project)[0].id == house.phases["floor"]
    assert handover_rows.unfinished(house.project)[0].id == house.phases["walk"]
