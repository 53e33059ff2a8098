"""A row that people edit begins at version 1, and lists begin empty, each its own."""

import pytest

from portal.store import tables
from tests.house import House
from tests.store.schema import TABLES

EDITED = {
    tables.Crew, tables.CrewNote, tables.Decision, tables.Delivery, tables.Firm, tables.Handover, tables.KeptSize,
    tables.OpenItem, tables.Person, tables.Phase, tables.Project, tables.Room, tables.Staff, tables.Supplier,
    tables.Update, tables.Visit,
}  # fmt: skip
LISTS = {
    tables.Firm: ["registrations"], tables.Crew: ["days_off"],
    tables.PlannedWork: ["work", "visits"],
    tables.Room: ["services"], tables.Phase: ["takes"], tables.DeskLine: ["waiting"],
    tables.Forecast: ["phases", "decisions", "deliveries"], tables.PlannedQuestion: ["holds"],
    tables.PlannedOrder: ["phases"],
}  # fmt: skip


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_rows_that_people_edit_begin_at_version_one_and_others_have_none(table: type[tables.Table]) -> None:
    row = table()
    if table in EDITED:
        assert isinstance(row, tables.Versioned) and row.version == 1
    else:
        assert not isinstance(row, tables.Versioned)


@pytest.mark.parametrize("table", LISTS, ids=lambda table: table.__name__)
def test_a_list_begins_empty_and_is_nobody_elses(table: type[tables.Table]) -> None:
    one, other = table(), table()
    for name in LISTS[table]:
        getattr(one, name).append("mine")
        assert getattr(other, name) == [] and getattr(table(), name) == []


def test_a_list_comes_back_as_it_was_kept(house: House) -> None:
    room = tables.Room.create(project=house.project, name="Pantry", services=["power", "way_through", "power"])
    assert tables.Room.get_by_id(room.id).services == ["power", "way_through", "power"]
    assert tables.Room.get_by_id(tables.Room.create(project=house.project, name="Attic").id).services == []
