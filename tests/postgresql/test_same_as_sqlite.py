"""The same house on both databases: the same snapshot, the same page to the byte, the same rows found."""

from pathlib import Path

import pytest

from portal.pages.home.page import render_page
from portal.store.engine.database import open_database
from portal.store.facts import Snapshot
from portal.store.finding import said_houses
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import add_row, change_row
from portal.store.tables import Project, Revision
from tests.house import NOW, House, make_house
from tests.unguarded import unguard


@pytest.fixture
def snapshots(url: str, tmp_path: Path) -> list[Snapshot]:
    """Of the house on SQLite, then on PostgreSQL, which stays open."""
    project = make_house(tmp_path / "portal.db").project
    first = read_snapshot(project)
    open_database(url)
    return [first, read_snapshot(project)]


def test_the_snapshot_is_the_same(snapshots: list[Snapshot]) -> None:
    sqlite, postgresql = snapshots
    assert postgresql == sqlite
    assert repr(postgresql) == repr(sqlite)  # True is 1 and a date-time a date, until it comes to writing them


def test_the_page_is_the_same(snapshots: list[Snapshot]) -> None:
    sqlite, postgresql = (render_page(snapshot, schedule_of(snapshot, NOW), NOW) for snapshot in snapshots)
    assert postgresql == sqlite


def test_json_keeps_the_order_in_which_it_was_written(house: House) -> None:
    detail = {"zeta": [1, 2.50], "alpha": {"%": "50 %", "?": None}, "ß": True}
    unguard("revision")
    Revision.update(detail=detail).where(Revision.id == 151).execute()
    read = Revision.get_by_id(151).detail
    assert read == detail and list(read) == list(detail)


@pytest.mark.parametrize("words", ["okafor", "OKAFOR tamarack", "tAmArAcK 14", "218-555-0161", "218.555.0161", "jonas"])
def test_a_house_is_found_however_the_caller_says_it(house: House, words: str) -> None:
    assert [project.id for project in said_houses.find(words)] == [house.project]


def test_what_is_typed_is_no_pattern(house: House) -> None:
    assert said_houses.find("%") == said_houses.find("_kafor") == []
    change_row(Project, house.project, 1, {"name": "The 50 % house"})
    assert [project.id for project in said_houses.find("50 %")] == [house.project]


def test_closed_projects_come_last_then_by_name(house: House) -> None:
    values = {"timezone": "UTC", "calendar": {}, "starts_on": "2026-11-16"}
    add_row(Project, name="A bath", address="1 Quarry Road", **values, closed_at=NOW)
    add_row(Project, name="Z bath", address="2 Quarry Road", **values)
    assert [project.name for project in said_houses.find("Quarry")] == ["Sorensen bath", "Z bath", "A bath"]
