"""How often something was tried lately, over all processes and a restart: a small file of its own.

It stands beside the database, not in it: whoever floods a door with tries must not take the writers' turn from an
approval. It is left out of backups, and what is lost with it is only how often somebody tried.

Each row says until when the tries counted so far last, as the generic cell rate algorithm does (ITU-T I.371): one
that would reach further into the future than the limit's time is refused. So a row is its own end, and there is
nothing to add up.
"""

import hashlib
import logging
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

log = logging.getLogger(__name__)

FOLDER, FILE = ".limits", "tallies.db"
_BUSY_SECONDS = 1.0
_MAKE = "CREATE TABLE IF NOT EXISTS tally (of TEXT PRIMARY KEY, until INTEGER NOT NULL) WITHOUT ROWID"
_KEEP = "INSERT INTO tally (of, until) VALUES (?, ?) ON CONFLICT (of) DO UPDATE SET until = excluded.until"
_DROP = "DELETE FROM tally WHERE of = ?"
_FORGET = "DELETE FROM tally WHERE until < ?"

_place: list[Path] = []


class NotCounted(Exception):
    """The file can't be read or written just now."""


def open_tallies(data: Path) -> None:
    """Keep them in a folder of this one from now on."""
    folder = data / FOLDER
    _place[:] = [folder]
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _make(folder / FILE)
    except (OSError, sqlite3.OperationalError):  # no place to write just now: each count says so again
        log.exception("tries can't be counted")
    except sqlite3.DatabaseError:
        _begin_anew(folder)


def close_tallies() -> None:
    _place.clear()


def tallies_folder() -> Path | None:
    return _place[0] if _place else None


def count(of: str, now: int, *, many: int, seconds: int, tries: int = 1) -> int:
    """Count so many tries of `of`; 0, or after how many seconds they may come, and then they are not counted. Who is
    refused writes nothing. Raises NotCounted."""
    key, at, whole = _key(of), now * 1000, seconds * 1000
    cost = tries * whole // many
    with _connected() as tallies:
        wait = _until(tallies, key, at, whole) + cost - at - whole
        if wait > 0:
            return -(-wait // 1000)
        tallies.execute("BEGIN IMMEDIATE")
        until = _until(tallies, key, at, whole) + cost
        if until - at > whole:
            tallies.execute("ROLLBACK")
            return -(-(until - at - whole) // 1000)
        tallies.execute(_KEEP, (key, until))
        tallies.execute("COMMIT")
        return 0


def give_back(of: str, *, many: int, seconds: int, tries: int = 1) -> None:
    """These tries are not to count, after all. Raises NotCounted."""
    key = _key(of)
    with _connected() as tallies:
        tallies.execute("BEGIN IMMEDIATE")
        found = _kept(tallies, key)
        if found is not None:
            tallies.execute(_KEEP, (key, found - tries * seconds * 1000 // many))
        tallies.execute("COMMIT")


def clear(of: str) -> None:
    """Begin anew with this one. Raises NotCounted."""
    with _connected() as tallies:
        tallies.execute(_DROP, (_key(of),))


def forget_past(now: int) -> int:
    """Drop what counts no longer; returns how many rows. Raises NotCounted."""
    with _connected() as tallies:
        return tallies.execute(_FORGET, (now * 1000,)).rowcount


def _until(tallies: sqlite3.Connection, key: str, at: int, whole: int) -> int:
    """Never further ahead than the limit's time: a clock that was wrong, and set back, locks nobody out."""
    found = _kept(tallies, key)
    return at if found is None else min(max(found, at), at + whole)


def _kept(tallies: sqlite3.Connection, key: str) -> int | None:
    found = tallies.execute("SELECT until FROM tally WHERE of = ?", (key,)).fetchone()
    return found[0] if found else None


def _key(of: str) -> str:
    """Neither an address nor an account is read from the file by looking into it."""
    return hashlib.sha256(of.encode()).hexdigest()[:32]


def _make(path: Path) -> None:
    with closing(_open(path)) as tallies:
        tallies.execute("PRAGMA journal_mode = wal")
        tallies.execute(_MAKE)


def _begin_anew(folder: Path) -> None:
    """The file is spoilt, as a power loss may leave it; nothing in it is worth more than that."""
    log.error("the file of tries was spoilt, and is begun anew")
    for path in folder.glob(f"{FILE}*"):
        path.unlink(missing_ok=True)
    _make(folder / FILE)


def _open(path: Path) -> sqlite3.Connection:
    """Opened each time, so that nothing is shared over a fork; and never waiting for the disk: whoever floods a door
    must not keep it busy, and a power loss costs no more than how often somebody tried."""
    tallies = sqlite3.connect(path, timeout=_BUSY_SECONDS, isolation_level=None)
    tallies.execute("PRAGMA synchronous = off")
    return tallies


@contextmanager
def _connected() -> Iterator[sqlite3.Connection]:
    if not _place:
        raise NotCounted("no folder was named")
    try:
        with closing(_open(_place[0] / FILE)) as tallies:
            yield tallies
    except sqlite3.Error as error:
        if type(error) is sqlite3.DatabaseError:
            _begin_anew(_place[0])
        raise NotCounted(str(error)) from error
