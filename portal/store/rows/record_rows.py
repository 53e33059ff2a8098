"""The record's rows: its right edge, one entry more, all of them, and the nodes of its tree. None is ever changed
but the edge, which only repeats what the others say. And one row for the keys that belong to the database, of which the
records of an older one tell."""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, NamedTuple

from portal.record.log.canonical import read
from portal.record.log.chain import Entry, Newest
from portal.record.log.entry_kinds import KEY_LOST, ROTATED
from portal.record.log.heads import Head
from portal.record.log.merkle import Frontier, Node, NotAFrontier, Position, leaf_hash
from portal.store.engine.database import database, execute
from portal.store.engine.named_rows import first_row, first_value, rows, values

_EDGE = "SELECT size, peaks, hash, at, told_from FROM record_edge WHERE project_id = ?"
_ADD = "INSERT INTO record_entry (project_id, sequence, at, kind, canonical, hash) VALUES (?, ?, ?, ?, ?, ?)"
_ADD_NODES = "INSERT INTO record_node (project_id, level, place, hash) VALUES "
_ADD_EDGE = "INSERT INTO record_edge (size, peaks, hash, at, told_from, project_id) VALUES (?, ?, ?, ?, ?, ?)"
_MOVE_EDGE = "UPDATE record_edge SET size = ?, peaks = ?, hash = ?, at = ?, told_from = ? WHERE project_id = ?"
_SOME = """SELECT sequence, hash, canonical FROM record_entry WHERE project_id = ? AND sequence > ?
    ORDER BY sequence LIMIT ?"""
_OF_KIND = "SELECT canonical FROM record_entry WHERE project_id = ? AND kind = ? ORDER BY sequence DESC LIMIT ?"
_NODES = "SELECT level, place, hash FROM record_node WHERE project_id = ? ORDER BY level, place"
_EDGES = "SELECT project_id, size, peaks, at FROM record_edge ORDER BY project_id"
_KEYS = "SELECT record_key, secret_digest FROM firm_keys ORDER BY id LIMIT 1"
_ADD_KEYS = "INSERT INTO firm_keys (record_key, secret_digest) VALUES (?, ?)"
_CHANGE_KEYS = "UPDATE firm_keys SET record_key = ?, secret_digest = ?"
_KEY_CHANGES = """SELECT canonical FROM record_entry e WHERE kind IN (?, ?) AND sequence = (SELECT MAX(sequence)
    FROM record_entry o WHERE o.project_id = e.project_id AND o.kind IN (?, ?)) ORDER BY project_id DESC"""
_ALL_KEY_CHANGES = "SELECT canonical FROM record_entry WHERE kind IN (?, ?)"
_NODE = "SELECT hash FROM record_node WHERE project_id = ? AND level = ? AND place = ?"


class KeptRow(NamedTuple):
    """An entry as it is kept: its number (from 1), its hash (64 hex digits) and its canonical bytes."""

    sequence: int
    hash: str
    canonical: bytes


class KeptKeys(NamedTuple):
    """The public key of the heads (64 hex digits), and the digest of the secret that links are made from."""

    record_key: str
    secret_digest: str


@dataclass(frozen=True, slots=True)
class Edge:
    """What the next entry joins: the newest one (None: there is none yet), and the tree's right edge. `told_from`: the
    number of the entry that told how all rows stood; 0 while none has."""

    last: Newest | None
    frontier: Frontier
    told_from: int = 0


def edge(project_id: int) -> Edge:
    """Before the first entry: no newest one, and an empty edge."""
    row = first_row(_EDGE, project_id, peaks=bytes)
    if row is None:
        return Edge(None, Frontier())
    newest = Newest(sequence=row["size"], hash=row["hash"], at=row["at"])
    return Edge(newest, Frontier.unpacked(row["size"], row["peaks"]), row["told_from"])


def all_heads() -> list[Head]:
    """Size and root of every record, by project, as the edges say it; one whose edge was changed is left out, which
    verifying tells. None in a database of before there were trees."""
    if "record_edge" not in database.get_tables():
        return []
    found = []
    for row in rows(_EDGES, peaks=bytes):
        with suppress(NotAFrontier):
            root = Frontier.unpacked(row["size"], row["peaks"]).root.hex()
            found.append(Head(row["project_id"], row["size"], root, row["at"]))
    return found


def add(entry: Entry, before: Edge, told_from: int = 0) -> None:
    """The entry, the nodes that it completes, and the new edge."""
    frontier, nodes = before.frontier.added(leaf_hash(entry.canonical))
    execute(_ADD, entry.project, entry.sequence, entry.at, entry.kind, entry.canonical, entry.hash)
    added = [value for (level, place), made in nodes for value in (entry.project, level, place, made)]
    execute(_ADD_NODES + ", ".join(["(?, ?, ?, ?)"] * len(nodes)), *added)
    moved = _ADD_EDGE if before.last is None else _MOVE_EDGE
    execute(moved, frontier.size, frontier.packed, entry.hash, entry.at, told_from, entry.project)


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


def has_entries() -> bool:
    """Whether there is any record, so that somebody may hold a head that was signed."""
    return first_value("SELECT 1 FROM record_entry LIMIT 1") is not None


def kept_keys() -> KeptKeys | None:
    """None: this database has not taken any yet."""
    row = first_row(_KEYS)
    return KeptKeys(**row) if row else None


def keep_keys(keys: KeptKeys) -> None:
    """Within write(), after the turn for keys was taken: there is one row."""
    execute(_ADD_KEYS if kept_keys() is None else _CHANGE_KEYS, *keys)


def key_told() -> str | None:
    """The key that records tell of as the one that took over last; None where none ever did."""
    entries = values(_KEY_CHANGES, ROTATED, KEY_LOST, ROTATED, KEY_LOST)
    return str(read(bytes(entries[0]))["body"]["new_key"]) if entries else None


def keys_ever() -> set[str]:
    """The public keys that sign or ever signed here: the one that is kept, and those that records tell of."""
    kept = kept_keys()
    bodies = [_body(bytes(entry)) for entry in values(_ALL_KEY_CHANGES, ROTATED, KEY_LOST)]
    told = {str(body[name]) for body in bodies for name in ("old_key", "new_key") if body.get(name)}
    return told | ({kept.record_key} if kept else set())


def _body(canonical: bytes) -> dict[str, Any]:
    """Empty where somebody changed the entry: that is for verifying to say."""
    try:
        body = read(canonical)["body"]
    except (ValueError, TypeError, KeyError):
        return {}
    return body if isinstance(body, dict) else {}
