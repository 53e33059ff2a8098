"""A hand-over is offered, then accepted; what hangs on it stays with it."""

import pytest

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database


@pytest.fixture
def handover(house: House) -> tables.Handover:
    return tables.Handover.create(project=house.project, phase=house.phases["floor"], offered_at=NOW)


def test_a_new_one_is_offered_and_nobody_has_accepted_it(house: House, handover: tables.Handover) -> None:
    found = tables.Handover.get_by_id(handover.id)
    assert (found.offered_by_id, found.accepted_at, found.accepted_by_id) == (None, None, None)
    assert (found.note, found.accepted_name, found.version) == ("", "", 1)
    assert tables.Handover.create(project=house.project, offered_at=NOW).phase_id is None, "the whole project"


def test_a_new_item_is_open_and_bare(handover: tables.Handover) -> None:
    made = tables.OpenItem.create(handover=handover, item="A loose tile", added_by="Dana Whitcombe", added_at=NOW)
    found = tables.OpenItem.get_by_id(made.id)
    assert (found.photo, found.photo_sha256, found.who, found.version) == ("", "", "", 1)
    assert (found.room_id, found.by_on, found.done_at) == (None, None, None)


def test_what_was_handed_over_stays_and_so_does_what_the_list_names(house: House, handover: tables.Handover) -> None:
    pantry = tables.Room.create(project=house.project, name="Pantry")
    tables.OpenItem.create(handover=handover, item="A shelf", room=pantry.id, added_by="Dana", added_at=NOW)
    for table, row_id in (
        (tables.Phase, house.phases["floor"]), (tables.Room, pantry.id), (tables.Handover, handover.id),
    ):  # fmt: skip
        with refused_by_the_database("(?i)foreign key"):
            table.delete().where(table.id == row_id).execute()
        assert table.get_by_id(row_id)


def test_a_project_with_a_hand_over_stays(house: House) -> None:
    tables.Handover.create(project=house.other_project, offered_at=NOW)
    with refused_by_the_database("(?i)foreign key"):
        tables.Project.delete().where(tables.Project.id == house.other_project).execute()
