"""Scripts of migrations run on either database; triggers keep what is only added to."""

from collections.abc import Callable

import pytest
from peewee import Database, SqliteDatabase

from portal.store.engine.database import database, execute, is_sqlite
from portal.store.engine.ddl import placeholders, refuse_changes, refuse_replacing, refuse_row_changes, run_script
from tests.house import House
from tests.store.refusing import refused_by_the_database
from tests.store.schema import foreign_keys_of, types_of

SCRIPT = """-- A box; and what is in it.
CREATE TABLE "box" (
    "id" {serial},
    "inside" {json} NOT NULL,
    "bytes" {blob},
    "project_id" INTEGER REFERENCES "project" ("id"),
    "count" INTEGER
);
-- A comment between; with a semicolon;
INSERT INTO "box" ("inside", "count") VALUES ('[50, "%"]', 50 % 7);
INSERT INTO "box" ("inside", "count") VALUES ('[]', 2);
"""


@pytest.fixture
def box(house: House) -> House:
    run_script(database.obj, SCRIPT)
    return house


def counts() -> list[int]:
    return [count for (count,) in execute('SELECT "count" FROM "box" ORDER BY "id"').fetchall()]


def test_a_script_is_run_statement_by_statement_without_its_comments(box: House) -> None:
    assert counts() == [1, 2], "a percent sign means itself"
    assert execute('SELECT "id" FROM "box" ORDER BY "id"').fetchall() == [(1,), (2,)], "ids count by themselves"


def test_each_database_calls_the_types_its_own_way(box: House) -> None:
    ours = {"id": "INTEGER", "inside": "TEXT", "bytes": "BLOB", "count": "INTEGER"}
    theirs = {"id": "bigint", "inside": "json", "bytes": "bytea", "count": "integer"}
    assert types_of("box") == (ours if is_sqlite() else theirs)


def test_an_id_of_another_table_is_as_wide_as_that(box: House) -> None:
    assert foreign_keys_of("box") == {"project_id": ("project", "NO ACTION")}
    wide = {column.name: column.data_type for column in database.get_columns("box")}["project_id"]
    assert wide == ("INTEGER" if is_sqlite() else "bigint")


def test_a_statement_is_written_with_question_marks_for_either(house: House) -> None:
    sql = "SELECT name FROM room WHERE id = ? AND name LIKE 'Hall%'"
    expected = sql if is_sqlite() else "SELECT name FROM room WHERE id = %s AND name LIKE 'Hall%%'"
    assert placeholders(database, sql) == placeholders(database.obj, sql) == expected
    assert placeholders(SqliteDatabase(":memory:"), sql) == sql
    assert execute(sql, house.rooms["bath"]).fetchall() == [("Hall bath",)]


@pytest.mark.parametrize(
    "doing", ['UPDATE "box" SET "count" = 9', 'DELETE FROM "box"', 'DELETE FROM "box" WHERE "id" = 2']
)
@pytest.mark.parametrize("refuse", [refuse_changes, refuse_row_changes])
def test_rows_are_added_and_nothing_else(box: House, refuse: Callable[[Database, str], None], doing: str) -> None:
    refuse(database.obj, "box")
    with refused_by_the_database("box is only added to"):
        execute(doing)
    execute("""INSERT INTO "box" ("inside", "count") VALUES ('[]', 3)""")
    assert counts() == [1, 2, 3]


def test_a_statement_that_meets_no_row_is_let_through_where_rows_go_with_others(box: House) -> None:
    refuse_row_changes(database.obj, "box")
    assert execute('DELETE FROM "box" WHERE "id" = 99').rowcount == 0
    assert execute('UPDATE "box" SET "count" = 1 WHERE "id" = 99').rowcount == 0


def test_a_table_is_not_emptied_either(box: House) -> None:
    for refuse, table in ((refuse_changes, "box"), (refuse_row_changes, "crate")):
        if table == "crate":
            run_script(database.obj, SCRIPT.replace('"box"', '"crate"'))
        refuse(database.obj, table)
        with refused_by_the_database(f"{table} is only added to"):
            execute(f'DELETE FROM "{table}"' if is_sqlite() else f'TRUNCATE "{table}"')
        assert execute(f'SELECT COUNT(*) FROM "{table}"').fetchone() == (2,)


def test_a_row_of_the_same_key_is_not_put_in_its_place(box: House) -> None:
    refuse_replacing(database.obj, "box", "count")
    refuse_replacing(database.obj, "box", "id", "count")
    again = """INTO "box" ("id", "inside", "count") VALUES (?, '[]', ?)"""
    if is_sqlite():
        for row_id, count in ((1, 1), (9, 2)):
            with refused_by_the_database("box is only added to"):
                execute(f"INSERT OR REPLACE {again}", row_id, count)
        execute(f"INSERT OR REPLACE {again}", 3, 3)
        assert counts() == [1, 2, 3]
    else:  # an ordinary key refuses there, and nothing more is needed
        names = execute("SELECT tgname FROM pg_trigger WHERE tgname LIKE 'box_%'").fetchall()
        assert names == []


def test_a_key_of_two_columns_is_the_same_only_where_both_are(box: House) -> None:
    refuse_replacing(database.obj, "box", "count", "project_id")
    add = """INSERT INTO "box" ("inside", "count", "project_id") VALUES ('[]', ?, ?)"""
    for project in (box.project, box.other_project):
        execute(add, 7, project)
    execute(add, 8, box.project)
    if is_sqlite():
        with refused_by_the_database("box is only added to"):
            execute(add, 7, box.other_project)
    assert counts() == [1, 2, 7, 7, 8]
