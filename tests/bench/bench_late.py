"""Curves of 20 open decisions over 200 phases, against one pass of the schedule: python tests/bench/bench_late.py"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from portal.planning.late import late_answers
from portal.planning.schedule import schedule
from tests.bench.bench_schedule import interleaved
from tests.bench.networks import random_plan


def compare(what: str, waits: float, target: str) -> None:
    plan = random_plan(200, waits=waits, held=20)
    found = schedule(plan, plan.starts)
    curves = late_answers(found)
    assert len(curves) == 20
    points = sum(len(curve.days) for curve in curves.values())
    one, late = interleaved([lambda: schedule(plan, plan.starts), lambda: late_answers(found)], repeats=20)
    print(f"{what}: {late * 1e6:.0f} us for 20 curves of {points} points, {late / one:.1f} x one pass ({target})")


if __name__ == "__main__":
    compare("crew hours", 0.0, "target: at most 5")
    compare("with a wait on every tenth link", 0.1, "target: at most 5")
