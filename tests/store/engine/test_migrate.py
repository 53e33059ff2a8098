"""Migrations: forward from the first version with its data, after a backup."""

import json
import sqlite3
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest

from portal.folders import CONTENT
from portal.store import tables
from portal.store.engine.database import close_database, execute, open_database
from portal.store.engine.migrate import migrate, pending


@pytest.fixture
def first_version(tmp_path: Path) -> Path:
    """A database of the first version, with a project, a decision and its approval in it."""
    path = tmp_path / "portal.db"
    open_database(str(path))
    migrate("0001_first")
    execute(
        "INSERT INTO project (version, name, address, timezone, calendar, starts_on, phone, office_hours, changed) "
        "VALUES (1, 'Okafor house', '14 Tamarack Lane', 'America/Chicago', '{}', '2026-11-16', '', '', 7)"
    )
    execute("INSERT INTO person (version, project_id, name, role, phone, email, may_approve) "
            "VALUES (1, 1, 'Maren Okafor', 'homeowner', '', '', 1)")
    execute("INSERT INTO decision (version, project_id, number, kind, lead_days, approvers, revision, state) "
            "VALUES (1, 1, 1, 'deck', 1, 'any', 1, 'approved')")
    execute("INSERT INTO approval (decision_id, revision, option, person_id, name, at) "
            "VALUES (1, 1, 'a', 1, 'Maren Okafor', 1764000000)")
    execute("INSERT INTO phase (version, project_id, name, crew, position, work_low, work_likely, work_high, state, "
            "note, takes) VALUES (1, 1, 'Drill', 'Stone crew', 0, 60, 120, 180, 'waiting', '', '[]')")
    close_database()
    yield path
    close_database()


def test_the_first_version_comes_forward_with_its_data(first_version: Path) -> None:
    open_database(str(first_version))
    assert pending() and pending()[0] != "0001_first"
    migrate()
    assert pending() == []
    assert tables.Project.get_by_id(1).changed == 7
    assert tables.Approval.get_by_id(1).name == "Maren Okafor"
    assert tables.Phase.get_by_id(1).inspection_at is None


def test_a_backup_of_the_earlier_version_is_taken_first(first_version: Path) -> None:
    open_database(str(first_version))
    migrate()
    (backup,) = first_version.parent.glob("portal.db.before-*")
    with closing(sqlite3.connect(backup)) as copy:
        assert copy.execute("SELECT name FROM approval").fetchall() == [("Maren Okafor",)]
        assert "inspection_at" not in [column[1] for column in copy.execute("PRAGMA table_info(phase)")]


def test_a_new_database_needs_no_backup(tmp_path: Path) -> None:
    open_database(str(tmp_path / "portal.db"))
    migrate()
    close_database()
    assert not list(tmp_path.glob("*.before-*"))


def shown_before() -> dict[str, str]:
    """In the open database of the version before words were kept: revisions and a consent that name some of them by the
    first 16 digits of their hash. Returns what is still in content/ of it."""
    pulls, consent = (CONTENT / name for name in ("decisions/pulls.md", "guide/on-a-screen-or-on-paper.md"))
    known = {sha256(path.read_bytes()).hexdigest()[:16]: path.read_text() for path in (pulls, consent)}
    asked, agreed = known
    migrate("0010_item_photos")
    for number, version in enumerate((asked, asked, "0" * 16, None), 1):
        execute("INSERT INTO revision (decision_id, number, question, options, shown, check_code, asked_at, reason) "
                "VALUES (1, ?, 'How many', '[]', ?, 'aa', 1764000000, '')", number, json.dumps({"guidance": version}))
    execute("INSERT INTO consent (person_id, version, at) VALUES (1, ?, 1764000000)", agreed)
    return known


def test_words_that_were_shown_before_are_kept_where_they_are_still_there(first_version: Path) -> None:
    open_database(str(first_version))
    known = shown_before()
    migrate()
    assert {row.version: row.text for row in tables.Wording.select()} == known
