"""SQLite alone: writers take turns among threads and processes, and what the disk says becomes a refusal."""

import errno
import fcntl
import os
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest
from peewee import OperationalError

from portal.store import tables
from portal.store.engine import database as engine
from portal.store.engine.database import close_database, database, execute, open_database, read, turn, write
from portal.store.refusals import Busy, CannotWrite, DamagedDatabase, DiskFull, NoDriver, ReadOnlyDisk
from tests.house import House

HOLDING = """import fcntl, sys
held = open(sys.argv[1])
fcntl.flock(held, fcntl.LOCK_EX)
print("held", flush=True)
input()
"""


@pytest.fixture(autouse=True)
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "_TURN_SECONDS", 0.1)


@contextmanager
def another_process_writing() -> Iterator[None]:
    with turn():
        """The file is there from now on."""
    path = f"{database.obj.database}.turn"
    command = [sys.executable, "-c", HOLDING, path]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout and process.stdout.readline() == "held\n"
        yield
        process.communicate("\n")


def test_while_another_process_writes_a_write_waits_and_is_then_refused(house: House) -> None:
    with another_process_writing():
        with pytest.raises(Busy), write():
            tables.Room.create(project=house.project, name="Pantry")
        with read():
            assert tables.Room.select().count() == 3, "whoever reads does not wait"
    with write():
        tables.Room.create(project=house.project, name="Pantry")
    assert tables.Room.select().count() == 4


def test_while_another_thread_writes_a_write_waits_and_is_then_refused(house: House) -> None:
    inside, done = threading.Event(), threading.Event()

    def hold() -> None:
        with turn():
            inside.set()
            done.wait(10)

    thread = threading.Thread(target=hold)
    thread.start()
    inside.wait(10)
    with pytest.raises(Busy), write():
        raise AssertionError("it was not our turn")
    done.set()
    thread.join()
    with write():
        tables.Room.create(project=house.project, name="Pantry")


def test_a_write_that_failed_gives_its_turn_back(house: House) -> None:
    for _ in range(2):
        with pytest.raises(ZeroDivisionError), write():
            raise ZeroDivisionError
    with Path(f"{database.obj.database}.turn").open() as other:
        fcntl.flock(other, fcntl.LOCK_EX | fcntl.LOCK_NB)
    with write():
        tables.Room.create(project=house.project, name="Pantry")


def test_the_file_of_turns_lies_beside_the_database_for_its_owner_alone(house: House, tmp_path: Path) -> None:
    with write():
        found = (tmp_path / "portal.db.turn").stat()
    assert found.st_mode & 0o777 == 0o600


def test_each_database_has_turns_of_its_own(house: House, tmp_path: Path) -> None:
    with another_process_writing():
        open_database(str(tmp_path / "deep" / "er" / "other.db"))
        with write():
            execute("CREATE TABLE box (id INTEGER)")
        assert (tmp_path / "deep" / "er" / "other.db.turn").exists()
    close_database()


def test_a_child_of_ours_takes_its_own_turn(house: House) -> None:
    """An open file is shared over a fork, and with it its lock."""
    with turn():
        child = os.fork()
        if child == 0:
            engine._turn = threading.Lock()
            try:
                with turn():
                    os._exit(1)
            except Busy:
                os._exit(0)
        assert os.waitpid(child, 0)[1] == 0


def test_a_database_is_opened_so_that_what_is_committed_is_kept_and_keys_are_checked(house: House) -> None:
    asked = {name: execute(f"PRAGMA {name}").fetchone()[0] for name in
             ("journal_mode", "foreign_keys", "synchronous", "busy_timeout")}  # fmt: skip
    assert asked == {"journal_mode": "wal", "foreign_keys": 1, "synchronous": 2, "busy_timeout": 5000}


def test_opening_another_database_closes_the_first(house: House, tmp_path: Path) -> None:
    first = database.connection()
    open_database(str(tmp_path / "other.db"))
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        first.execute("SELECT 1")
    assert database.get_tables() == []
    close_database()
    close_database()  # there is nothing left to close


@pytest.mark.parametrize(
    ("said", "refusal"),
    [
        ("database is locked", Busy), ("database table is locked: room", Busy), ("disk is busy", Busy),
        ("database or disk is full", DiskFull), ("attempt to write a readonly database", ReadOnlyDisk),
        ("database disk image is malformed", DamagedDatabase), ("file is not a database", DamagedDatabase),
        ("malformed database schema (room)", DamagedDatabase),
        ("disk I/O error", CannotWrite), ("unable to open database file", CannotWrite),
        ("no such table: attic", OperationalError),
    ],
)
@pytest.mark.parametrize("doing", [read, write])
def test_what_the_disk_says_becomes_a_refusal(
    house: House, doing: Callable[[], AbstractContextManager[None]], said: str, refusal: type[Exception]
) -> None:
    with pytest.raises(refusal) as refused, doing():
        raise OperationalError(said)
    assert type(refused.value) is refusal


def test_why_it_was_is_told_by_what_was_said_before(house: House) -> None:
    """Where the disk fails, SQLite has rolled back by itself, and that is all that the last error tells."""
    with pytest.raises(DiskFull), write():
        try:
            raise OperationalError("database or disk is full")
        except OperationalError:
            raise OperationalError("cannot rollback - no transaction is active")  # noqa: B904  # as SQLite's driver does


@pytest.mark.parametrize(("number", "refusal"), [
    (errno.ENOSPC, DiskFull), (errno.EDQUOT, DiskFull), (errno.EROFS, ReadOnlyDisk), (errno.EIO, CannotWrite),
])
def test_a_file_that_can_not_be_written_is_a_refusal(house: House, number: int, refusal: type[Exception]) -> None:
    with pytest.raises(refusal) as refused, write():
        raise OSError(number, "whatever it says")
    assert type(refused.value) is refusal


def test_where_the_driver_is_missing_a_postgresql_database_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "portal.store.engine.postgresql", None)
    with pytest.raises(NoDriver, match=r"pip install '.\[postgresql\]'"):
        open_database("postgresql://db.example.com/portal")
