"""Proofs over the tree (RFC 9162, 2.1.3 and 2.1.4): an entry is in it; a later head extends an earlier one.

A proof is a list of 32-byte hashes, a few lines for any length of record. Positions are listed first, so that a
store can fetch all nodes of a proof in one query.
"""

from collections.abc import Sequence
from typing import Protocol

from portal.record.log.merkle import EMPTY, SIZE, Position, node_hash, peaks_of, root_over

Proof = list[bytes]
_Span = tuple[int, int]  # leaves from, up to


class Nodes(Protocol):
    """Where complete subtrees are found by their position; a dict does."""

    def __getitem__(self, position: Position, /) -> bytes: ...


class NoSuchProof(ValueError):
    """Asked for an entry, or an earlier size, that the tree does not have."""

    def __init__(self, field: str, value: int, size: int) -> None:
        super().__init__(f"{field}: the tree of {size} entries has no {value}.")


def inclusion_proof(nodes: Nodes, index: int, size: int) -> Proof:
    """Prove that leaf `index` (from 0) is in the tree of `size` leaves (RFC 9162, 2.1.3.1). Raises NoSuchProof."""
    return [_subtree(nodes, span) for span in _inclusion_spans(index, size)]


def consistency_proof(nodes: Nodes, first: int, second: int) -> Proof:
    """Prove that the tree of `second` leaves begins with the tree of `first` leaves (RFC 9162, 2.1.4.1).

    Empty where `first` is 0 or as large as `second`: every tree extends the empty one, and itself. Raises NoSuchProof.
    """
    return [_subtree(nodes, span) for span in _consistency_spans(first, second)]


def inclusion_positions(index: int, size: int) -> list[Position]:
    """List the nodes that `inclusion_proof` will look up, in its order. Raises NoSuchProof."""
    return [position for span in _inclusion_spans(index, size) for position in peaks_of(*span)]


def consistency_positions(first: int, second: int) -> list[Position]:
    """List the nodes that `consistency_proof` will look up, in its order. Raises NoSuchProof."""
    return [position for span in _consistency_spans(first, second) for position in peaks_of(*span)]


def verify_inclusion(leaf: bytes, index: int, size: int, proof: Sequence[bytes], root: bytes) -> bool:
    """Tell whether the proof shows the leaf hash at `index` (from 0) of the tree with this root (RFC 9162, 2.1.3.2).

    Nothing is raised for what is no hash, no index or no proof: it shows nothing.
    """
    if not 0 <= index < size or not _are_hashes(leaf, root, *proof):
        return False
    place, last, made = index, size - 1, leaf
    for beside in proof:
        if last == 0:
            return False
        if place & 1 or place == last:
            made = node_hash(beside, made)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            made = node_hash(made, beside)
        place, last = place >> 1, last >> 1
    return last == 0 and made == root


def verify_consistency(first: int, second: int, first_root: bytes, second_root: bytes, proof: Sequence[bytes]) -> bool:
    """Tell whether the proof shows that the second tree extends the first (RFC 9162, 2.1.4.2); sizes and roots of both.

    Every tree extends the empty one, and itself: then the proof is empty. Nothing is raised.
    """
    if not 0 <= first <= second or not _are_hashes(first_root, second_root, *proof):
        return False
    if first == 0 or first == second:
        same = first_root == (EMPTY if first == 0 else second_root)
        return not proof and same and (second > 0 or second_root == EMPTY)
    return bool(proof) and _extends(first, second, first_root, second_root, proof)


def _extends(first: int, second: int, first_root: bytes, second_root: bytes, proof: Sequence[bytes]) -> bool:
    path = list(proof) if first & (first - 1) else [first_root, *proof]
    place, last = first - 1, second - 1
    while place & 1:
        place, last = place >> 1, last >> 1
    old = new = path[0]
    for beside in path[1:]:
        if last == 0:
            return False
        if place & 1 or place == last:
            old, new = node_hash(beside, old), node_hash(beside, new)
            while not place & 1 and place:
                place, last = place >> 1, last >> 1
        else:
            new = node_hash(new, beside)
        place, last = place >> 1, last >> 1
    return last == 0 and old == first_root and new == second_root


def _are_hashes(*hashes: bytes) -> bool:
    return all(isinstance(made, bytes) and len(made) == SIZE for made in hashes)


def _subtree(nodes: Nodes, span: _Span) -> bytes:
    return root_over([nodes[position] for position in peaks_of(*span)])


def _split(start: int, end: int) -> int:
    """Where RFC 9162, 2.1.1 splits: after the largest power of two smaller than the width."""
    return start + (1 << ((end - start - 1).bit_length() - 1))


def _inclusion_spans(index: int, size: int) -> list[_Span]:
    """PATH of RFC 9162, 2.1.3.1, the innermost first."""
    if not 0 <= index < size:
        raise NoSuchProof("index", index, size)
    spans, start, end = [], 0, size
    while end - start > 1:
        middle = _split(start, end)
        if index < middle:
            spans.append((middle, end))
            end = middle
        else:
            spans.append((start, middle))
            start = middle
    return spans[::-1]


def _consistency_spans(first: int, second: int) -> list[_Span]:
    """SUBPROOF of RFC 9162, 2.1.4.1, the innermost first."""
    if not 0 <= first <= second:
        raise NoSuchProof("first", first, second)
    if first == 0:
        return []
    spans, start, end = [], 0, second
    while first != end:
        middle = _split(start, end)
        if first <= middle:
            spans.append((middle, end))
            end = middle
        else:
            spans.append((start, middle))
            start = middle
    # The first tree itself is known to the reader; a part of it is not.
    return ([(start, end)] if start else []) + spans[::-1]
