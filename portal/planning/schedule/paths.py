"""Critical paths: the chains of phases that together make the finish what it is."""

from collections.abc import Iterator

from portal.planning.schedule.passes import Forward, finished
from portal.planning.schedule.plan import DONE, Plan

MOST = 50
"""Paths shown. A lattice of ties has millions; nobody reads more than a few."""


def critical_paths(plan: Plan, early: Forward, end: int) -> tuple[list[tuple[int, ...]], bool]:
    """Chains in which each phase starts at the moment its predecessor lets it, up to the finish; and whether these are
    all of them.

    Without waits these are the chains of phases without total float, as in the textbooks. With waits a phase on
    the chain may have some: a cure that ends on Saturday lets work go on on Monday, also when it begins an hour later.
    """
    driven = [_drivers(plan, early, i) for i in range(len(plan.phases))]
    ends = [i for i in range(len(plan.phases)) if _ends_it(plan, early, i, end)]
    ends = sorted(set(ends).difference(*(driven[i] for i in ends)))
    found: list[tuple[int, ...]] = []
    for chain in _chains(driven, ends):
        if len(found) == MOST:
            return found, False
        found.append(tuple(plan.network.ids[i] for i in chain))
    return found, True


def _ends_it(plan: Plan, early: Forward, i: int, end: int) -> bool:
    if plan.ordered[i].state == DONE:
        return False
    return finished(plan.rows.floors + i, early, plan.calendar) == end


def _drivers(plan: Plan, early: Forward, i: int) -> list[int]:
    """Those that the phase follows and that keep it from starting earlier, unless they are done."""
    if plan.ordered[i].begun:
        return []
    rows, calendar = plan.rows, plan.calendar
    start = early.finish[rows.floors + i] - int(rows.work[i])
    moment = early.clock.get(rows.floors + i)
    found = []
    for j, wait in plan.network.before[i]:
        if plan.ordered[j].state == DONE:
            continue
        place = rows.floors + j
        if moment is not None:
            drives = finished(place, early, calendar) + wait == moment
        elif wait:
            drives = calendar.work_before(finished(place, early, calendar) + wait) == start
        else:
            drives = early.finish[place] == start
        if drives:
            found.append(j)
    return found


def _chains(driven: list[list[int]], ends: list[int]) -> Iterator[list[int]]:
    """Depth first from the ends backward, without recursion: a plan may be thousands of phases long."""
    for last in ends:
        chain, ways = [last], [iter(driven[last])]
        if not driven[last]:
            yield chain[::-1]
        while ways:
            step = next(ways[-1], None)
            if step is None:
                ways.pop()
                chain.pop()
                continue
            chain.append(step)
            ways.append(iter(driven[step]))
            if not driven[step]:
                yield chain[::-1]
