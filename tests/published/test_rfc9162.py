"""The Merkle tree and its proofs against published values and against pymerkle.

Sources: RFC 9162, 2.1 (RFC 6962, 2.1); github.com/transparency-dev/merkle, testonly/constants.go (leaves, roots),
testdata/inclusion and testdata/consistency (proofs). The broken proofs follow the kinds listed in the latter.
"""

from base64 import b64decode
from collections.abc import Iterator

import pymerkle
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.record.log.merkle import EMPTY, Frontier, leaf_hash
from portal.record.log.proofs import consistency_proof, inclusion_proof, verify_consistency, verify_inclusion
from tests.record.trees import complete_subtrees, subproof, tree_root

LEAVES = [bytes.fromhex(text) for text in (
    "", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f",
)]
HASHES = [leaf_hash(leaf) for leaf in LEAVES]
ROOTS = [bytes.fromhex(text) for text in (
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
    "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
)]
OF_LEAF_0 = [b64decode(text) for text in (
    "lqKW0iTyhcZ77pPDD4owkVfw2qNdxbh+QQt4YwoJz8c=", "Xwg/ChozygdqlSeYMlgNs+DvRYS9/x9UyKNg9Q3jAx4=",
    "a0eq8p7jwq+a+Im8H7klTavTEXfxYjLdaqsDXKOb9uQ=",
)]
OF_LEAF_5 = [bytes.fromhex(text) for text in (
    "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b",
    "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
)]
FROM_6_TO_8 = [b64decode(text) for text in (
    "DrxdNDf74tsVi58Sah0RjjCBgQMdCpSfje3t68VY72o=", "yoVOoSjtBQtBs1/8G4e46yveRh6eO1WW7Oa51ZdaCuA=",
    "037kGJdt2VdTwcc4Yrk5j6Kiz5tP8P3+izDNlSCWFLc=",
)]
FROM_2_TO_5 = [b64decode(text) for text in (
    "Xwg/ChozygdqlSeYMlgNs+DvRYS9/x9UyKNg9Q3jAx4=", "vBoGQ7EuTS18d5GPROD095qDi2z57FtcKD4fTYhZnms=",
)]
NODES = complete_subtrees(HASHES)
INCLUSION = [
    (0, 8, OF_LEAF_0), (5, 8, OF_LEAF_5), (2, 3, [ROOTS[2]]), (1, 5, [ROOTS[1], OF_LEAF_0[1], OF_LEAF_5[0]]),
    (0, 1, []),
]
CONSISTENCY = [(1, 8, OF_LEAF_0), (6, 8, FROM_6_TO_8), (2, 5, FROM_2_TO_5), (1, 1, []), (8, 8, [])]


@pytest.mark.parametrize("size", range(9))
def test_the_roots_over_the_first_leaves_are_the_published_ones(size: int) -> None:
    frontier = Frontier()
    for leaf in HASHES[:size]:
        frontier, _ = frontier.added(leaf)
    assert frontier.root == tree_root(HASHES[:size]) == ROOTS[size]


@pytest.mark.parametrize(("index", "size", "proof"), INCLUSION)
def test_inclusion_proofs_are_the_published_ones(index: int, size: int, proof: list[bytes]) -> None:
    assert inclusion_proof(NODES, index, size) == proof
    assert verify_inclusion(HASHES[index], index, size, proof, ROOTS[size])


@pytest.mark.parametrize(("first", "second", "proof"), CONSISTENCY)
def test_consistency_proofs_are_the_published_ones(first: int, second: int, proof: list[bytes]) -> None:
    assert consistency_proof(NODES, first, second) == proof
    assert verify_consistency(first, second, ROOTS[first], ROOTS[second], proof)


def flipped(hashes: list[bytes]) -> Iterator[list[bytes]]:
    """The list with one bit of it turned, for each of its bits."""
    for place, made in enumerate(hashes):
        for bit in range(256):
            turned = (int.from_bytes(made, "big") ^ 1 << bit).to_bytes(32, "big")
            yield [*hashes[:place], turned, *hashes[place + 1:]]


def misshapen(proof: list[bytes], *others: bytes) -> Iterator[list[bytes]]:
    """The list cut, lengthened or out of order."""
    yield from (proof[:-1], proof[1:]) if proof else ()
    for more in (b"", proof[0] if proof else EMPTY, *others):
        yield [*proof, more]
        yield [more, *proof]
    if len(proof) > 1:
        yield [proof[1], proof[0], *proof[2:]]
    yield [made[:-1] for made in proof] or [b""]


