"""Futures played through with times that are known: each must be what the schedule says of them."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.forecast.simulation import Futures, simulate, simulate_with
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import INSPECTION, UNDER_WAY, Delivery, Phase, Plan
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)


def plan(*phases: Phase, **more: object) -> Plan:
    return plan_of(CREW, START, phases, **more)


def played(made: Plan, work: list[list[int]], arrivals: dict[int, list[str]] | None = None) -> Futures:
    """`work`: minutes, a row a phase, a column a future."""
    moments = {
        delivery: np.array([at(CREW, moment) for moment in when]) for delivery, when in (arrivals or {}).items()
    }
    return simulate_with(made, EIGHT, np.array(work, np.int64), moments)


def finishes(futures: Futures) -> list[str]:
    return [says(CREW, int(moment)) for moment in futures.finishes]


def test_each_column_is_a_future_of_its_own() -> None:
    futures = played(plan(phase(1, DAY), phase(2, 60, [1])), [[60, DAY, 3 * DAY], [30, 30, 30]])
    assert futures.count == 3
    assert finishes(futures) == ["2026-12-01 09:30", "2026-12-02 08:30", "2026-12-04 08:30"]
    assert [says(CREW, int(moment)) for moment in futures.finishes_at(0)] == [
        "2026-12-01 09:00", "2026-12-01 16:30", "2026-12-03 16:30",
    ]


def test_the_later_of_two_that_it_follows_counts_in_each_future() -> None:
    futures = played(plan(phase(1, 1), phase(2, 1), phase(3, 1, [1, 2])), [[60, 300], [240, 120], [30, 30]])
    assert finishes(futures) == ["2026-12-01 12:30", "2026-12-01 13:30"]


def test_a_wait_runs_by_the_clock() -> None:
    futures = played(plan(phase(1, 1), phase(2, 1, [(1, 20 * 60)])), [[240, DAY], [60, 60]])
    assert finishes(futures) == ["2026-12-02 09:00", "2026-12-02 13:30"]


def test_a_moment_falls_on_the_weekend_and_work_goes_on_after_it() -> None:
    """The cure ends 30 hours after Fri 4:30 pm; an hour's wait after that is over long before Monday."""
    made = plan(phase(1, 1), phase(2, 0, [(1, 30 * 60)]), phase(3, 1, [(2, 60)]))
    assert finishes(played(made, [[4 * DAY], [0], [60]])) == ["2026-12-07 09:00"]
    without_more = plan(phase(1, 1), phase(2, 0, [(1, 30 * 60)]))
    assert finishes(played(without_more, [[4 * DAY, DAY], [0, 0]])) == ["2026-12-05 22:30", "2026-12-02 22:30"]


def test_work_waits_for_its_delivery_by_crew_and_by_clock() -> None:
    coming = Delivery(4, (1, 2), date(2026, 12, 1), date(2026, 12, 3), date(2026, 12, 9))
    made = plan(phase(1, 1), phase(2, 0), deliveries=(coming,))
    futures = played(made, [[60, 60], [0, 0]], {4: ["2026-12-02 00:00", "2026-12-05 00:00"]})
    assert finishes(futures) == ["2026-12-02 09:00", "2026-12-07 09:00"]
    assert [says(CREW, int(moment)) for moment in futures.finishes_at(1)] == ["2026-12-02 00:00", "2026-12-05 00:00"]
    assert dict(futures.deliveries_of(0)).keys() == {4}


def test_work_that_has_begun_waits_for_no_delivery() -> None:
    """Under way or waiting for its inspection: whatever was to come was not needed."""
    coming = Delivery(4, (1, 2), date(2026, 12, 1), date(2026, 12, 3), date(2026, 12, 9))
    made = plan(
        phase(1, 120, state=UNDER_WAY, started=EIGHT), phase(2, 60, state=INSPECTION, inspection_at=EIGHT + 90),
        deliveries=(coming,),
    )
    futures = played(made, [[120], [0]], {4: ["2026-12-05 00:00"]})
    assert finishes(futures) == ["2026-12-01 10:00"]
    assert says(CREW, int(futures.finishes_at(1)[0])) == "2026-12-01 09:30"


def test_work_under_way_starts_from_what_the_schedule_says_is_left() -> None:
    """Two hours of three are left, so it is as if it had started an hour before now; a future of four takes an hour
    more."""
    made = plan(phase(1, 180, state=UNDER_WAY, started=EIGHT - 1_440, remaining=120))
    assert finishes(played(made, [[120, 180]])) == ["2026-12-01 10:00", "2026-12-01 11:00"]


def test_without_phases_every_future_ends_when_the_job_starts() -> None:
    futures = simulate(plan(), at(CREW, "2026-11-20 08:00"), 2)
    assert finishes(futures) == [START, START]
    assert finishes(simulate(plan(), at(CREW, "2026-12-09 08:00"), 1)) == ["2026-12-09 08:00"]


def test_at_least_one_future_is_asked_for() -> None:
    with pytest.raises(ValueError, match="count: give at least one future"):
        simulate(plan(phase(1, 60)), EIGHT, 0)
    assert simulate(plan(phase(1, 60)), EIGHT, 1).count == 1


def test_ten_thousand_futures_are_the_usual() -> None:
    assert simulate(plan(phase(1, 60)), EIGHT).count == 10_000


@settings(max_examples=40, deadline=None)
@given(
    work=st.lists(st.lists(st.integers(1, 1_500), min_size=4, max_size=4), min_size=1, max_size=3),
    waits=st.lists(st.sampled_from([0, 0, 45, 1_440, 5_000]), min_size=4, max_size=4), day=st.integers(1, 20),
)
def test_each_future_is_the_schedule_of_its_times(work: list[list[int]], waits: list[int], day: int) -> None:
    """One future after another through the schedule, two of them to the minute."""
    follows = {1: [], 2: [(1, waits[0])], 3: [(1, waits[1])], 4: [(2, waits[2]), (3, waits[3])]}
    coming = Delivery(4, (3,), *[date(2026, 12, day)] * 3)
    made = plan(*(phase(number, 60, follows[number]) for number in follows), deliveries=(coming,))
    ends = {4: np.full(len(work), CREW.day_end(coming.likely))}
    futures = simulate_with(made, EIGHT, np.array(work, np.int64).T.copy(), ends)
    for column, minutes in enumerate(work):
        known = tuple(
            replace(one, low=minutes[one.id - 1], likely=minutes[one.id - 1], high=minutes[one.id - 1])
            for one in made.phases
        )
        found = schedule(replace(made, phases=known), EIGHT)
        assert futures.finishes[column] == found.finish
        for one in known:
            assert futures.finishes_at(made.network.position[one.id])[column] == found.of(one.id).early_finish
