"""The power goes while the disk writes: the write-ahead log is cut off at a byte, at every one of its bytes in turn.

What SQLite promises (https://sqlite.org/wal.html, "The WAL file format"): a transaction counts if all of its frames
are there up to the one that commits it. With synchronous FULL the log is on the disk before an act is acknowledged.
"""

import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from portal.acts.decisions.answers import withdraw
from portal.store.engine.database import close_database, stop_listening
from tests.faults.stream import Stream, new_stream
from tests.house import NOW

_SMALL_PAGES = ("PRAGMA journal_mode = delete", "PRAGMA page_size = 512", "VACUUM", "PRAGMA journal_mode = wal")
# What an act leaves, in few reads: the record's edge, and how many facts, entries and nodes there are.
_LEFT = """SELECT size, hash, (SELECT COUNT(*) FROM record_entry), (SELECT COUNT(*) FROM record_node),
    (SELECT COUNT(*) FROM approval), (SELECT COUNT(*) FROM revision), (SELECT COUNT(*) FROM withdrawal),
    (SELECT MAX(changed) FROM project) FROM record_edge"""

Left = tuple[object, ...]


@dataclass(frozen=True)
class Written:
    """The database before two acts, the log after them, where in the log each act had been acknowledged, and what
    each had left by then."""

    stream: Stream
    before: bytes
    log: bytes
    ends: list[int]
    left: list[Left]

    def lay_down(self, folder: Path, length: int) -> Path:
        """As the disk looks after the power went: the log ends after so many bytes."""
        path = folder / "portal.db"
        for tail in ("-wal", "-shm"):
            path.with_name(path.name + tail).unlink(missing_ok=True)
        path.write_bytes(self.before)
        path.with_name(path.name + "-wal").write_bytes(self.log[:length])
        return path


@pytest.fixture
def written(tmp_path: Path) -> Written:
    folder = tmp_path / "before"
    stop_listening()  # a publisher of an earlier test would keep the desk's lines, in the same log
    stream = new_stream(folder)
    close_database()
    path = folder / "portal.db"
    with closing(sqlite3.connect(path, isolation_level=None)) as small:
        for statement in _SMALL_PAGES:
            small.execute(statement)
    log = path.with_name("portal.db-wal")
    # Held open, so that closing the other connection does not empty the log.
    with closing(sqlite3.connect(path, isolation_level=None)) as beside:
        left, ends = [beside.execute(_LEFT).fetchone()], []
        stream.open()
        for act in (
            lambda: stream.approve(stream.decision(2)),
            lambda: withdraw(stream.homeowner, stream.project, stream.decision(2).id, reason="We wait", now=NOW),
        ):
            act()
            ends.append(log.stat().st_size)
            left.append(beside.execute(_LEFT).fetchone())
        written = Written(stream, path.read_bytes(), log.read_bytes(), ends, left)
        close_database()
    return written


def left_by(path: Path) -> Left:
    """Opened anew to read: SQLite recovers what counts of the log, and leaves the files alone, which is quick."""
    path.with_name(path.name + "-shm").unlink(missing_ok=True)
    with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True, isolation_level=None)) as after:
        found: Left = after.execute(_LEFT).fetchone()
        return found


def test_cut_off_after_any_byte_each_act_is_there_wholly_or_not_at_all(written: Written, tmp_path: Path) -> None:
    folder = tmp_path / "after"
    folder.mkdir()
    assert len(set(written.left)) == 3 and written.ends[-1] == len(written.log)
    path = written.lay_down(folder, 0)
    with path.with_name("portal.db-wal").open("ab", buffering=0) as log:
        for length in range(len(written.log) + 1):
            acknowledged = sum(end <= length for end in written.ends)
            assert left_by(path) == written.left[acknowledged], f"after {length} bytes"
            log.write(written.log[length:length + 1])


def test_what_is_left_verifies_and_goes_on(written: Written, tmp_path: Path) -> None:
    """Opened by the product itself: at each end of an act, a byte before and after it, and amid a frame."""
    for length in sorted({0, 1, 33, *(end + near for end in written.ends for near in (-300, -1, 0, 1))}):
        folder = tmp_path / f"at-{length}"
        shutil.copytree(written.stream.folder, folder)
        written.lay_down(folder, min(length, len(written.log)))
        after = Stream(folder, written.stream.manager, written.stream.homeowner, "", written.stream.project)
        after.open()
        after.check()
        steps = after.steps()
        done = [next(steps) for _ in range(3)]
        assert after.kept()[-3:] == done
        after.check()
        close_database()


def test_what_lies_behind_the_cut_may_be_anything(written: Written, tmp_path: Path) -> None:
    """A disk may also leave zeros, or old bytes, where it had not written yet: at each frame, both are tried."""
    folder = tmp_path / "after"
    folder.mkdir()
    frame = 24 + 512
    for length in range(32, len(written.log), frame):
        acknowledged = sum(end <= length for end in written.ends)
        for rest in (bytes(len(written.log) - length), written.log[length - 32:-32]):
            path = written.lay_down(folder, length)
            with path.with_name("portal.db-wal").open("ab") as log:
                log.write(rest)
            assert left_by(path) == written.left[acknowledged], f"after {length} bytes"
