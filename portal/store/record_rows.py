"""The record's rows: the last one, one more, and all of them. None is ever changed."""

from collections.abc import Iterator

from portal.record.chain import Entry
from portal.store.database import execute

_LAST = "SELECT sequence, hash, at FROM record_entry WHERE project_id = ? ORDER BY sequence DESC LIMIT 1"
_ADD = "INSERT INTO record_entry (project_id, sequence, at, kind, canonical, hash) VALUES (?, ?, ?, ?, ?, ?)"
_SOME = """SELECT sequence, hash, canonical FROM record_entry WHERE project_id = ? AND sequence > ?
    ORDER BY sequence LIMIT ?"""
_COUNT = "SELECT COUNT(*) FROM record_entry WHERE project_id = ?"


def last(project_id: int) -> tuple[int, str, str] | None:
    """Sequence, hash and time of the newest entry."""
    return execute(_LAST, project_id).fetchone()


def add(entry: Entry) -> None:
    execute(_ADD, entry.project, entry.sequence, entry.at, entry.kind, entry.canonical, entry.hash)


def some(project_id: int, after: int, limit: int) -> list[tuple[int, str, bytes]]:
    """Entries by sequence, those after `after`."""
    return [(s, h, bytes(c)) for s, h, c in execute(_SOME, project_id, after, limit).fetchall()]


def every(project_id: int) -> Iterator[tuple[int, str, bytes]]:
    after = 0
    while batch := some(project_id, after, 500):
        yield from batch
        after = batch[-1][0]


def count(project_id: int) -> int:
    return execute(_COUNT, project_id).fetchone()[0]
