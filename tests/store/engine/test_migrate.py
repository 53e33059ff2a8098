"""Migrations: forward from the first version with its data, after a backup."""

import json
import sqlite3
import threading
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal.folders import CONTENT
from portal.store import tables
from portal.store.engine.database import close_database, database, execute, open_database, write
from portal.store.engine.migrate import applied, back_up_beside, known, migrate, pending


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
    assert tables.Project.get_by_id(1).changed == 7 + 1  # every page is published anew in the two ways that there are
    assert tables.Approval.get_by_id(1).name == "Maren Okafor"
    assert tables.Phase.get_by_id(1).inspection_at is None


def test_a_backup_of_the_earlier_version_is_taken_first(first_version: Path) -> None:
    open_database(str(first_version))
    migrate()
    (backup,) = first_version.parent.glob("portal.db.before-*")
    with closing(sqlite3.connect(backup)) as copy:
        assert copy.execute("SELECT name FROM approval").fetchall() == [("Maren Okafor",)]
        assert "inspection_at" not in [column[1] for column in copy.execute("PRAGMA table_info(phase)")]


def test_a_backup_is_named_after_its_moment(first_version: Path) -> None:
    open_database(str(first_version))
    with freeze_time("2026-12-02 13:30:00"):
        assert back_up_beside() == first_version.with_name("portal.db.before-20261202T133000Z")
    assert first_version.with_name("portal.db.before-20261202T133000Z").is_file()


def test_what_was_applied_is_told_and_nothing_is_applied_twice(tmp_path: Path) -> None:
    open_database(str(tmp_path / "portal.db"))
    everything = sorted(known())
    assert pending() == everything and applied() == []
    assert migrate("0003_tree") == everything[:3] == applied()
    assert pending() == everything[3:]
    assert migrate() == everything[3:] and applied() == everything
    assert migrate() == [] and len(list(tmp_path.glob("*.before-*"))) == 1, "the second time there was nothing to do"
    close_database()


def test_a_service_and_a_timer_that_start_at_once_migrate_once(first_version: Path) -> None:
    done: list[list[str]] = []
    open_database(str(first_version))
    both = threading.Barrier(2)

    def start() -> None:
        both.wait(10)
        done.append(migrate())
        close_database()

    threads = [threading.Thread(target=start) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(map(bool, done)) == [False, True] and pending() == []
    assert len(list(first_version.parent.glob("*.before-*"))) == 1


def test_a_migration_that_fails_undoes_itself_and_leaves_those_before_it(
    first_version: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = {"0001_first": "pass", "0002_good": "db.execute_sql('CREATE TABLE good (a INTEGER)')",
             "0003_bad": "db.execute_sql('CREATE TABLE bad (a INTEGER)'); raise ValueError('no')"}  # fmt: skip
    folder = first_version.parent / "steps"
    folder.mkdir()
    for name, body in steps.items():
        (folder / f"{name}.py").write_text(f"def up(migrator, db): {body}")
    monkeypatch.setattr("portal.store.engine.migrate.DIRECTORY", folder)
    open_database(str(first_version))
    with pytest.raises(ValueError, match="no"):
        migrate()
    assert applied() == ["0001_first", "0002_good"] and pending() == ["0003_bad"]
    assert database.table_exists("good") and not database.table_exists("bad")
    with write():
        execute("UPDATE project SET name = name")  # the turn was given back


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
