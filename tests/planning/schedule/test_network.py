"""Who follows whom, in an order in which everyone comes after what they follow."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.schedule.network import LoopError, Network, UnknownPredecessor, check_loops

NAMES = {4: "template", 7: "cut", 2: "set", 9: "drill"}


def test_each_comes_after_what_it_follows() -> None:
    """Set after cut and drill, both after the template."""
    network = Network.of(NAMES, [(2, 7, 0), (2, 9, 90), (7, 4, 0), (9, 4, 30)])
    assert network.ids == (4, 7, 9, 2), "among those that are free to come, the order given"
    assert network.position == {4: 0, 7: 1, 9: 2, 2: 3}
    assert network.before == ((), ((0, 0),), ((0, 30),), ((1, 0), (2, 90)))
    assert network.after == (((1, 0), (2, 30)), ((3, 0),), ((3, 90),), ())


def test_of_two_links_between_the_same_phases_the_longer_wait_counts() -> None:
    for waits in ((30, 600, 90), (600, 30, 90), (30, 90, 600)):
        network = Network.of(NAMES, [(7, 4, wait) for wait in waits])
        assert network.before[network.position[7]] == ((network.position[4], 600),)
        assert network.after[network.position[4]] == ((network.position[7], 600),)


def test_without_links_the_order_is_the_one_given() -> None:
    assert Network.of(NAMES, []).ids == (4, 7, 2, 9)


def test_a_loop_is_named_all_the_way_round() -> None:
    with pytest.raises(LoopError) as refused:
        check_loops({**NAMES, 5: "seal"}, [(7, 4), (2, 7), (9, 2), (7, 9), (5, 9)])
    assert refused.value.names[0] == refused.value.names[-1]
    assert set(refused.value.names) == {"cut", "set", "drill"}
    assert [NAMES[phase] for phase in refused.value.ids] == list(refused.value.names)
    assert str(refused.value) == (
        f"after: these phases would wait for each other: {' → '.join(refused.value.names)}"
    )


def test_names_go_round_in_the_order_of_the_work() -> None:
    """Each name is followed by one that follows it."""
    with pytest.raises(LoopError) as refused:
        check_loops(NAMES, [(7, 4), (2, 7), (4, 2)])
    around = refused.value.names
    work = {("template", "cut"), ("cut", "set"), ("set", "template")}
    assert set(zip(around, around[1:], strict=False)) == work


def test_a_phase_that_follows_itself_is_a_loop() -> None:
    with pytest.raises(LoopError, match="tile → tile"):
        check_loops({1: "tile"}, [(1, 1)])


def test_an_unknown_predecessor_is_named() -> None:
    with pytest.raises(UnknownPredecessor) as refused:
        check_loops(NAMES, [(2, 11)])
    assert (refused.value.name, refused.value.phase) == ("set", 11)
    assert str(refused.value) == "after: set follows phase 11, which is not in this plan"


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 7), st.integers(1, 7)), max_size=14))
def test_loops_are_found_where_networkx_finds_them(links: list[tuple[int, int]]) -> None:
    names = {number: f"p{number}" for number in range(1, 8)}
    graph: nx.DiGraph[int] = nx.DiGraph([(follows, phase) for phase, follows in links])
    graph.add_nodes_from(names)
    if nx.is_directed_acyclic_graph(graph):
        ids = Network.of(names, [(phase, follows, 0) for phase, follows in links]).ids
        assert sorted(ids) == sorted(names)
        assert all(ids.index(follows) < ids.index(phase) for phase, follows in links)
    else:
        with pytest.raises(LoopError) as refused:
            check_loops(names, links)
        loop = refused.value.ids
        assert all(graph.has_edge(one, two) for one, two in zip(loop, loop[1:], strict=False))
        assert len(set(loop)) == len(loop) - 1
