"""Walking the chain from its first entry: what verification needs of each, and the first fault on the way."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from portal.record.checking.entry_check import Place, Row, content_at
from portal.record.log.chain import NO_HASH
from portal.record.log.entry_kinds import ROTATED
from portal.record.log.merkle import Position, fold, pair_up, peaks_of
from portal.record.log.plain_entry import PlainCheck


@dataclass(slots=True)
class Walk:
    """What was met: the times of the first and last entry, the leaf hashes, and the entries that need a word."""

    first_at: str = ""
    last_at: str = ""
    moved: int = 0
    rotations: list[tuple[int, dict[str, Any]]] = field(default_factory=list)
    levels: list[list[bytes]] = field(default_factory=lambda: [[]])

    @property
    def size(self) -> int:
        return len(self.levels[0])

    def node(self, position: Position) -> bytes:
        return self.levels[position[0]][position[1]]

    def root(self, size: int) -> bytes:
        """The root over the first `size` entries."""
        return fold([self.node(position) for position in peaks_of(0, size)])


def walk(project: int, rows: Iterable[Row]) -> Walk:
    """Check each row at its place and gather what heads are checked against. Raises Fault at the first wrong one."""
    met, check = Walk(), PlainCheck(project)
    leaves, sha256 = met.levels[0], hashlib.sha256
    previous, before = NO_HASH, ""
    for sequence, row in enumerate(rows, 1):
        found, kept, data = row
        made = sha256(data).hexdigest()
        at = check.time_of(data, sequence, previous, before)
        if at is None or found != sequence or made != kept:
            content = content_at(Place(project, sequence, previous, before), row)
            at = content["at"]
            _note(met, sequence, content)
        leaves.append(sha256(b"\0" + data).digest())
        previous, before = made, at
        met.first_at = met.first_at or at
    met.last_at = before
    while len(met.levels[-1]) > 1:
        met.levels.append(pair_up(met.levels[-1]))
    return met


def _note(met: Walk, sequence: int, content: dict[str, Any]) -> None:
    met.moved += "clock_moved" in content
    if content["kind"] == ROTATED:
        met.rotations.append((sequence, content["body"]))
