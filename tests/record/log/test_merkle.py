"""The tree grows from its right edge alone, and proofs look up few nodes."""

import math

import pytest

from portal.record.log.merkle import EMPTY, Frontier, NotAFrontier, all_nodes, leaf_hash, root_of
from portal.record.log.proofs import (
    NoSuchProof,
    consistency_positions,
    consistency_proof,
    inclusion_positions,
    inclusion_proof,
    verify_consistency,
    verify_inclusion,
)

HASHES = [leaf_hash(str(number).encode()) for number in range(70)]


def grown(count: int) -> tuple[Frontier, dict[tuple[int, int], bytes]]:
    frontier, nodes = Frontier(), {}
    for leaf in HASHES[:count]:
        frontier, made = frontier.added(leaf)
        nodes.update(made)
    return frontier, nodes


@pytest.mark.parametrize("count", range(71))
def test_growing_leaf_by_leaf_gives_the_tree_built_at_once(count: int) -> None:
    frontier, nodes = grown(count)
    assert frontier.root == root_of(HASHES[:count])
    assert nodes == dict(all_nodes(HASHES[:count]))
    assert len(frontier.peaks) == count.bit_count()


def test_a_frontier_is_kept_as_bytes_and_goes_on_from_there() -> None:
    frontier, _ = grown(37)
    again = Frontier.unpacked(37, frontier.packed)
    assert again == frontier
    assert again.added(HASHES[37])[0].root == root_of(HASHES[:38])
    assert Frontier.unpacked(0, b"").root == EMPTY


@pytest.mark.parametrize(("size", "packed"), [(1, b""), (0, bytes(32)), (3, bytes(32)), (2, bytes(31)), (-1, b"")])
def test_bytes_that_are_no_right_edge_are_refused(size: int, packed: bytes) -> None:
    with pytest.raises(NotAFrontier, match="^frontier: "):
        Frontier.unpacked(size, packed)


def test_every_entry_is_proved_in_every_tree() -> None:
    nodes = dict(all_nodes(HASHES))
    for size in range(1, 41):
        root = root_of(HASHES[:size])
        for index in range(size):
            proof = inclusion_proof(nodes, index, size)
            assert verify_inclusion(HASHES[index], index, size, proof, root)
            assert not verify_inclusion(HASHES[(index + 1) % 70], index, size, proof, root)


def test_every_tree_is_proved_to_extend_every_smaller_one() -> None:
    nodes = dict(all_nodes(HASHES))
    roots = [root_of(HASHES[:size]) for size in range(41)]
    for second in range(41):
        for first in range(second + 1):
            proof = consistency_proof(nodes, first, second)
            assert verify_consistency(first, second, roots[first], roots[second], proof)


def test_a_proof_looks_up_only_the_nodes_it_lists_and_few() -> None:
    nodes = dict(all_nodes(HASHES))
    for place in range(70):
        few = {position: nodes[position] for position in inclusion_positions(place, 70)}
        assert inclusion_proof(few, place, 70) == inclusion_proof(nodes, place, 70)
        few = {position: nodes[position] for position in consistency_positions(place + 1, 70)}
        assert consistency_proof(few, place + 1, 70) == consistency_proof(nodes, place + 1, 70)
    million = 1_000_003
    assert len(inclusion_positions(0, million)) <= 3 * math.log2(million)
    assert len(consistency_positions(999_999, million)) <= 3 * math.log2(million)


@pytest.mark.parametrize(("index", "size"), [(0, 0), (1, 1), (-1, 3), (5, 3)])
def test_no_proof_for_an_entry_that_is_not_there(index: int, size: int) -> None:
    with pytest.raises(NoSuchProof, match="^index: "):
        inclusion_proof({}, index, size)


@pytest.mark.parametrize(("first", "second"), [(2, 1), (-1, 3)])
def test_no_proof_that_a_record_shrank(first: int, second: int) -> None:
    with pytest.raises(NoSuchProof, match="^first: "):
        consistency_proof({}, first, second)
