"""The connection, and the one place that commits.

SQLite starves writers that wait in its busy handler, so writers take turns before they begin: a lock among the
threads of a process, a file lock among processes. On PostgreSQL the writers of one project take turns, by the lock on
its row that `touch` takes before anything is read. A transaction remembers which projects it touched; after the
commit the listeners are told, and publish.
"""

import fcntl
import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from peewee import Database, DatabaseError, DatabaseProxy, OperationalError, SqliteDatabase

from portal.store.engine import journal
from portal.store.engine.ddl import placeholders
from portal.store.engine.disk import close_to_others, lock
from portal.store.engine.faults import refusal_of
from portal.store.refusals import Busy, CannotWrite, NoDriver, NotFound, ReadOnlyDisk

database = DatabaseProxy()

_SQLITE = {"journal_mode": "wal", "foreign_keys": 1, "synchronous": "full", "busy_timeout": 5000, "secure_delete": 1}
_TURN_SECONDS = 20.0
_BETWEEN_TRIES = 0.0005
_OPENING_SECONDS = 10.0
_TOUCH = "UPDATE project SET changed = changed + 1, changed_at = ? WHERE id = ?"

_turn = threading.Lock()
_state = threading.local()
_turn_file: dict[int, int] = {}
_opened: list[str] = [""]
_listeners: list[Callable[[set[int]], None]] = []


class _Sqlite(SqliteDatabase):
    """Opens with patience. Of two that make the journal of one new file at once, SQLite turns one away without calling
    its busy handler, as neither could ever go on (https://www.sqlite.org/c3ref/busy_handler.html)."""

    def connect(self, reuse_if_open: bool = False) -> bool:
        until = time.monotonic() + _OPENING_SECONDS
        while True:
            try:
                return bool(super().connect(reuse_if_open))
            except OperationalError as error:
                if not isinstance(refusal_of(error), Busy) or time.monotonic() > until:
                    raise
            time.sleep(_BETWEEN_TRIES)


def open_database(url: str) -> None:
    """Connect to `url`: a path (SQLite) or a `postgresql://` URL."""
    close_database()
    _turn_file.clear()
    _opened[:] = [url]
    if is_postgresql(url):
        database.initialize(_postgresql(url))
        return
    Path(url).parent.mkdir(parents=True, exist_ok=True)
    close_to_others(Path(url))
    database.initialize(_Sqlite(url, pragmas=_SQLITE, timeout=5))


def opened() -> str:
    """What `open_database` was given last: the database that is meant, whichever connection asks it."""
    return _opened[-1]


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
        changed = execute(_TOUCH, int(time.time()), project_id)  # by the clock: how long its page lags behind
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
def write(patience: float | None = None) -> Iterator[None]:
    """One change: everything inside is committed together or not at all. A write within a write joins it. Raises Busy
    when no turn comes within so many seconds (None: 20)."""
    if _touched() is not None:
        yield
        return
    with _translated(), turn(patience):
        touched: set[int] = set()
        afterwards: list[Callable[[], object]] = []
        _state.touched, _state.afterwards = touched, afterwards
        journal.begin()
        try:
            # READ COMMITTED: what is read after the wait for the project's row is what the other one left.
            with database.atomic("IMMEDIATE" if is_sqlite() else "READ COMMITTED"):
                yield
        finally:
            _state.touched = None
            journal.end()
    if touched:
        for listener in _listeners:
            listener(touched)
    for do in afterwards:
        do()


def after_commit(do: Callable[[], object]) -> None:
    """Do this once the transaction under way is committed; not at all if it is not."""
    _state.afterwards.append(do)


@contextmanager
def trying() -> Iterator[None]:
    """Around a statement that the database may refuse, so that the act may go on after that. On PostgreSQL a refusal
    ends the transaction, or no more than a savepoint if there is one; SQLite only undoes the statement."""
    if is_sqlite():
        yield
        return
    with database.atomic():
        yield


def is_writing() -> bool:
    """Whether this thread is inside `write`, and others may be waiting for it."""
    return _touched() is not None


def _touched() -> set[int] | None:
    return getattr(_state, "touched", None)


@contextmanager
def read() -> Iterator[None]:
    """Reads that all see the same moment."""
    with _translated(), database.atomic(None if is_sqlite() else "REPEATABLE READ"):
        yield


def try_write(seconds: float) -> None:
    """Begin a change that changes nothing, and take it back. Raises what keeps the database from being written; Busy
    when the turn to write does not come within so many seconds."""
    try:
        _try_write(seconds)
    except ReadOnlyDisk:  # it may have been so when the connection was opened
        _try_write(seconds)


def _try_write(seconds: float) -> None:
    with suppress(_TakenBack), _translated(), turn(seconds), database.atomic("IMMEDIATE" if is_sqlite() else None):
        execute("UPDATE firm SET name = name WHERE id < 0")
        raise _TakenBack


class _TakenBack(Exception):
    """Ends a change that nobody wants kept."""


@contextmanager
def turn(patience: float | None = None) -> Iterator[None]:
    """Keep other writers waiting on SQLite; on PostgreSQL, rows do. Raises Busy when none comes in time."""
    if not is_sqlite():
        yield
        return
    patience = _TURN_SECONDS if patience is None else patience
    if not _turn.acquire(timeout=patience):
        raise Busy()
    try:
        handle = _open_turn_file()
        lock(handle, patience, _BETWEEN_TRIES)
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
    except DatabaseError as error:
        refusal = refusal_of(error)
        if refusal is None:
            raise
        if isinstance(refusal, ReadOnlyDisk):
            _forget_connection()
        raise refusal from error
    except OSError as error:
        raise refusal_of(error) or CannotWrite() from error


def _forget_connection() -> None:
    """SQLite opens a file for reading alone when it may not write, and stays so for as long as it is open, whatever
    is put right meanwhile. The next request opens it anew."""
    if is_sqlite() and not database.in_transaction():
        close_database()
