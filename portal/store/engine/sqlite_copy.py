"""A SQLite database copied whole while others write, and checked; and a look whether somebody still has it open."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from urllib.parse import quote

from portal.store.refusals import Busy, Refused

_BUSY_SECONDS = 20.0


class Damaged(Refused):
    status = 500
    sentence = "The database {path} is damaged: {fault}. Nothing was changed."


class StillOpen(Refused):
    sentence = "The database {path} is in use. Stop the service and the timers, then try again. Nothing was changed."


def copy_sqlite(source: Path, into: Path) -> None:
    """Copy the database as of one moment; writers go on meanwhile. Raises Busy, Damaged, OSError (no room).

    VACUUM INTO reads within one transaction, reads every row, and gives up when another holds the database for itself;
    SQLite's backup functions would wait for that one for ever.
    """
    with _named(source), closing(_open(source)) as connection:
        connection.execute("VACUUM INTO ?", (str(into),))
    check_sqlite(into)


def check_sqlite(path: Path) -> None:
    """Raises Damaged when the file is no whole database."""
    with _named(path), closing(_open(path)) as connection:
        found = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if found != "ok":
        raise Damaged(path=path, fault=found)


def let_go(path: Path) -> None:
    """Write the log of a database that nobody uses into its file, so that it can be moved as one. Raises StillOpen.

    Only the last connection may leave the write-ahead mode: https://sqlite.org/wal.html.
    """
    with closing(_open(path, seconds=0.5)) as connection:
        try:
            connection.execute("PRAGMA journal_mode = delete")
        except sqlite3.OperationalError as error:
            raise StillOpen(path=path) from error
        except sqlite3.DatabaseError:  # no database at all: whatever it is, it is moved as it is
            return


def _open(path: Path, seconds: float = _BUSY_SECONDS) -> sqlite3.Connection:
    """Never makes a new database where there is none."""
    return sqlite3.connect(f"file:{quote(str(path))}?mode=rw", uri=True, timeout=seconds, isolation_level=None)


@contextmanager
def _named(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            raise Busy() from error
        raise OSError(None, str(error), str(path)) from error
    except sqlite3.DatabaseError as error:
        raise Damaged(path=path, fault=error) from error


def edges_in(path: Path) -> list[tuple[int, int, bytes, str]] | None:
    """The right edge of each record in the file of a database: project, size, peaks and time; None where there is no
    table of them."""
    try:
        with closing(_open(path)) as connection:
            found = connection.execute("SELECT project_id, size, peaks, at FROM record_edge ORDER BY project_id")
            return [(project, size, bytes(peaks), at) for project, size, peaks, at in found]
    except sqlite3.DatabaseError:
        return None
