"""Curves of 20 open decisions over 200 phases, against one pass of the schedule over the same plan."""

import sys

from portal.planning.late_answers.curve import late_answers
from portal.planning.schedule.critical_path import schedule
from tests.bench.networks import random_plan, repeated
from tests.bench.ratios import Claim, at_most, closing, in_turn


def curves_against_one_pass(name: str, waits: float) -> Claim:
    plan = random_plan(200, waits=waits, held=20)
    found = schedule(plan, plan.starts)
    assert len(late_answers(found)) == 20
    medians = in_turn(15, {
        "pass": repeated(lambda: schedule(plan, plan.starts), 20),
        "curves": repeated(lambda: late_answers(found), 20),
    })
    # The bar is that of carrying a delay phase by phase: a page of five questions waits 0.3 ms longer for it than for
    # levels prepared beforehand.
    return at_most(name, medians["curves"] / medians["pass"], 12.0)


if __name__ == "__main__":
    sys.exit(closing([
        curves_against_one_pass("20 late-answer curves, one pass", 0.0),
        curves_against_one_pass("the same, a wait on every tenth link", 0.1),
    ]))
