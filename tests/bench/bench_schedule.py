"""The schedule against a bare sweep over lists and networkx, and its growth: python tests/bench/bench_schedule.py"""

import math
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter

import networkx as nx

sys.path.insert(0, str(Path(__file__).parents[2]))

from portal.planning.plan import Plan
from portal.planning.schedule import schedule
from tests.bench.networks import random_plan

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


def interleaved(tasks: Sequence[Callable[[], object]], repeats: int) -> list[float]:
    """Median seconds of each, measured in turns so that a busy machine hits all alike."""
    times: list[list[float]] = [[] for _ in tasks]
    for _ in range(15):
        for task, kept in zip(tasks, times, strict=True):
            begun = perf_counter()
            for _ in range(repeats):
                task()
            kept.append((perf_counter() - begun) / repeats)
    return [median(kept) for kept in times]


def against_lists_and_networkx() -> None:
    plan, cured = random_plan(200), random_plan(200, waits=0.1)
    lists = lists_of(plan)
    graph = nx.DiGraph([(j, i) for i, links in enumerate(lists[0]) for j in links])
    graph.add_nodes_from(range(200))
    for one in (plan, cured):
        schedule(one, one.starts)
    bare, floats, ours, waits, nets, shown = interleaved(
        [
            lambda: bare_sweep(*lists), lambda: sweep_with_floats(*lists), lambda: schedule(plan, plan.starts),
            lambda: schedule(cured, cured.starts), lambda: networkx_pass(graph, lists[2]),
            lambda: schedule(plan, plan.starts).phases,
        ],
        repeats=50,
    )
    print(f"200 phases, all floats and dates: {ours * 1e6:.0f} us, {ours / bare:.2f} x a bare sweep (target: 1.5)")
    print(f"  the same against a sweep over lists that gives the floats, too: {ours / floats:.2f}")
    print(f"  with a wait on every tenth link: {waits / bare:.2f} x the bare sweep without waits (no target)")
    print(f"  with one object per phase for the page: {shown / bare:.2f} x the bare sweep (no target)")
    print(f"  networkx, graph kept: {nets / ours:.1f} x as long (target: at least 4)")


def growth() -> None:
    sizes = (20, 200, 2_000, 20_000)
    plans = [random_plan(size, high=60 if size > 2_000 else 400) for size in sizes]
    for plan in plans:
        schedule(plan, plan.starts)
    times = [interleaved([lambda plan=plan: schedule(plan, plan.starts)], max(1, 4_000 // len(plan.phases)))[0]
             for plan in plans]
    x, y = [math.log(size) for size in sizes], [math.log(time) for time in times]
    mean_x, mean_y = sum(x) / len(x), sum(y) / len(y)
    slope = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sum((a - mean_x) ** 2 for a in x)
    steps = ", ".join(f"{size}: {time * 1e6:.0f} us" for size, time in zip(sizes, times, strict=True))
    last = math.log(times[-1] / times[-2]) / math.log(sizes[-1] / sizes[-2])
    print(f"20 to 20,000 phases ({steps}): fitted exponent {slope:.2f}, last step {last:.2f} (target: 1.2)")


if __name__ == "__main__":
    against_lists_and_networkx()
    growth()
