"""A second Merkle tree, slow and word for word after RFC 9162, 2.1.1: what the portal's own has to agree with."""

import hashlib
from collections.abc import Sequence


def tree_root(leaves: Sequence[bytes]) -> bytes:
    """MTH of RFC 9162, 2.1.1, over leaf hashes."""
    if not leaves:
        return hashlib.sha256(b"").digest()
    if len(leaves) == 1:
        return leaves[0]
    split = largest_power_below(len(leaves))
    return hashlib.sha256(b"\x01" + tree_root(leaves[:split]) + tree_root(leaves[split:])).digest()


def complete_subtrees(leaves: Sequence[bytes]) -> dict[tuple[int, int], bytes]:
    """The root over each 2**level leaves from index * 2**level on, by (level, index)."""
    return {
        (level, index): tree_root(leaves[index << level:index + 1 << level])
        for level in range(len(leaves).bit_length()) for index in range(len(leaves) >> level)
    }  # fmt: skip


def largest_power_below(size: int) -> int:
    """The largest power of two smaller than a size of 2 or more."""
    split = 1
    while split * 2 < size:
        split *= 2
    return split


def subproof(first: int, leaves: Sequence[bytes], known: bool) -> list[bytes]:
    """SUBPROOF(m, D_n, b) of RFC 9162, 2.1.4.1, word for word."""
    if first == len(leaves):
        return [] if known else [tree_root(leaves)]
    split = largest_power_below(len(leaves))
    if first <= split:
        return [*subproof(first, leaves[:split], known), tree_root(leaves[split:])]
    return [*subproof(first - split, leaves[split:], False), tree_root(leaves[:split])]


def path(index: int, leaves: Sequence[bytes]) -> list[bytes]:
    """PATH(m, D_n) of RFC 9162, 2.1.3.1, word for word."""
    if len(leaves) == 1:
        return []
    split = largest_power_below(len(leaves))
    if index < split:
        return [*path(index, leaves[:split]), tree_root(leaves[split:])]
    return [*path(index - split, leaves[split:]), tree_root(leaves[:split])]
