"""Random plans for the benchmarks: each phase follows one to three of the twenty before it."""

import random
from collections.abc import Callable
from datetime import datetime
from time import perf_counter

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.plan import Decision, Phase, Plan, Predecessor
from tests.bench.ratios import of_size

WEEK = {"week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")},
        "holidays": {"country": "US", "subdivision": "MN"}}


def repeated(work: Callable[[], object], times: int) -> Callable[[], float]:
    """A measure: seconds of one call, taken over `times` of them, because one is too short for the clock."""

    def seconds() -> float:
        begun = perf_counter()
        for _ in range(of_size(times, 1)):
            work()
        return (perf_counter() - begun) / of_size(times, 1)

    return seconds


def random_plan(phases: int, waits: float = 0.0, high: int = 900, held: int = 0) -> Plan:
    """`waits`: share of the links with a cure of up to three days; `high`: longest work in minutes."""
    rng = random.Random(phases)
    calendar = WorkCalendar.of(WEEK, "America/Chicago")
    made = []
    holds = rng.sample(range(phases), held)
    for i in range(phases):
        follows = {rng.randrange(max(0, i - 20), i) for _ in range(rng.randint(1, 3))} if i else set()
        links = tuple(Predecessor(j, rng.randint(20, 4_320) if rng.random() < waits else 0) for j in sorted(follows))
        work = rng.randint(30, high)
        made.append(Phase(i, f"phase {i}", work, work, work, after=links, held_by=(i,) if i in holds else ()))
    decisions = tuple(Decision(i, number, rng.randint(1, 5)) for number, i in enumerate(holds, 1))
    return Plan(tuple(made), calendar, calendar.instant(datetime(2026, 3, 2, 8, 0)), decisions=decisions)
