"""Later starts carried through the phases that follow."""

from datetime import date

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.late_answers.delays import delayed_finishes
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import Phase
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)


def found(*phases: Phase) -> Schedule:
    return schedule(plan_of(CREW, START, phases), EIGHT)


def finishes(of: Schedule, held: set[int], *allowed: str) -> list[str]:
    """`held` by id."""
    positions = {of.plan.network.position[phase] for phase in held}
    moments = np.array([at(CREW, moment) for moment in allowed])
    return [says(CREW, int(finish)) for finish in delayed_finishes(of, positions, moments)]


def test_where_only_crew_hours_follow_a_day_costs_a_day() -> None:
    of = found(phase(1, DAY), phase(2, DAY, [1]))
    assert finishes(of, {1}, "2026-12-01 00:00", "2026-12-02 00:00", "2026-12-04 00:00") == [
        "2026-12-02 16:30", "2026-12-03 16:30", "2026-12-07 16:30",
    ]


def test_a_delay_within_the_float_costs_nothing() -> None:
    """Phase 1 takes an hour of the day that phase 2 takes."""
    of = found(phase(1, 60), phase(2, DAY))
    assert finishes(of, {1}, "2026-12-01 15:30", "2026-12-01 15:31") == ["2026-12-01 16:30", "2026-12-02 08:01"]


def test_a_weekend_takes_up_what_a_cure_would_have_cost() -> None:
    """Sealed on Thursday or Friday by noon, two days of cure are over on the weekend: on Monday work goes on."""
    of = found(phase(1, 240), phase(2, 60, [(1, 48 * 60)]))
    assert finishes(of, {1}, "2026-12-03 00:00", "2026-12-04 00:00", "2026-12-07 00:00") == [
        "2026-12-07 09:00", "2026-12-07 09:00", "2026-12-09 13:00",
    ]


def test_by_the_clock_a_moment_may_fall_on_a_saturday() -> None:
    """The hand-over happens when the cure is over; held until Sat, it happens then."""
    of = found(phase(1, DAY), phase(2, 0, [(1, 60)]))
    assert finishes(of, {2}, "2026-12-01 00:00", "2026-12-05 00:00") == ["2026-12-01 17:30", "2026-12-05 00:00"]
    assert finishes(of, {1}, "2026-12-04 00:00") == ["2026-12-04 17:30"]


def test_a_wait_after_a_moment_is_counted_from_the_moment() -> None:
    of = found(phase(1, 0), phase(2, 60, [(1, 10 * 60)]))
    assert finishes(of, {1}, "2026-12-05 00:00", "2026-12-07 00:00") == ["2026-12-07 09:00", "2026-12-07 11:00"]


def test_of_two_ways_the_later_one_counts() -> None:
    """Phase 4 follows 2 and 3; 3 is not held, and takes until Thu 4:30 pm."""
    of = found(phase(1, 60), phase(2, 60, [1]), phase(3, 3 * DAY), phase(4, 60, [2, 3]))
    assert finishes(of, {2}, "2026-12-02 00:00", "2026-12-07 00:00") == ["2026-12-04 09:00", "2026-12-07 10:00"]


def test_two_held_phases_are_delayed_together() -> None:
    of = found(phase(1, DAY), phase(2, 60))
    assert finishes(of, {1, 2}, "2026-12-03 00:00") == ["2026-12-03 16:30"]
    assert finishes(of, {2}, "2026-12-03 00:00") == ["2026-12-03 09:00"]


def test_what_has_begun_is_not_delayed_by_what_it_followed() -> None:
    begun = phase(2, DAY, [1], state="under_way", started=EIGHT)
    of = found(phase(1, 60), begun, phase(3, 60, [2]))
    assert finishes(of, {1}, "2026-12-01 00:00", "2026-12-02 00:00") == ["2026-12-02 09:00", "2026-12-02 09:00"]


@settings(max_examples=50, deadline=None)
@given(
    waits=st.lists(st.sampled_from([0, 0, 45, 600, 1_440, 5_000]), min_size=4, max_size=4),
    work=st.lists(st.sampled_from([0, 30, 240, DAY]), min_size=4, max_size=4),
    days=st.lists(st.integers(0, 20), min_size=1, max_size=4), held=st.sets(st.integers(1, 4), min_size=1),
)
def test_the_finish_is_that_of_the_schedule_with_a_later_date_set(
    waits: list[int], work: list[int], days: list[int], held: set[int]
) -> None:
    """1 before 2 and 3, both before 4; the plain way is to set the date and run the schedule again."""
    follows = {1: [], 2: [(1, waits[0])], 3: [(1, waits[1])], 4: [(2, waits[2]), (3, waits[3])]}
    phases = [phase(number, work[number - 1], follows[number]) for number in follows]
    moments = [CREW.day_start(date(2026, 12, 1 + day)) for day in days]
    again = [
        found(*(phase(one.id, one.likely, follows[one.id], not_before=moment if one.id in held else None)
                for one in phases)).finish
        for moment in moments
    ]
    of = found(*phases)
    positions = {of.plan.network.position[number] for number in held}
    assert delayed_finishes(of, positions, np.array(moments)).tolist() == again
