"""The Merkle tree over a project's entries (RFC 9162, 2.1): its root grows with each entry in a few steps.

Hashes are 32 bytes of SHA-256. A *node* is a complete subtree: (level, index) covers the 2**level leaves from
index * 2**level on. Nodes never change once made, so a store only adds them. *Peaks* are the complete subtrees that
stand side by side under a root, the largest first; the *frontier* holds those of the whole tree, its right edge.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

SIZE = 32
"""Bytes of a hash."""
EMPTY = hashlib.sha256(b"").digest()
"""The root over no leaves."""

Position = tuple[int, int]
"""Level (0: leaves) and index of a node."""
Node = tuple[Position, bytes]


class NotAFrontier(ValueError):
    """Stored bytes that are no right edge of a tree of that size."""

    def __init__(self, size: int, length: int) -> None:
        super().__init__(f"frontier: {length} bytes are no right edge of a tree of {size} entries. Build it anew.")


def leaf_hash(data: bytes) -> bytes:
    """Hash the bytes of an entry as a leaf (RFC 9162, 2.1.1): 32 bytes that no node above can have."""
    return hashlib.sha256(b"\0" + data).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Hash two nodes into the one above them (RFC 9162, 2.1.1), 32 bytes."""
    return hashlib.sha256(b"\1" + left + right).digest()


def pair_up(hashes: Sequence[bytes]) -> list[bytes]:
    """Compute the level above; one hash that is left over is not in it."""
    return [node_hash(left, right) for left, right in zip(hashes[::2], hashes[1::2], strict=False)]


def root_over(peaks: Sequence[bytes]) -> bytes:
    """Compute the root, 32 bytes, over complete subtrees side by side, the largest first; over none it is EMPTY.

    The same as splitting at the largest power of two (RFC 9162, 2.1.1): each peak is the left side of such a split.
    """
    if not peaks:
        return EMPTY
    made = peaks[-1]
    for left in peaks[-2::-1]:
        made = node_hash(left, made)
    return made


@dataclass(frozen=True, slots=True)
class Frontier:
    """The complete subtrees of a tree of `size` leaves, the largest first: all that adding a leaf needs."""

    size: int = 0
    peaks: tuple[bytes, ...] = ()

    @property
    def root(self) -> bytes:
        """Compute the root of the tree, 32 bytes."""
        return root_over(self.peaks)

    def added(self, leaf: bytes) -> tuple["Frontier", list[Node]]:
        """Add one leaf hash: the frontier with it, and the nodes that it completed (the leaf itself first)."""
        peaks, index, made = list(self.peaks), self.size, leaf
        nodes: list[Node] = [((0, index), leaf)]
        level = 0
        while index & 1:
            made = node_hash(peaks.pop(), made)
            index >>= 1
            level += 1
            nodes.append(((level, index), made))
        peaks.append(made)
        return Frontier(self.size + 1, tuple(peaks)), nodes

    @property
    def packed(self) -> bytes:
        """Join the peaks to one row of bytes, to be kept beside the size."""
        return b"".join(self.peaks)

    @classmethod
    def unpacked(cls, size: int, packed: bytes) -> "Frontier":
        """Read a frontier as it was kept. Raises NotAFrontier when the bytes do not fit the size."""
        if size < 0 or len(packed) != SIZE * size.bit_count():
            raise NotAFrontier(size, len(packed))
        return cls(size, tuple(packed[i:i + SIZE] for i in range(0, len(packed), SIZE)))


def peaks_of(start: int, end: int) -> list[Position]:
    """List the nodes that make up the leaves [start, end), the largest first; none where there are no leaves.

    `start` has to be 0 or a multiple of the largest power of two within the width, as in every span of a proof.
    """
    found: list[Position] = []
    while start < end:
        level = (end - start).bit_length() - 1
        found.append((level, start >> level))
        start += 1 << level
    return found
