"""Brings the schema forward from any earlier version, after a backup."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from playhouse.migrations import Runner

from portal.store.database import database, is_sqlite

DIRECTORY = Path(__file__).parent / "migrations"


def _runner() -> Runner:
    return Runner(database.obj, str(DIRECTORY))


def pending() -> list[str]:
    """The names of the migrations that this database has not had yet."""
    return [step.name for step in _runner().status() if step.applied is None]


def migrate(target: str | None = None) -> list[str]:
    """Apply what is pending, up to `target`; a database with data in it is copied aside first."""
    names = pending()
    if not names:
        return []
    if is_sqlite() and database.get_tables():
        back_up_beside()
    return list(_runner().up(target=target))


def back_up_beside() -> Path:
    """Copy the SQLite database to `<name>.before-<UTC time>` with SQLite's own backup, and return the path."""
    source = Path(database.obj.database)
    stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
    copy = source.with_name(f"{source.name}.before-{stamp}")
    with closing(sqlite3.connect(source)) as original, closing(sqlite3.connect(copy)) as into:
        original.backup(into)
    return copy
