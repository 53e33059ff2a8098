"""A row is found in its own project only, changed only as it was seen, and removed only while nothing points to it."""

from datetime import timedelta

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
    with pytest.raises(FieldRefused, match="already a room called “Kitchen”") as refused, write():
        add_row(tables.Room, project=house.project, name="Kitchen")
    assert refused.value.field == "name"
    with pytest.raises(FieldRefused, match="already a room called “Kitchen”"), write():
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
    with pytest.raises(FieldRefused, match="They approved, asked, told us or agreed"), write():
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


@pytest.mark.parametrize(
    ("table", "values", "field", "said"),
    [
        (tables.Phase, {"name": "Set the stone top", "work_low": 1, "work_likely": 1, "work_high": 1}, "name",
         "already a phase called “Set the stone top”"),
        (tables.Decision, {"number": 3}, "number", "already a decision called “3”"),
        (tables.Staff, {"name": "Dana W.", "email": "lou@brackwater.example.com", "role": "office",
                        "password_hash": "h"}, "email", "already a colleague called “lou@brackwater.example.com”"),
    ],
)  # fmt: skip
def test_what_is_taken_is_refused_by_the_field_that_must_be_told_apart(
    house: House, table: type[tables.Table], values: dict[str, object], field: str, said: str
) -> None:
    where = {} if table is tables.Staff else {"project": house.project}
    with pytest.raises(FieldRefused, match=said) as refused, write():
        add_row(table, **where, **values)
    assert refused.value.field == field and "Choose another" in str(refused.value)


def test_where_no_name_was_given_the_refusal_is_of_the_row(house: House) -> None:
    with pytest.raises(FieldRefused) as refused, write():
        add_row(tables.PhaseHold, phase=house.phases["drill"], decision=house.decisions[1])
    assert refused.value.field == "id" and "already a phase hold called “None”" in str(refused.value)


def test_another_of_the_staff_may_take_the_name_but_not_the_address_in_a_change(house: House) -> None:
    with write():
        change_row(tables.Staff, house.office.id, 1, {"name": "Dana Whitcombe"})
    with pytest.raises(FieldRefused) as refused, write():
        change_row(tables.Staff, house.office.id, 2, {"name": "Lou", "email": "dana@brackwater.example.com"})
    assert refused.value.field == "email"
    kept = tables.Staff.get_by_id(house.office.id)
    assert (kept.name, kept.version) == ("Dana Whitcombe", 2), "a change that was refused left nothing"


def test_an_act_goes_on_after_a_change_or_a_removal_was_refused(house: House) -> None:
    with write():
        with pytest.raises(FieldRefused):
            change_row(tables.Room, house.rooms["bath"], 1, {"name": "Kitchen"})
        with pytest.raises(FieldRefused):
            remove_row(tables.Room, house.rooms["kitchen"], 1)
        change_row(tables.Room, house.rooms["bath"], 1, {"name": "Upstairs bath"})
    assert tables.Room.get_by_id(house.rooms["bath"]).name == "Upstairs bath"


def test_what_is_gone_is_stale_for_whoever_still_sees_it(house: House) -> None:
    with write():
        pantry = add_row(tables.Room, project=house.project, name="Pantry").id
        remove_row(tables.Room, pantry, 1)
    for again in (lambda: change_row(tables.Room, pantry, 1, {"name": "Attic"}),
                  lambda: remove_row(tables.Room, pantry, 1)):  # fmt: skip
        with pytest.raises(Stale, match="This room was changed by someone else"), write():
            again()


def test_a_row_that_says_nothing_of_why_it_stays_is_used_elsewhere(house: House) -> None:
    tables.Handover.create(project=house.project, phase=house.phases["floor"], offered_at=1)
    with pytest.raises(FieldRefused, match="This phase is still used elsewhere") as refused, write():
        remove_row(tables.Phase, house.phases["floor"], 1)
    assert refused.value.field == "id"


def test_a_row_that_is_nowhere_is_not_found_by_field_or_without(house: House) -> None:
    with pytest.raises(NotFound, match="no such visit"):
        in_project(tables.Visit, house.project, 999)
    with pytest.raises(FieldRefused, match="There is no decision 999 in this project. Choose one that is."):
        in_project(tables.Decision, house.project, 999, "decision")


@pytest.mark.parametrize("table", [tables.Room, tables.Phase, tables.Decision, tables.Visit, tables.Delivery])
def test_a_list_is_in_the_order_of_its_table(house: House, table: type[tables.Table]) -> None:
    column = {tables.Room: "position", tables.Phase: "position", tables.Decision: "number",
              tables.Visit: "starts_at", tables.Delivery: "expected_on"}[table]  # fmt: skip
    rows = list(table.select().where(table.project == house.project))
    anew = {row.id: getattr(tables.Delivery.get_by_id(house.deliveries["stone"]), column) + timedelta(days=-turn)
            if table is tables.Delivery else 9_000 - turn // 2
            for turn, row in enumerate(sorted(rows, key=lambda row: row.id))}  # fmt: skip
    if table is tables.Decision:
        anew = {row_id: 9_000 - row_id for row_id in anew}
    for row_id, value in sorted(anew.items(), reverse=True):
        table.update({column: value}).where(table.id == row_id).execute()
    found, count = page_of(table, house.project, 0, 100)
    assert [row.id for row in found] == sorted(anew, key=lambda row_id: (anew[row_id], row_id))
    assert count == len(anew) == len(rows)


def test_what_was_told_comes_newest_first(house: House) -> None:
    same = [tables.Update.create(project=house.project, at=1_000, text="t", html="t").id for _ in range(2)]
    found = [row.id for row in page_of(tables.Update, house.project, 0, 100)[0]]
    assert found == [*sorted(found, reverse=True)[2:], same[1], same[0]]
    calls = [tables.Call.create(project=house.project, at=at, caller="Maren", asked="?").id for at in (5, 9, 5)]
    assert [row.id for row in page_of(tables.Call, house.project, 0, 100)[0]] == [calls[1], calls[2], calls[0]]


def test_the_first_firm_is_the_firm(house: House) -> None:
    tables.Firm.create(name="Another", phone="218-555-0190", office_hours="Never")
    tables.Firm.update(address="").where(tables.Firm.name == "Brackwater Remodeling").execute()
    assert first_firm().name == "Brackwater Remodeling"
    tables.Firm.delete().execute()
    empty = first_firm()
    assert (empty.phone, empty.office_hours, empty.registrations, empty.email) == ("", "", [], "")