@pytest.mark.parametrize(("index", "size", "proof"), INCLUSION)
def test_a_broken_inclusion_proof_is_found(index: int, size: int, proof: list[bytes]) -> None:
    leaf, root = HASHES[index], ROOTS[size]
    for broken in (*flipped(proof), *misshapen(proof, root, leaf)):
        assert not verify_inclusion(leaf, index, size, broken, root)
    for place, width in ((index - 1, size), (index + 1, size), (index ^ 2, size), (index, size * 2), (index, size // 2),
                         (index, 0), (-1, size)):
        assert not verify_inclusion(leaf, place, width, proof, root)
    for made, top in ((b"wrong", root), (b"", root), (leaf, EMPTY), (leaf, b""), (EMPTY, root), (leaf, root[:-1])):
        assert not verify_inclusion(made, index, size, proof, top)
    for (turned,) in flipped([leaf]):
        assert not verify_inclusion(turned, index, size, proof, root)
    for (turned,) in flipped([root]):
        assert not verify_inclusion(leaf, index, size, proof, turned)


@pytest.mark.parametrize(("first", "second", "proof"), CONSISTENCY)
def test_a_broken_consistency_proof_is_found(first: int, second: int, proof: list[bytes]) -> None:
    old, new = ROOTS[first], ROOTS[second]
    for broken in (*flipped(proof), *misshapen(proof, old, new)):
        assert not verify_consistency(first, second, old, new, broken)
    for one, other in ((first + 1, second), (first ^ 2, second), (first, second * 2 + 1), (second + 1, second),
                       (-1, second), (first, -1)):
        assert not verify_consistency(one, other, old, new, proof)
    for (turned,) in flipped([old]):
        assert not verify_consistency(first, second, turned, new, proof)
    for (turned,) in flipped([new]):
        assert not verify_consistency(first, second, old, turned, proof)


@pytest.mark.parametrize(("first", "second", "proof"), CONSISTENCY[:3])
def test_swapped_roots_and_an_empty_proof_are_found(first: int, second: int, proof: list[bytes]) -> None:
    assert not verify_consistency(first, second, ROOTS[second], ROOTS[first], proof)
    assert not verify_consistency(first, second, ROOTS[first], ROOTS[second], [])
    assert not verify_consistency(first - 1, second, ROOTS[first], ROOTS[second], proof)
    assert not verify_consistency(first, second // 2, ROOTS[first], ROOTS[second], proof)


def test_every_tree_extends_the_empty_one_and_none_shrinks() -> None:
    assert verify_consistency(0, 0, EMPTY, EMPTY, [])
    assert verify_consistency(0, 8, EMPTY, ROOTS[8], [])
    assert not verify_consistency(0, 8, ROOTS[1], ROOTS[8], [])
    assert not verify_consistency(0, 8, EMPTY, ROOTS[8], [EMPTY])
    assert not verify_consistency(0, 0, EMPTY, ROOTS[1], [])
    assert not verify_consistency(2, 1, ROOTS[2], ROOTS[1], [])


@settings(max_examples=40)
@given(st.integers(1, 130).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n), st.integers(0, n - 1))))
def test_roots_and_proofs_agree_with_pymerkle(case: tuple[int, int, int]) -> None:
    size, first, index = case
    entries = [number.to_bytes(2, "big") for number in range(size)]
    other = pymerkle.InmemoryTree.init_from_entries(entries, algorithm="sha256")
    hashes = [leaf_hash(entry) for entry in entries]
    nodes = complete_subtrees(hashes)
    root, first_root = tree_root(hashes), tree_root(hashes[:first])
    assert root == other.get_root() and first_root == other.get_root(first)

    mine = inclusion_proof(nodes, index, size)
    theirs = other.prove_inclusion(index + 1, size)
    assert theirs.path == [hashes[index], *mine]
    assert verify_inclusion(hashes[index], index, size, theirs.path[1:], root)

    grown = consistency_proof(nodes, first, size)
    assert grown == subproof(first, hashes, True)
    theirs = other.prove_consistency(first, size)  # the same claim, in a form of its own
    pymerkle.verify_consistency(first_root, root, theirs, prior_size=first, later_size=size)
    assert verify_consistency(first, size, first_root, root, grown)
