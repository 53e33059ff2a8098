"""What was erased is gone from the database's own files, too.

SQLite overwrites deleted rows with zeros (`secure_delete`, set for each connection), but its write-ahead log still has
the old pages until it is emptied. On PostgreSQL old versions of a row lie in the table's file until the table is
written anew; its own write-ahead log is its operator's (deploy/guarding.md).
"""

import logging

from peewee import DatabaseError

from portal.store.engine.database import execute, is_sqlite

log = logging.getLogger(__name__)
_TABLES = ("crew_note",)
"""Whose erased rows must be gone; small, so that writing them anew takes no time."""


def scrub() -> bool:
    """Outside of any transaction, after what was to be erased is committed. Whether it is done: a reader that is still
    under way keeps the log from being emptied; the next tick does it then."""
    if is_sqlite():
        busy, _, _ = execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        return not busy
    try:
        for table in _TABLES:
            execute(f'VACUUM (FULL) "{table}"')
    except DatabaseError as error:
        log.warning("what was erased is not yet gone from the files", extra={"reason": type(error).__name__})
        return False
    return True
