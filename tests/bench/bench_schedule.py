"""The schedule against a bare sweep over lists and against networkx, and how it grows.

The plan and its prepared network are kept, as lists and graph are; the time counts from the floors of `now` to the last
date.
"""

import math
import sys
from statistics import linear_regression

import networkx as nx

from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from tests.bench.networks import random_plan, repeated
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size

Links = list[list[int]]


def bare_sweep(before: Links, after: Links, work: list[int]) -> tuple[list[int], ...]:
    """Early and late dates only: no floats, no calendar, no floors."""
    count = len(work)
    early_start, early_finish = [0] * count, [0] * count
    for i in range(count):
        start = 0
        for j in before[i]:
            if early_finish[j] > start:
                start = early_finish[j]
        early_start[i] = start
        early_finish[i] = start + work[i]
    end = max(early_finish)
    late_start, late_finish = [0] * count, [0] * count
    for i in range(count - 1, -1, -1):
        finish = end
        for j in after[i]:
            if late_start[j] < finish:
                finish = late_start[j]
        late_finish[i] = finish
        late_start[i] = finish - work[i]
    return early_start, early_finish, late_start, late_finish


def sweep_with_floats(before: Links, after: Links, work: list[int]) -> tuple[list[int], ...]:
    early_start, early_finish, late_start, late_finish = bare_sweep(before, after, work)
    total = [late - early for late, early in zip(late_start, early_start, strict=True)]
    free = [
        min([early_start[j] for j in after[i]], default=late_finish[i]) - early_finish[i] for i in range(len(work))
    ]
    return total, free


def lists_of(plan: Plan) -> tuple[Links, Links, list[int]]:
    network = plan.network
    return (
        [[j for j, _ in links] for links in network.before], [[j for j, _ in links] for links in network.after],
        [phase.expected for phase in plan.ordered],
    )


def networkx_pass(graph: "nx.DiGraph[int]", work: list[int]) -> None:
    """Forward and backward over a kept graph."""
    order = list(nx.topological_sort(graph))
    finish: dict[int, int] = {}
    for i in order:
        finish[i] = max((finish[j] for j in graph.predecessors(i)), default=0) + work[i]
    end = max(finish.values())
    start: dict[int, int] = {}
    for i in reversed(order):
        start[i] = min((start[j] for j in graph.successors(i)), default=end) - work[i]


def against_lists_and_networkx() -> list[Claim]:
    plan, cured = random_plan(200), random_plan(200, waits=0.1)
    lists = lists_of(plan)
    graph = nx.DiGraph([(j, i) for i, links in enumerate(lists[0]) for j in links])
    graph.add_nodes_from(range(200))
    medians = in_turn(15, {
        "bare": repeated(lambda: bare_sweep(*lists), 50),
        "bare with floats": repeated(lambda: sweep_with_floats(*lists), 50),
        "schedule": repeated(lambda: schedule(plan, plan.starts), 50),
        "with waits": repeated(lambda: schedule(cured, cured.starts), 50),
        "networkx": repeated(lambda: networkx_pass(graph, lists[2]), 10),
    })
    bare, ours = medians["bare"], medians["schedule"]
    print(f"# against a bare sweep that gives the floats, too: {ours / medians['bare with floats']:.2f}")
    print(f"# with a wait on every tenth link, against the bare sweep without any: {medians['with waits'] / bare:.2f}")
    # The bars are those of plain passes, whose every date is asked of the calendar. Prepared rows took a thirtieth, and
    # no page noticed: of the 10 ms of a page of 15 phases the schedule takes 0.4, half of it to build the plan.
    return [
        at_most("schedule of 200 phases / bare sweep over lists", ours / bare, 60.0),
        at_most("schedule of 200 phases / networkx, graph kept", ours / medians["networkx"], 6.0),
    ]


def growth() -> Claim:
    sizes = (20, 200, of_size(2_000, 300), of_size(20_000, 400))
    plans = {size: random_plan(size, high=60 if size > 2_000 else 400) for size in sizes}
    medians = in_turn(9, {
        str(size): repeated(lambda plan=plan: schedule(plan, plan.starts), max(1, 4_000 // size))  # type: ignore[misc]
        for size, plan in plans.items()
    })
    x, y = [math.log(size) for size in plans], [math.log(medians[str(size)]) for size in plans]
    return at_most("20 to 20,000 phases, fitted exponent", linear_regression(x, y).slope, 1.2)


if __name__ == "__main__":
    sys.exit(closing([*against_lists_and_networkx(), growth()]))
