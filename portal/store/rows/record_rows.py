"""The record's rows: its right edge, one entry more, all of them, and the nodes of its tree. None is ever changed
but the edge, which only repeats what the others say."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from portal.record.log.chain import Entry, Newest
from portal.record.log.merkle import Frontier, Node, Position, leaf_hash
from portal.store.engine.database import execute
from portal.store.engine.named_rows import first_row, first_value, rows, values

_EDGE = "SELECT size, peaks, hash, at FROM record_edge WHERE project_id = ?"
_ADD = "INSERT INTO record_entry (project_id, sequence, at, kind, canonical, hash) VALUES (?, ?, ?, ?, ?, ?)"
_ADD_NODES = "INSERT INTO record_node (project_id, level, place, hash) VALUES "
_ADD_EDGE = "INSERT INTO record_edge (size, peaks, hash, at, project_id) VALUES (?, ?, ?, ?, ?)"
_MOVE_EDGE = "UPDATE record_edge SET size = ?, peaks = ?, hash = ?, at = ? WHERE project_id = ?"
_SOME = """SELECT sequence, hash, canonical FROM record_entry WHERE project_id = ? AND sequence > ?
    ORDER BY sequence LIMIT ?"""
_OF_KIND = "SELECT canonical FROM record_entry WHERE project_id = ? AND kind = ? ORDER BY sequence DESC LIMIT ?"
_NODES = "SELECT level, place, hash FROM record_node WHERE project_id = ? ORDER BY level, place"
_NODE = "SELECT hash FROM record_node WHERE project_id = ? AND level = ? AND place = ?"


class KeptRow(NamedTuple):
    """An entry as it is kept: its number (from 1), its hash (64 hex digits) and its canonical bytes."""

    sequence: int
    hash: str
    canonical: bytes


@dataclass(frozen=True, slots=True)
class Edge:
    """What the next entry joins: the newest one (None: there is none yet), and the tree's right edge."""

    last: Newest | None
    frontier: Frontier


def edge(project_id: int) -> Edge:
    """Before the first entry: no newest one, and an empty edge."""
    row = first_row(_EDGE, project_id, peaks=bytes)
    if row is None:
        return Edge(None, Frontier())
    newest = Newest(sequence=row["size"], hash=row["hash"], at=row["at"])
    return Edge(newest, Frontier.unpacked(row["size"], row["peaks"]))


def add(entry: Entry, before: Edge) -> None:
    """The entry, the nodes that it completes, and the new edge."""
    frontier, nodes = before.frontier.added(leaf_hash(entry.canonical))
    execute(_ADD, entry.project, entry.sequence, entry.at, entry.kind, entry.canonical, entry.hash)
    added = [value for (level, place), made in nodes for value in (entry.project, level, place, made)]
    execute(_ADD_NODES + ", ".join(["(?, ?, ?, ?)"] * len(nodes)), *added)
    moved = _ADD_EDGE if before.last is None else _MOVE_EDGE
    execute(moved, frontier.size, frontier.packed, entry.hash, entry.at, entry.project)


def some(project_id: int, after: int, limit: int) -> list[KeptRow]:
    """Entries by sequence, those after `after`, at most `limit`."""
    return [KeptRow(**row) for row in rows(_SOME, project_id, after, limit, canonical=bytes)]


def one(project_id: int, sequence: int) -> KeptRow | None:
    """The entry with this number; None where there is none."""
    found = some(project_id, sequence - 1, 1)
    return found[0] if found and found[0].sequence == sequence else None


def newest_of_kind(project_id: int, kind: str) -> bytes | None:
    return next(iter(of_kind(project_id, kind, limit=1)), None)


def of_kind(project_id: int, kind: str, limit: int = 1000) -> list[bytes]:
    """Entries of one kind, newest first."""
    return [bytes(canonical) for canonical in values(_OF_KIND, project_id, kind, limit)]


def every(project_id: int) -> Iterator[KeptRow]:
    """All of them by sequence, read in batches: a record may be long."""
    after = 0
    while batch := some(project_id, after, 500):
        yield from batch
        after = batch[-1].sequence


def count(project_id: int) -> int:
    last = edge(project_id).last
    return last.sequence if last else 0


def all_nodes(project_id: int) -> list[Node]:
    """By level, then place; a position is (level, place)."""
    return [((row["level"], row["place"]), row["hash"]) for row in rows(_NODES, project_id, hash=bytes)]


def nodes_at(project_id: int, positions: Sequence[Position]) -> dict[Position, bytes]:
    """The nodes of a proof; there are a few for any length of record."""
    return {position: bytes(first_value(_NODE, project_id, *position)) for position in positions}
