"""The chain from its first entry on: what else is checked needs of each, and the first fault on the way."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from portal.record.checking.entry_check import Place, Row, content_at
from portal.record.checking.signing_keys import Rotation
from portal.record.log.chain import entry_hash
from portal.record.log.entry_kinds import KEY_LOST, ROTATED
from portal.record.log.merkle import Position, leaf_hash, pair_up, peaks_of, root_over


@dataclass(slots=True)
class CheckedChain:
    """What a chain that holds says.

    `first_at` and `last_at`: the times of its first and last entry (RFC 3339 in UTC), empty for a chain without
    entries. `moved`: how many entries say that the clock was set back before them. `rotations`: each
    change of keys. `levels`: the tree over the entries, the leaf hashes first, each level half as long.
    """

    first_at: str = ""
    last_at: str = ""
    moved: int = 0
    rotations: list[Rotation] = field(default_factory=list)
    levels: list[list[bytes]] = field(default_factory=lambda: [[]])

    @property
    def size(self) -> int:
        """Count the entries."""
        return len(self.levels[0])

    def node(self, position: Position) -> bytes | None:
        """Find a node of the tree by level and index; None where the tree has none."""
        level, index = position
        there = 0 <= level < len(self.levels) and 0 <= index < len(self.levels[level])
        return self.levels[level][index] if there else None

    def root(self, size: int) -> bytes:
        """Compute the root over the first `size` entries (0 up to all of them), 32 bytes (RFC 9162, 2.1.1)."""
        return root_over([self.levels[level][index] for level, index in peaks_of(0, size)])


def check_chain(project: int, rows: Iterable[Row]) -> CheckedChain:
    """Check each row at its place, in the order in which they are kept. Raises Fault at the first wrong one."""
    found = CheckedChain()
    place = Place(project, 1)
    for row in rows:
        _, _, data = row
        content = content_at(place, row)
        _note(found, place.sequence, content)
        found.levels[0].append(leaf_hash(data))
        place = Place(project, place.sequence + 1, entry_hash(data), content["at"])
    while len(found.levels[-1]) > 1:
        found.levels.append(pair_up(found.levels[-1]))
    return found


def _note(found: CheckedChain, sequence: int, content: dict[str, Any]) -> None:
    found.first_at = found.first_at or content["at"]
    found.last_at = content["at"]
    found.moved += "clock_moved" in content
    if content["kind"] in (ROTATED, KEY_LOST):
        found.rotations.append(Rotation(sequence, content["body"], lost=content["kind"] == KEY_LOST))
