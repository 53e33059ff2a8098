"""Critical paths: the chains of phases that together make the finish what it is."""

from collections.abc import Iterator

from portal.planning.schedule.passes import Dates
from portal.planning.schedule.plan import DONE, Plan

MOST_PATHS = 50
"""Paths shown. A lattice of ties has millions; nobody reads more than a few."""


def critical_paths(plan: Plan, early: Dates, end: int) -> tuple[list[tuple[int, ...]], bool]:
    """Find the chains of phase ids in which each starts at the moment its predecessor lets it, up to `end`, the instant
    of the finish; and whether these are all of them.

    Without waits these are the chains of phases without total float, as in the textbooks. With waits a phase on
    the chain may have some: a cure that ends on Saturday lets work go on on Monday, also when it begins an hour later.
    """
    driving = [_driving(plan, early, i) for i in range(len(plan.phases))]
    ends = [i for i, phase in enumerate(plan.ordered) if phase.state != DONE and early.finishes_at(i) == end]
    ends = sorted(set(ends).difference(*(driving[i] for i in ends)))
    found: list[tuple[int, ...]] = []
    for chain in _chains(driving, ends):
        if len(found) == MOST_PATHS:
            return found, False
        found.append(tuple(plan.network.ids[i] for i in chain))
    return found, True


def _driving(plan: Plan, early: Dates, i: int) -> list[int]:
    """Positions of those that the phase follows and that keep it from starting earlier, unless they are done."""
    open_links = [(j, wait) for j, wait in plan.predecessors[i] if plan.ordered[j].state != DONE]
    if i in plan.by_clock:
        return [j for j, wait in open_links if early.finishes_at(j) + wait == early.moments[i]]
    return [j for j, wait in open_links if early.after(j, wait) == early.start[i]]


def _chains(driving: list[list[int]], ends: list[int]) -> Iterator[list[int]]:
    """Depth first from the ends backward, without recursion: a plan may be thousands of phases long."""
    for last in ends:
        chain, ways = [last], [iter(driving[last])]
        if not driving[last]:
            yield chain[::-1]
        while ways:
            step = next(ways[-1], None)
            if step is None:
                ways.pop()
                chain.pop()
                continue
            chain.append(step)
            ways.append(iter(driving[step]))
            if not driving[step]:
                yield chain[::-1]
