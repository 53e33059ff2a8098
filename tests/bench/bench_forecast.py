"""A forecast of 10,000 futures over 200 phases, against drawing its samples alone.

The samples alone: one numpy Generator, one call a phase, scaled to minutes. The forecast draws the same and then makes
everything that `forecast` returns: dates of the whole and of each phase, the chance of a promise, and shares of the
futures in which each phase and decision is on the critical path.
"""

import sys
from dataclasses import replace

import numpy as np

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.forecast.distributions import beta_shape
from portal.planning.forecast.forecast import FUTURES, forecast
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from tests.bench.networks import random_plan
from tests.bench.ratios import at_most, closing, in_turn, of_size, timed

PHASES = of_size(200, 30)
ROUNDS = 9
DAY_AND_NIGHT = {"week": {day: [["00:00", "24:00"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")}}


def uncertain(plan: Plan) -> Plan:
    """Three-point times around the times of the plan: from half to twice as long."""
    phases = tuple(replace(one, low=one.low // 2, high=one.high * 2) for one in plan.phases)
    return replace(plan, phases=phases)


def samples(plan: Plan) -> np.ndarray:
    generator = np.random.default_rng(1)
    minutes = np.empty((len(plan.phases), FUTURES))
    for row, phase in zip(minutes, plan.phases, strict=True):
        alpha, beta = beta_shape((phase.low, phase.likely, phase.high))
        row[:] = phase.low + (phase.high - phase.low) * generator.beta(alpha, beta, FUTURES)
    return minutes


def main() -> int:
    at_work = uncertain(random_plan(PHASES, waits=0.3, held=20))
    by_clock = replace(uncertain(random_plan(PHASES)), calendar=WorkCalendar.of(DAY_AND_NIGHT, "UTC"))
    promised = at_work.calendar.day_of(schedule(at_work, at_work.starts).finish)
    medians = in_turn(ROUNDS, {
        "samples by the clock": timed(lambda: samples(by_clock)),
        "by the clock": timed(lambda: forecast(by_clock, by_clock.starts, promised)),
        "samples at work": timed(lambda: samples(at_work)),
        "at work": timed(lambda: forecast(at_work, at_work.starts, promised)),
    })
    by_the_clock = medians["by the clock"] / medians["samples by the clock"]
    # The bars are those of the calendar's own minutes: a table of minutes made for each forecast took half as long, and
    # only after a change of the plan is one made at all.
    return closing([
        at_most("forecast without calendar / samples", by_the_clock, 1.8),
        at_most("forecast with calendar and waits / samples", medians["at work"] / medians["samples at work"], 3.5),
    ])


if __name__ == "__main__":
    sys.exit(main())
