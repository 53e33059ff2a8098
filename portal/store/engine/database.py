"""The connection, and the one place that commits.

SQLite starves writers that wait in its busy handler, so writers take turns before they begin: a lock among the
threads of a process, a file lock among processes. On PostgreSQL the writers of one project take turns, by the lock on
its row that `touch` takes before anything is read. A transaction remembers which projects it touched; after the
commit the listeners are told, and publish.
"""

import fcntl
import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from peewee import Database, DatabaseProxy, OperationalError, SqliteDatabase

from portal.store.engine.ddl import placeholders
from portal.store.engine.disk import lock
from portal.store.refusals import Busy, CannotWrite, NoDriver, NotFound

database = DatabaseProxy()

_SQLITE = {"journal_mode": "wal", "foreign_keys": 1, "synchronous": "full", "busy_timeout": 5000}
_TURN_SECONDS = 20.0
_BETWEEN_TRIES = 0.0005

_turn = threading.Lock()
_state = threading.local()
_turn_file: dict[int, int] = {}
_listeners: list[Callable[[set[int]], None]] = []


def open_database(url: str) -> None:
    """Connect to `url`: a path (SQLite) or a `postgresql://` URL."""
    close_database()
    _turn_file.clear()
    if is_postgresql(url):
        database.initialize(_postgresql(url))
        return
    Path(url).parent.mkdir(parents=True, exist_ok=True)
    database.initialize(SqliteDatabase(url, pragmas=_SQLITE, timeout=5))


def is_postgresql(url: str) -> bool:
    return url.startswith(("postgres://", "postgresql://"))


def _postgresql(url: str) -> Database:
    try:
        from portal.store.engine.postgresql import PostgreSQL
    except ImportError as error:
        raise NoDriver() from error
    return PostgreSQL(url)


def close_database() -> None:
    if database.obj is not None and not database.is_closed():
        database.close()


def is_sqlite() -> bool:
    return isinstance(database.obj, SqliteDatabase)


def listen(listener: Callable[[set[int]], None]) -> None:
    """Tell `listener` the ids of the projects that each commit touched."""
    _listeners.append(listener)


def stop_listening() -> None:
    _listeners.clear()


def touch(project_id: int) -> None:
    """Mark a project as changed by the transaction under way."""
    touched = _touched()
    if touched is None:
        raise RuntimeError("a project changes only within write()")
    if project_id not in touched:
        changed = execute("UPDATE project SET changed = changed + 1 WHERE id = ?", project_id)
        if not changed.rowcount:
            raise NotFound(what="project")
        touched.add(project_id)


def execute(sql: str, *parameters: Any) -> Any:
    """Run one statement, written with `?`, past the mapper, and give its cursor."""
    there = database.obj  # an approval comes by a dozen times: past the proxy, too
    if not isinstance(there, SqliteDatabase):
        sql = placeholders(there, sql)
    return there.execute_sql(sql, parameters)


def take_turns(over: str) -> None:
    """Whoever writes about the same thing, and no row stands for it yet, waits here until the other has committed."""
    if not is_sqlite():  # there, every writer has waited for its turn already
        execute("SELECT pg_advisory_xact_lock(hashtextextended(?, 0))", over)


@contextmanager
def write() -> Iterator[None]:
    """One change: everything inside is committed together or not at all. A write within a write joins it."""
    if _touched() is not None:
        yield
        return
    with _translated(), turn():
        touched: set[int] = set()
        _state.touched = touched
        try:
            # READ COMMITTED: what is read after the wait for the project's row is what the other one left.
            with database.atomic("IMMEDIATE" if is_sqlite() else "READ COMMITTED"):
                yield
        finally:
            _state.touched = None
    if touched:
        for listener in _listeners:
            listener(touched)


@contextmanager
def trying() -> Iterator[None]:
    """Around a statement that the database may refuse, so that the act may go on after that. On PostgreSQL a refusal
    ends the transaction, or no more than a savepoint if there is one; SQLite only undoes the statement."""
    if is_sqlite():
        yield
        return
    with database.atomic():
        yield


def _touched() -> set[int] | None:
    return getattr(_state, "touched", None)


@contextmanager
def read() -> Iterator[None]:
    """Reads that all see the same moment."""
    with _translated(), database.atomic(None if is_sqlite() else "REPEATABLE READ"):
        yield


@contextmanager
def turn() -> Iterator[None]:
    """Keep other writers waiting on SQLite; on PostgreSQL, rows do. Raises Busy after 20 seconds."""
    if not is_sqlite():
        yield
        return
    if not _turn.acquire(timeout=_TURN_SECONDS):
        raise Busy()
    try:
        handle = _open_turn_file()
        lock(handle, _TURN_SECONDS, _BETWEEN_TRIES)
        try:
            yield
        finally:
            fcntl.flock(handle, fcntl.LOCK_UN)
    finally:
        _turn.release()


def _open_turn_file() -> int:
    """A file lock belongs to the open file, and an open file is shared over a fork: so one for each process."""
    pid = os.getpid()
    if pid not in _turn_file:
        path = f"{database.obj.database}.turn"
        _turn_file[pid] = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    return _turn_file[pid]


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except OperationalError as error:
        reason = _reason(error)
        if "locked" in reason or "busy" in reason:
            raise Busy() from error
        if any(words in reason for words in ("full", "readonly", "disk I/O", "unable to open")):
            raise CannotWrite() from error
        raise
    except OSError as error:
        raise CannotWrite() from error


def _reason(error: BaseException) -> str:
    """What the database said, and what it said before that: where the disk fails, SQLite has rolled back by itself, and
    that there is nothing left to roll back is all that the last error tells."""
    before = f"{_reason(error.__context__)}; " if error.__context__ else ""
    return f"{before}{error}"
