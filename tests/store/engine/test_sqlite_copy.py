"""A SQLite database is copied whole while others write, and checked; damage is refused by name."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from portal.store.engine import sqlite_copy
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
        with pytest.raises(StillOpen, match="kept.db is in use") as refused:
            let_go(file)
        assert refused.value.status == 409
    let_go(file)
    assert not file.with_name("kept.db-wal").exists() and count(file) == 500


def test_what_is_no_database_is_let_go_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("No database at all, but as long as the head of one would have to be. " * 9)
    let_go(tmp_path / "notes.txt")
    assert (tmp_path / "notes.txt").read_text().startswith("No database")


def test_a_copy_that_is_there_already_is_not_written_over(file: Path, tmp_path: Path) -> None:
    (tmp_path / "copy.db").write_text("An earlier backup")
    with pytest.raises((OSError, Damaged)):
        copy_sqlite(file, tmp_path / "copy.db")
    assert (tmp_path / "copy.db").read_text() == "An earlier backup"


def test_while_one_holds_the_database_for_itself_a_copy_waits_and_is_then_refused(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("portal.store.engine.sqlite_copy._BUSY_SECONDS", 0.05)
    monkeypatch.setattr(sqlite_copy._open, "__defaults__", (0.05,))
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = exclusive")
        other.execute("BEGIN EXCLUSIVE")
        other.execute("DELETE FROM room")
        for doing in (lambda: copy_sqlite(file, tmp_path / "copy.db"), lambda: check_sqlite(file)):
            with pytest.raises(Busy):
                doing()
        other.execute("ROLLBACK")


def test_a_damaged_database_is_not_copied(file: Path, tmp_path: Path) -> None:
    let_go(file)
    data = bytearray(file.read_bytes())
    data[:400] = b"\xff" * 400
    file.write_bytes(data)
    with pytest.raises(Damaged, match="kept.db is damaged: file is not a database. Nothing was changed") as refused:
        copy_sqlite(file, tmp_path / "copy.db")
    assert refused.value.status == 500


def test_a_name_with_signs_of_addresses_in_it_is_a_name(file: Path, tmp_path: Path) -> None:
    odd = tmp_path / "50 % ?mode=memory#1.db"
    copy_sqlite(file, odd)
    assert count(odd) == 500
    check_sqlite(odd)
    with pytest.raises(OSError, match="unable to open") as refused:
        check_sqlite(tmp_path / "none?.db")
    assert refused.value.filename == str(tmp_path / "none?.db") and not (tmp_path / "none").exists()


def test_the_log_of_a_database_is_written_into_its_file(file: Path) -> None:
    with closing(sqlite3.connect(file)) as writer:
        writer.execute("DELETE FROM room WHERE name <> 'Room 7'")
        writer.commit()
        assert file.with_name("kept.db-wal").stat().st_size > 0
    let_go(file)
    alone = file.rename(file.with_name("moved.db"))
    with closing(sqlite3.connect(alone)) as opened:
        assert opened.execute("SELECT name FROM room").fetchall() == [("Room 7",)]
        assert opened.execute("PRAGMA journal_mode").fetchone() == ("delete",)
