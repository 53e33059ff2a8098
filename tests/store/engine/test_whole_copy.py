"""The whole database as one file while others write; and which photos a copy must come with."""

import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path

import pytest

from portal.store import tables
from portal.store.engine.database import execute, is_sqlite, write
from portal.store.engine.whole_copy import copy_database, photos_named
from tests.house import NOW, House

PANTRY = "INSERT INTO room (version, project_id, name, position, services) VALUES (1, ?, 'Pantry', 9, '[]')"


@pytest.fixture
def handover(house: House) -> tables.Handover:
    return tables.Handover.create(project=house.other_project, offered_at=NOW)


def item(handover: tables.Handover, photo: str) -> None:
    tables.OpenItem.create(handover=handover, item="A chip", photo=photo, added_by="Dana Whitcombe", added_at=NOW)


def test_photos_are_those_of_updates_and_of_open_items_each_named_once(
    house: House, handover: tables.Handover
) -> None:
    ours = [(house.project, letter * 20) for letter in "abcd"]
    assert photos_named() == ours
    for photo in ("f" * 20, "", "a" * 20, "f" * 20):
        item(handover, photo)
    assert photos_named() == [*ours, (house.other_project, "a" * 20), (house.other_project, "f" * 20)]


def test_a_photo_that_no_row_names_any_more_is_not_among_them(house: House) -> None:
    tables.Photo.delete().where(tables.Photo.name == "b" * 20).execute()
    assert (house.project, "b" * 20) not in photos_named() and len(photos_named()) == 3


def test_each_table_with_photos_in_it_is_asked() -> None:
    with_photos = {
        table._meta.table_name for table in (getattr(tables, name) for name in tables.__all__)
        if "photo" in table._meta.fields or table is tables.Photo
    }  # fmt: skip
    assert with_photos == {"photo", "open_item", "message"}, "photos_named asks these; a new one has to be added there"


def test_a_database_from_before_there_were_open_items_names_its_photos(house: House) -> None:
    execute("DROP TABLE open_item")
    assert photos_named() == [(house.project, letter * 20) for letter in "abcd"]


def test_a_copy_holds_what_was_committed_and_nothing_under_way(house: House, tmp_path: Path) -> None:
    into = tmp_path / "copy"
    with write():
        execute(PANTRY, house.project)
        copy_database(into)
    assert names_in(into) == ["Hall bath", "Kitchen", "Laundry room"]
    again = tmp_path / "again"
    copy_database(again)
    assert names_in(again) == ["Hall bath", "Kitchen", "Laundry room", "Pantry"]
    assert tables.Room.select().count() == 4


def names_in(copy: Path) -> list[str]:
    """Of the rooms in a copy, read without the database that it was made of."""
    if is_sqlite():
        with closing(sqlite3.connect(copy)) as opened:
            return [name for (name,) in opened.execute("SELECT name FROM room ORDER BY name")]
    said = subprocess.run(
        ["pg_restore", "--data-only", "--table=room", "--file=-", str(copy)], check=True, capture_output=True, text=True
    ).stdout
    rows = said.partition("FROM stdin;\n")[2].partition("\\.")[0].splitlines()
    return sorted(row.split("\t")[3] for row in rows)
