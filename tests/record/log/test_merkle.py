"""The tree grows from its right edge alone, and is the tree of RFC 9162 at every size."""

import hashlib

import pytest

from portal.record.log.merkle import (
    EMPTY,
    Frontier,
    Node,
    NotAFrontier,
    leaf_hash,
    node_hash,
    pair_up,
    peaks_of,
    root_over,
)
from tests.record.trees import complete_subtrees, tree_root

HASHES = [leaf_hash(str(number).encode()) for number in range(70)]


def grown(count: int) -> tuple[Frontier, list[list[Node]]]:
    """The frontier after so many leaves, and what each leaf completed."""
    frontier, steps = Frontier(), []
    for leaf in HASHES[:count]:
        frontier, made = frontier.added(leaf)
        steps.append(made)
    return frontier, steps


def test_a_leaf_and_a_node_are_hashed_with_different_bytes_before_them() -> None:
    one, other = b"a" * 32, b"b" * 32
    assert leaf_hash(one + other) == hashlib.sha256(b"\x00" + one + other).digest()
    assert node_hash(one, other) == hashlib.sha256(b"\x01" + one + other).digest() != node_hash(other, one)


@pytest.mark.parametrize("count", range(71))
def test_growing_leaf_by_leaf_gives_the_tree_of_the_rfc(count: int) -> None:
    frontier, steps = grown(count)
    assert frontier.size == count and frontier.root == tree_root(HASHES[:count])
    assert dict(node for step in steps for node in step) == complete_subtrees(HASHES[:count])
    assert len(frontier.peaks) == count.bit_count()


def test_each_leaf_completes_itself_first_and_then_what_ends_with_it() -> None:
    _, steps = grown(8)
    assert [[position for position, _ in step] for step in steps] == [
        [(0, 0)], [(0, 1), (1, 0)], [(0, 2)], [(0, 3), (1, 1), (2, 0)],
        [(0, 4)], [(0, 5), (1, 2)], [(0, 6)], [(0, 7), (1, 3), (2, 1), (3, 0)],
    ]  # fmt: skip


def test_adding_a_leaf_leaves_the_frontier_before_as_it_was() -> None:
    before, _ = grown(3)
    before.added(HASHES[3])
    assert before == grown(3)[0]


@pytest.mark.parametrize("size", range(1, 71))
def test_the_peaks_side_by_side_cover_all_leaves_the_largest_first(size: int) -> None:
    positions = peaks_of(0, size)
    widths = [1 << level for level, _ in positions]
    assert sum(widths) == size and widths == sorted(set(widths), reverse=True)
    starts = [index << level for level, index in positions]
    assert starts == [sum(widths[:place]) for place in range(len(widths))]
    nodes = complete_subtrees(HASHES[:size])
    peaks = [nodes[position] for position in positions]
    assert tuple(peaks) == grown(size)[0].peaks and root_over(peaks) == tree_root(HASHES[:size])


@pytest.mark.parametrize(("start", "end", "positions"), [
    (0, 0, []), (4, 4, []), (5, 3, []), (4, 8, [(2, 1)]), (4, 7, [(1, 2), (0, 6)]), (6, 7, [(0, 6)]),
])
def test_a_span_of_leaves_is_made_up_of_few_nodes(start: int, end: int, positions: list[tuple[int, int]]) -> None:
    assert peaks_of(start, end) == positions


def test_the_root_over_nothing_is_the_hash_of_nothing() -> None:
    assert root_over([]) == EMPTY == Frontier().root == hashlib.sha256(b"").digest()
    assert root_over([HASHES[0]]) == HASHES[0]


def test_pairs_make_the_level_above_and_what_is_left_over_waits() -> None:
    one, two, three = HASHES[:3]
    assert pair_up([one, two, three]) == [node_hash(one, two)]
    assert pair_up([one]) == pair_up([]) == []


@pytest.mark.parametrize("count", [0, 1, 37, 64])
def test_a_frontier_is_kept_as_bytes_and_goes_on_from_there(count: int) -> None:
    frontier, _ = grown(count)
    again = Frontier.unpacked(count, frontier.packed)
    assert again == frontier and len(frontier.packed) == 32 * count.bit_count()
    assert again.added(HASHES[count])[0].root == tree_root(HASHES[:count + 1])


@pytest.mark.parametrize(("size", "packed"), [
    (1, b""), (0, bytes(32)), (3, bytes(32)), (2, bytes(31)), (-1, b""), (-1, bytes(32)), (2, bytes(64)),
])
def test_bytes_that_are_no_right_edge_are_refused(size: int, packed: bytes) -> None:
    with pytest.raises(NotAFrontier, match=rf"^frontier: {len(packed)} bytes are no right edge of a tree of {size} "):
        Frontier.unpacked(size, packed)
