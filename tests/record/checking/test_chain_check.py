"""What a chain that holds says: its times, the moved clock, the changes of keys, and the tree over its entries."""

import pytest

from portal.record.checking.chain_check import CheckedChain, check_chain
from portal.record.log.merkle import EMPTY, leaf_hash
from portal.record.verdict import Fault
from tests.record.chains import PROJECT, told, with_new_key
from tests.record.trees import complete_subtrees, tree_root

RECORD = told()
LEAVES = [leaf_hash(entry.canonical) for entry in RECORD.entries]


def test_a_chain_says_when_it_began_when_it_ended_and_how_often_the_clock_moved() -> None:
    chain = check_chain(PROJECT, RECORD.rows)
    assert (chain.size, chain.moved, chain.rotations) == (9, 1, [])
    assert (chain.first_at, chain.last_at) == ("2026-11-02T14:00:00Z", "2026-11-05T09:00:00Z")


def test_a_chain_without_entries_says_nothing() -> None:
    chain = check_chain(PROJECT, [])
    assert chain == CheckedChain() and (chain.size, chain.first_at, chain.last_at) == (0, "", "")
    assert chain.root(0) == EMPTY


def test_each_change_of_keys_is_kept_with_its_number() -> None:
    record, _ = with_new_key()
    (rotation,) = check_chain(PROJECT, record.rows).rotations
    assert rotation == (5, record.entries[4].body, False)


@pytest.mark.parametrize("size", range(10))
def test_its_tree_is_that_of_the_rfc_at_every_size(size: int) -> None:
    assert check_chain(PROJECT, RECORD.rows).root(size) == tree_root(LEAVES[:size])


def test_every_node_is_found_by_its_position_and_no_other() -> None:
    chain, nodes = check_chain(PROJECT, RECORD.rows), complete_subtrees(LEAVES)
    for level in range(-2, 6):
        for index in range(-2, 11):
            assert chain.node((level, index)) == nodes.get((level, index))
    assert sum(map(len, chain.levels)) == len(nodes)


def test_rows_are_read_once_in_their_order_and_the_first_wrong_one_ends_it() -> None:
    rows = iter([RECORD.rows[0], RECORD.rows[2], RECORD.rows[1]])
    with pytest.raises(Fault, match="^entry 2 is missing: entry 3 stands in its place"):
        check_chain(PROJECT, rows)
    assert next(rows) == RECORD.rows[1], "the rest is not looked at"
    with pytest.raises(Fault, match="^entry 1 belongs to project 3, not to project 4"):
        check_chain(4, RECORD.rows)
