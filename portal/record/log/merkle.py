"""The Merkle tree over a project's entries (RFC 9162, 2.1): its root grows with each entry in a few steps.

Hashes are 32 bytes of SHA-256. A *node* is a complete subtree: (level, index) covers the 2**level leaves from
index * 2**level on. Nodes never change once made, so a store only adds them; the frontier is the right edge.
"""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

SIZE = 32
EMPTY = hashlib.sha256(b"").digest()  # the root over no leaves

Position = tuple[int, int]  # level, index
Node = tuple[Position, bytes]

_sha256 = hashlib.sha256


class NotAFrontier(ValueError):
    """Stored bytes that are no right edge of a tree of that size."""

    def __init__(self, size: int, length: int) -> None:
        super().__init__(f"frontier: {length} bytes are no right edge of a tree of {size} entries. Build it anew.")


def leaf_hash(data: bytes) -> bytes:
    return _sha256(b"\0" + data).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    return _sha256(b"\1" + left + right).digest()


def pair_up(hashes: Sequence[bytes]) -> list[bytes]:
    """The level above; one that is left over is not in it."""
    return [_sha256(b"\1" + left + right).digest() for left, right in zip(hashes[::2], hashes[1::2], strict=False)]


def root_of(leaves: Sequence[bytes]) -> bytes:
    """The root over these leaf hashes, computed from nothing else."""
    level = list(leaves)
    while len(level) > 1:
        # One left over goes up as it is: the same tree as splitting at the largest power of two (RFC 9162, 2.1.1).
        level = pair_up(level) + (level[-1:] if len(level) % 2 else [])
    return level[0] if level else EMPTY


def fold(peaks: Sequence[bytes]) -> bytes:
    """The root over complete subtrees side by side, the largest first."""
    if not peaks:
        return EMPTY
    made = peaks[-1]
    for left in peaks[-2::-1]:
        made = _sha256(b"\1" + left + made).digest()
    return made


@dataclass(frozen=True, slots=True)
class Frontier:
    """The complete subtrees of a tree of `size` leaves, the largest first: all that adding a leaf needs."""

    size: int = 0
    peaks: tuple[bytes, ...] = ()

    @property
    def root(self) -> bytes:
        return fold(self.peaks)

    def added(self, leaf: bytes) -> tuple["Frontier", list[Node]]:
        """The frontier with one leaf hash more, and the nodes that this completed (the leaf itself first)."""
        peaks, index, made = list(self.peaks), self.size, leaf
        nodes: list[Node] = [((0, index), leaf)]
        level = 0
        while index & 1:
            made = _sha256(b"\1" + peaks.pop() + made).digest()
            index >>= 1
            level += 1
            nodes.append(((level, index), made))
        peaks.append(made)
        return Frontier(self.size + 1, tuple(peaks)), nodes

    @property
    def packed(self) -> bytes:
        """The peaks as one row of bytes, to be kept beside the size."""
        return b"".join(self.peaks)

    @classmethod
    def unpacked(cls, size: int, packed: bytes) -> "Frontier":
        """A frontier as it was kept. Raises NotAFrontier when the bytes do not fit the size."""
        if size < 0 or len(packed) != SIZE * size.bit_count():
            raise NotAFrontier(size, len(packed))
        return cls(size, tuple(packed[i:i + SIZE] for i in range(0, len(packed), SIZE)))


def all_nodes(leaves: Sequence[bytes]) -> Iterator[Node]:
    """Every node of the tree over these leaf hashes, level by level."""
    level, row = 0, list(leaves)
    while row:
        yield from (((level, index), made) for index, made in enumerate(row))
        level, row = level + 1, pair_up(row)


def peaks_of(start: int, end: int) -> list[Position]:
    """The nodes that make up the leaves [start, end), largest first. A subtree of that width begins at `start`."""
    found: list[Position] = []
    while start < end:
        level = (end - start).bit_length() - 1
        found.append((level, start >> level))
        start += 1 << level
    return found
