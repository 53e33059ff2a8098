"""Migrations on PostgreSQL: forward from the first version with its data, after a backup; and the record refuses to be
changed."""

import threading
from pathlib import Path

import pytest
from peewee import IntegrityError

from portal.acts.plan.starting import release_phase
from portal.store import tables
from portal.store.engine.database import close_database, database, execute, open_database
from portal.store.engine.migrate import migrate, pending
from tests.house import NOW, House
from tests.postgresql.server import Server
from tests.store.engine.test_migrate import shown_before

FIRST_VERSION = Path(__file__).with_name("first_version.sql")
ONLY_ADDED_TO = ["record_entry", "record_node", "approval", "withdrawal", "revision", "release", "wording",
                 "question_withdrawal"]


@pytest.fixture
def first_version(empty: str) -> str:
    """A database of the first version, with a project, a decision, its approval and the record of it."""
    open_database(empty)
    migrate("0001_first")
    for statement in FIRST_VERSION.read_text().split(";\n"):
        if statement.strip():
            execute(statement)
    return empty


def copies() -> list[str]:
    rows = execute("SELECT nspname FROM pg_namespace WHERE nspname LIKE 'before_%' ORDER BY nspname").fetchall()
    return [name for (name,) in rows]


def test_the_first_version_comes_forward_with_its_data(first_version: str) -> None:
    migrate()
    assert pending() == []
    assert tables.Project.get_by_id(1).changed == 7 + 1  # every page is published anew
    assert tables.Approval.get_by_id(1).name == "Maren Okafor"
    assert tables.Phase.get_by_id(1).inspection_at is None
    assert tables.RecordEdge.get(tables.RecordEdge.project == 1).size == 1


def test_words_that_were_shown_before_are_kept_where_they_are_still_there(
    first_version: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = shown_before()
    monkeypatch.setattr("portal.store.engine.migrate._stamp", lambda: "20261202T133000Z")  # the other is a moment old
    migrate()
    assert {row.version: row.text for row in tables.Wording.select()} == known


def test_a_copy_of_the_earlier_version_is_kept_within(first_version: str) -> None:
    migrate()
    (copy,) = copies()
    assert execute(f"SELECT name FROM {copy}.approval").fetchall() == [("Maren Okafor",)]
    columns = execute("SELECT column_name FROM information_schema.columns WHERE table_schema = ?", copy).fetchall()
    assert ("work_low",) in columns and ("inspection_at",) not in columns


def test_a_new_database_needs_no_copy(empty: str) -> None:
    open_database(empty)
    migrate()
    assert copies() == []


def test_a_migration_that_fails_leaves_everything_as_it_was(
    first_version: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "0001_first.py").write_text("def up(migrator, db): pass")
    (tmp_path / "0002_good.py").write_text("def up(migrator, db): db.execute_sql('CREATE TABLE good (a INTEGER)')")
    (tmp_path / "0003_bad.py").write_text("def up(migrator, db): raise ValueError('no')")
    before = database.get_tables()
    monkeypatch.setattr("portal.store.engine.migrate.DIRECTORY", tmp_path)
    with pytest.raises(ValueError, match="no"):
        migrate()
    assert (database.get_tables(), copies(), pending()) == (before, [], ["0002_good", "0003_bad"])


def test_two_servers_that_start_at_once_migrate_once(empty: str) -> None:
    open_database(empty)
    done: list[list[str]] = []

    def start() -> None:
        done.append(migrate())
        close_database()

    threads = [threading.Thread(target=start) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(map(bool, done)) == [False, True] and pending() == []


def test_an_id_is_as_wide_as_the_key_that_it_points_to(house: House) -> None:
    narrow = [
        f"{table}.{key.column}"
        for table in database.get_tables()
        for key in database.get_foreign_keys(table)
        if {c.name: c.data_type for c in database.get_columns(table)}[key.column] != "bigint"
    ]
    assert narrow == []


@pytest.mark.parametrize("table", ONLY_ADDED_TO)
@pytest.mark.parametrize("doing", ['UPDATE "{}" SET {} = {}', 'DELETE FROM "{}"', 'TRUNCATE "{}" CASCADE'])
def test_the_database_itself_refuses_to_change_the_record(house: House, table: str, doing: str) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="Template is on site", now=NOW)
    column = database.get_columns(table)[0].name
    with pytest.raises(IntegrityError, match="only added to"):
        execute(doing.format(table, column, column))


def test_a_phase_goes_when_it_was_never_released_and_stays_when_it_was(house: House) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="Template is on site", now=NOW)
    with pytest.raises(IntegrityError, match="only added to|only beside an entry"):
        execute("DELETE FROM phase WHERE id = ?", house.phases["drill"])
    database.rollback()
    execute("INSERT INTO phase (version, project_id, name, crew, position, work_low, work_likely, work_high, state, "
            "note, takes) VALUES (1, ?, 'Paint', 'Painter', 9, 60, 120, 180, 'waiting', '', '[]')", house.project)
    assert execute("DELETE FROM phase WHERE name = 'Paint'").rowcount == 1


def test_emptying_a_table_that_the_record_hangs_on_is_refused_too(house: House) -> None:
    with pytest.raises(IntegrityError, match="only added to"):
        execute("TRUNCATE project CASCADE")


def test_a_percent_sign_in_a_statement_means_itself(house: House, server: Server) -> None:
    found = execute("SELECT name FROM room WHERE name LIKE 'K%' AND id = ?", house.rooms["kitchen"])
    assert found.fetchall() == [("Kitchen",)]
