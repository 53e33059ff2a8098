"""Proofs are those of RFC 9162, look up few nodes, and show nothing but what they prove."""

import math

import pytest

from portal.record.log.merkle import EMPTY, leaf_hash
from portal.record.log.proofs import (
    NoSuchProof,
    consistency_positions,
    consistency_proof,
    inclusion_positions,
    inclusion_proof,
    verify_consistency,
    verify_inclusion,
)
from tests.record.trees import complete_subtrees, path, subproof, tree_root

HASHES = [leaf_hash(str(number).encode()) for number in range(70)]
NODES = complete_subtrees(HASHES)
ROOTS = [tree_root(HASHES[:size]) for size in range(41)]


def test_every_entry_is_proved_in_every_tree_as_the_rfc_says() -> None:
    for size in range(1, 41):
        for index in range(size):
            proof = inclusion_proof(NODES, index, size)
            assert proof == path(index, HASHES[:size])
            assert verify_inclusion(HASHES[index], index, size, proof, ROOTS[size])


def test_every_tree_is_proved_to_extend_every_smaller_one_as_the_rfc_says() -> None:
    for second in range(1, 41):
        for first in range(1, second + 1):
            proof = consistency_proof(NODES, first, second)
            assert proof == subproof(first, HASHES[:second], True)
            assert verify_consistency(first, second, ROOTS[first], ROOTS[second], proof)


def test_a_proof_of_one_entry_shows_no_other_place_entry_or_tree() -> None:
    for size in range(1, 20):
        for index in range(size):
            proof = inclusion_proof(NODES, index, size)
            for other in {*range(size)} - {index}:
                assert not verify_inclusion(HASHES[index], other, size, proof, ROOTS[size])
                assert not verify_inclusion(HASHES[other], index, size, proof, ROOTS[size])
            assert not verify_inclusion(HASHES[index], index, size, proof, ROOTS[size + 1])
            assert not verify_inclusion(HASHES[index], index, size, [*proof, HASHES[0]], ROOTS[size])
            assert not proof or not verify_inclusion(HASHES[index], index, size, proof[:-1], ROOTS[size])


def test_a_proof_that_a_tree_grew_shows_no_other_growth() -> None:
    for second in range(2, 20):
        for first in range(1, second):
            proof = consistency_proof(NODES, first, second)
            for other in {*range(1, second)} - {first}:
                assert not verify_consistency(first, second, ROOTS[other], ROOTS[second], proof)
                assert not verify_consistency(other, second, ROOTS[first], ROOTS[second], proof)
            assert not verify_consistency(first, second, ROOTS[first], ROOTS[second + 1], proof)
            assert not verify_consistency(first, second, ROOTS[first], ROOTS[second], [*proof, HASHES[0]])
            assert not verify_consistency(first, second, ROOTS[first], ROOTS[second], proof[:-1])


def test_every_tree_extends_the_empty_one_and_itself_without_a_proof() -> None:
    assert consistency_proof(NODES, 0, 9) == consistency_proof(NODES, 9, 9) == consistency_proof(NODES, 0, 0) == []
    assert verify_consistency(0, 9, EMPTY, ROOTS[9], [])
    assert verify_consistency(9, 9, ROOTS[9], ROOTS[9], [])
    assert verify_consistency(0, 0, EMPTY, EMPTY, [])
    assert not verify_consistency(9, 9, ROOTS[9], ROOTS[9], [HASHES[0]])
    assert not verify_consistency(9, 9, ROOTS[9], ROOTS[8], [])
    assert not verify_consistency(0, 9, ROOTS[9], ROOTS[9], [])
    assert not verify_consistency(0, 0, EMPTY, ROOTS[9], [])


@pytest.mark.parametrize("wrong", [b"", b"x" * 31, b"x" * 33, "x" * 32, None, 7])
def test_what_is_no_hash_proves_nothing_and_raises_nothing(wrong: object) -> None:
    proof = inclusion_proof(NODES, 2, 5)
    assert not verify_inclusion(wrong, 2, 5, proof, ROOTS[5])  # type: ignore[arg-type]
    assert not verify_inclusion(HASHES[2], 2, 5, proof, wrong)  # type: ignore[arg-type]
    assert not verify_inclusion(HASHES[2], 2, 5, [wrong, *proof[1:]], ROOTS[5])  # type: ignore[list-item]
    grown = consistency_proof(NODES, 3, 5)
    assert not verify_consistency(3, 5, wrong, ROOTS[5], grown)  # type: ignore[arg-type]
    assert not verify_consistency(3, 5, ROOTS[3], wrong, grown)  # type: ignore[arg-type]
    assert not verify_consistency(3, 5, ROOTS[3], ROOTS[5], [wrong, *grown[1:]])  # type: ignore[list-item]


def test_a_proof_looks_up_only_the_nodes_it_lists_and_few() -> None:
    for place in range(70):
        few = {position: NODES[position] for position in inclusion_positions(place, 70)}
        assert inclusion_proof(few, place, 70) == inclusion_proof(NODES, place, 70)
        few = {position: NODES[position] for position in consistency_positions(place + 1, 70)}
        assert consistency_proof(few, place + 1, 70) == consistency_proof(NODES, place + 1, 70)
    million = 1_000_003
    assert len(inclusion_positions(0, million)) <= 3 * math.log2(million)
    assert len(consistency_positions(999_999, million)) <= 3 * math.log2(million)


@pytest.mark.parametrize(("index", "size"), [(0, 0), (1, 1), (-1, 3), (5, 3)])
def test_no_proof_for_an_entry_that_is_not_there(index: int, size: int) -> None:
    with pytest.raises(NoSuchProof, match=f"^index: the tree of {size} entries has no {index}[.]$"):
        inclusion_proof({}, index, size)
    with pytest.raises(NoSuchProof):
        inclusion_positions(index, size)
    assert not verify_inclusion(HASHES[0], index, size, [], HASHES[0])


@pytest.mark.parametrize(("first", "second"), [(2, 1), (-1, 3)])
def test_no_proof_that_a_record_shrank(first: int, second: int) -> None:
    with pytest.raises(NoSuchProof, match=f"^first: the tree of {second} entries has no {first}[.]$"):
        consistency_proof({}, first, second)
    with pytest.raises(NoSuchProof):
        consistency_positions(first, second)
    assert not verify_consistency(first, second, ROOTS[1], ROOTS[1], [])
