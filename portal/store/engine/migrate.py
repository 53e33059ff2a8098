"""Brings the schema forward from any earlier version, after a backup.

The backup is there to look up or put back what a migration got wrong; it is no substitute for the nightly one. On
SQLite it is a file beside the database. On PostgreSQL it is a schema `before_<UTC time>` in the same database, which
needs no other program and no place of its own: plain copies of all tables, made in the transaction of the migrations.
So the portal's role must be allowed to make schemas (own the database). Drop the copy when it is no longer wanted:
`DROP SCHEMA before_20261202t133000z CASCADE`.
"""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from playhouse.migrations import Migration, Runner

from portal.store.engine.database import database, is_sqlite, take_turns, turn, write
from portal.store.engine.disk import close_to_others

DIRECTORY = Path(__file__).parents[1] / "migrations"


def _runner() -> Runner:
    return Runner(database.obj, str(DIRECTORY))


def pending() -> list[str]:
    """The names of the migrations that this database has not had yet."""
    return [step.name for step in _runner().status() if step.applied is None]


def applied() -> list[str]:
    """The names of the migrations that this database has had, also of those that this program does not know."""
    return sorted(_runner().applied())


def known() -> set[str]:
    """The names of the migrations that this program brings."""
    return {step.name for step in Migration.load_directory(str(DIRECTORY))}


def migrate(target: str | None = None) -> list[str]:
    """Apply what is pending, up to `target`; a database with data in it is copied aside first."""
    if not pending():
        return []
    if not is_sqlite():
        return _migrate_postgresql(target)
    return _migrate_sqlite(target)


def _migrate_sqlite(target: str | None) -> list[str]:
    """Each migration in a transaction of its own. The service and a timer may start at once: the second waits, and
    finds nothing left to do."""
    with turn():
        if pending() and database.get_tables():
            back_up_beside()
        return list(_runner().up(target=target))


def _migrate_postgresql(target: str | None) -> list[str]:
    """All or nothing; and of two servers that start at once, the second finds nothing left to do."""
    with write():
        take_turns("migrations")
        if pending() and database.get_tables():
            back_up_within()
        return list(_runner().up(target=target))


def back_up_within() -> str:
    """Copy all tables of the PostgreSQL database into a new schema `before_<UTC time>`, and return its name."""
    schema = f"before_{_stamp().lower()}"
    database.execute_sql(f'CREATE SCHEMA "{schema}"')
    for table in database.get_tables():
        database.execute_sql(f'CREATE TABLE "{schema}"."{table}" AS TABLE "{table}"')
    return schema


def back_up_beside() -> Path:
    """Copy the SQLite database to `<name>.before-<UTC time>` with SQLite's own backup, and return the path."""
    source = Path(database.obj.database)
    copy = source.with_name(f"{source.name}.before-{_stamp()}")
    close_to_others(copy)
    with closing(sqlite3.connect(source)) as original, closing(sqlite3.connect(copy)) as into:
        original.backup(into)
    return copy


def _stamp() -> str:
    return datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
