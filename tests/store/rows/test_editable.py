"""A row is found in its own project only, changed only as it was seen, and removed only while nothing points to it."""

import pytest

from portal.store import tables
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused, NotFound, Stale
from portal.store.rows.editable import (
    add_row,
    change_row,
    first_firm,
    in_project,
    page_of,
    project_row,
    remove_row,
    versions_of,
    word_for,
)
from tests.house import House


def test_a_row_of_another_project_does_not_exist_here(house: House) -> None:
    kitchen = house.rooms["kitchen"]
    assert in_project(tables.Room, house.project, kitchen).name == "Kitchen"
    with pytest.raises(NotFound, match="no such room"):
        in_project(tables.Room, house.other_project, kitchen)


def test_an_id_that_came_as_a_fields_value_is_refused_by_that_field(house: House) -> None:
    with pytest.raises(FieldRefused, match=f"There is no room {house.rooms['bath']} in this project") as refused:
        in_project(tables.Room, house.other_project, house.rooms["bath"], "room")
    assert refused.value.field == "room"


def test_a_project_that_is_not_there_is_refused(house: House) -> None:
    assert project_row(house.other_project).name == "Sorensen bath"
    with pytest.raises(NotFound, match="no such project"):
        project_row(999)


def test_a_change_writes_its_own_columns_and_counts_the_version(house: House) -> None:
    before = tables.Room.get_by_id(house.rooms["bath"])
    with write():
        after = change_row(tables.Room, before.id, before.version, {"name": "Upstairs bath"})
    assert (after.name, after.version, after.services) == ("Upstairs bath", before.version + 1, before.services)
    assert tables.Room.get_by_id(house.rooms["kitchen"]).version == 1


def test_a_change_of_what_was_changed_meanwhile_is_refused_and_changes_nothing(house: House) -> None:
    room = house.rooms["bath"]
    with write():
        change_row(tables.Room, room, 1, {"name": "Upstairs bath"})
    for seen in (1, 3):
        with pytest.raises(Stale, match="This room was changed by someone else"), write():
            change_row(tables.Room, room, seen, {"name": "Small bath"})
    assert tables.Room.get_by_id(room).name == "Upstairs bath"


def test_a_name_that_is_taken_is_refused_by_its_field_whether_added_or_changed(house: House) -> None:
    with pytest.raises(FieldRefused, match="already a room called 'Kitchen'") as refused, write():
        add_row(tables.Room, project=house.project, name="Kitchen")
    assert refused.value.field == "name"
    with pytest.raises(FieldRefused, match="already a room called 'Kitchen'"), write():
        change_row(tables.Room, house.rooms["bath"], 1, {"name": "Kitchen"})
    with write():
        assert add_row(tables.Room, project=house.other_project, name="Kitchen").id


def test_an_act_goes_on_after_the_database_refused_a_row(house: House) -> None:
    with write():
        with pytest.raises(FieldRefused):
            add_row(tables.Staff, name="Dana W.", email="dana@brackwater.example.com", role="office", password_hash="x")
        add_row(tables.Room, project=house.project, name="Pantry")
    assert tables.Room.select().where(tables.Room.name == "Pantry").count() == 1


def test_what_is_still_used_is_not_removed_and_says_what_to_do(house: House) -> None:
    with pytest.raises(FieldRefused, match="Move or remove that first"), write():
        remove_row(tables.Room, house.rooms["kitchen"], 1)
    with pytest.raises(FieldRefused, match="They approved, asked or agreed"), write():
        remove_row(tables.Person, house.homeowner.id, 1)
    assert tables.Room.get_or_none(tables.Room.id == house.rooms["kitchen"])


def test_a_row_is_removed_as_it_was_seen_only(house: House) -> None:
    with write():
        pantry = add_row(tables.Room, project=house.project, name="Pantry")
    with pytest.raises(Stale), write():
        remove_row(tables.Room, pantry.id, 2)
    with write():
        remove_row(tables.Room, pantry.id, 1)
    assert tables.Room.get_or_none(tables.Room.id == pantry.id) is None


def test_a_page_has_its_rows_in_order_and_counts_all_of_the_project(house: House) -> None:
    tables.Phase.update(position=99).where(tables.Phase.id == house.phases["out"]).execute()
    found, count = page_of(tables.Phase, house.project, 13, 5)
    assert ([row.id for row in found], count) == ([house.phases["walk"], house.phases["out"]], 15)
    assert page_of(tables.Phase, house.other_project, 0, 5) == ([], 0)


def test_versions_are_those_of_the_projects_rows(house: House) -> None:
    with write():
        change_row(tables.Visit, house.visits["top"], 1, {"crew": "Stone"})
    assert versions_of(tables.Visit, house.project)[house.visits["top"]] == 2
    assert versions_of(tables.Visit, house.project).keys() == set(house.visits.values())
    assert versions_of(tables.Visit, house.other_project) == {}


def test_before_it_is_written_down_the_firm_is_an_empty_one(house: House) -> None:
    assert first_firm().name == "Brackwater Remodeling"
    tables.Firm.delete().execute()
    assert (first_firm().name, first_firm().version) == ("", 0)


@pytest.mark.parametrize(
    ("table", "word"),
    [(tables.Person, "person"), (tables.QuestionBack, "question back"), (tables.Visit, "visit")],
)
def test_people_are_told_of_rows_in_plain_words(table: type[tables.Table], word: str) -> None:
    assert word_for(table) == word
