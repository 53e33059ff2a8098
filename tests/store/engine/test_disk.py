"""Locks that don't hang for good, and copies of SQLite files that are whole or refused."""

import fcntl
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from portal.store.engine.disk import lock, sync_folder
from portal.store.engine.opening import NotOpened, NotReadable, NotThere, open_or_make, open_there
from portal.store.engine.sqlite_copy import Damaged, StillOpen, check_sqlite, copy_sqlite, let_go
from portal.store.refusals import Busy


@pytest.fixture
def file(tmp_path: Path) -> Path:
    with closing(sqlite3.connect(tmp_path / "kept.db")) as made:
        made.execute("PRAGMA journal_mode = wal")
        made.execute("CREATE TABLE room (name)")
        made.executemany("INSERT INTO room VALUES (?)", [(f"Room {number}",) for number in range(500)])
        made.commit()
    return tmp_path / "kept.db"


def count(path: Path) -> int:
    with closing(sqlite3.connect(path)) as opened:
        return int(opened.execute("SELECT COUNT(*) FROM room").fetchone()[0])


def test_a_lock_that_another_holds_is_waited_for_and_then_given_up(tmp_path: Path) -> None:
    mine, theirs = (os.open(tmp_path / "turn", os.O_RDWR | os.O_CREAT) for _ in range(2))
    lock(theirs, 0.1, 0.01)
    with pytest.raises(Busy):
        lock(mine, 0.05, 0.01)
    fcntl.flock(theirs, fcntl.LOCK_UN)
    lock(mine, 0.05, 0.01)
    for handle in (mine, theirs):
        os.close(handle)


def test_a_folder_is_synced_and_left_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("a")
    sync_folder(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["a"]
    with pytest.raises(FileNotFoundError):
        sync_folder(tmp_path / "none")


def test_a_copy_holds_what_was_committed_while_others_write(file: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(file, isolation_level=None)) as writer:
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("DELETE FROM room")
        copy_sqlite(file, tmp_path / "copy.db")
        writer.execute("COMMIT")
    assert (count(tmp_path / "copy.db"), count(file)) == (500, 0)


def test_where_there_is_none_no_database_is_made(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="unable to open"):
        copy_sqlite(tmp_path / "none.db", tmp_path / "copy.db")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("at", [0, 100, 4096, 8192])
def test_a_damaged_database_is_refused_by_name(file: Path, at: int) -> None:
    let_go(file)
    data = bytearray(file.read_bytes())
    data[at : at + 400] = b"\xff" * 400
    file.write_bytes(data)
    with pytest.raises(Damaged, match="kept.db is damaged"):
        check_sqlite(file)


def test_a_whole_one_is_found_whole(file: Path) -> None:
    check_sqlite(file)
    assert count(file) == 500


def test_a_database_that_somebody_has_open_is_not_let_go(file: Path) -> None:
    with closing(sqlite3.connect(file)) as reader:
        reader.execute("SELECT * FROM room").fetchone()
        with pytest.raises(StillOpen, match="is in use"):
            let_go(file)
    let_go(file)
    assert not file.with_name("kept.db-wal").exists() and count(file) == 500


def test_what_is_no_database_is_let_go_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("No database at all, but as long as the head of one would have to be. " * 9)
    let_go(tmp_path / "notes.txt")
    assert (tmp_path / "notes.txt").read_text().startswith("No database")


def test_a_command_opens_what_is_there_and_makes_what_it_may(tmp_path: Path) -> None:
    with pytest.raises(NotThere, match="There is no database .*portal.db"):
        open_there(str(tmp_path / "portal.db"))
    open_or_make(str(tmp_path / "new" / "portal.db"))
    open_there(str(tmp_path / "new" / "portal.db"))
    (tmp_path / "notes.db").write_text("Something else. " * 300)
    with pytest.raises(NotReadable, match="can't be opened"):
        open_there(str(tmp_path / "notes.db"))
    (tmp_path / "folder.db").mkdir()
    with pytest.raises(NotOpened, match="where the portal may read and write"):
        open_or_make(str(tmp_path / "folder.db"))
