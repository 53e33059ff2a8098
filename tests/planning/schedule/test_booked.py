"""The dates that people read: a crew comes when it is booked, and what follows shifts with it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import UNDER_WAY, Visit
from tests.planning.houses import DAY, at, phase, plan_of, says

MONDAY = "2026-12-07 08:00"


def _schedule(calendar: WorkCalendar, *visits: tuple[int, str], now: str = MONDAY, **second: object) -> Schedule:
    """Three phases of a day each, one after another; visits as (phase, start)."""
    booked = tuple(
        Visit(n, "Crew", at(calendar, starts), at(calendar, starts) + DAY, phase)
        for n, (phase, starts) in enumerate(visits, 1)
    )
    phases = [phase(1, DAY), phase(2, DAY, [1], **second), phase(3, DAY, [(2, 24 * 60)])]
    return schedule(plan_of(calendar, MONDAY, phases, visits=booked), at(calendar, now))


def _starts(calendar: WorkCalendar, found: Schedule) -> list[str]:
    return [says(calendar, dates.early_start)[5:] for dates in found.phases]


def test_a_booked_phase_and_what_follows_it_start_with_the_visit(crew: WorkCalendar) -> None:
    booked = as_booked(_schedule(crew, (2, "2026-12-10 08:00")))
    # The wait of 24 hours ends on Friday at 4:30 pm, when the crews go home.
    assert _starts(crew, booked) == ["12-07 08:00", "12-10 08:00", "12-14 08:00"]


def test_floats_and_critical_paths_stay_those_of_what_is_possible(crew: WorkCalendar) -> None:
    pure = _schedule(crew, (2, "2026-12-10 08:00"))
    as_booked(pure)
    assert pure.critical_paths == [(1, 2, 3)] and pure.of(2).total_float == 0


def test_a_visit_before_it_can_be_does_not_pull_the_phase_forward(crew: WorkCalendar) -> None:
    pure = _schedule(crew, (2, MONDAY))
    assert as_booked(pure) is pure


def test_the_first_visit_that_is_not_over_counts(crew: WorkCalendar) -> None:
    visits = ((2, "2026-12-08 08:00"), (2, "2026-12-11 08:00"), (2, "2026-12-10 08:00"))
    pure = _schedule(crew, *visits, now="2026-12-09 07:00")
    assert pure.plan.next_visits(pure.now) == {2: at(crew, "2026-12-10 08:00")}


@pytest.mark.parametrize("hour", ["08:00", "13:30"])
def test_a_phase_that_has_begun_does_not_wait_for_its_visit(crew: WorkCalendar, hour: str) -> None:
    began = {"state": UNDER_WAY, "started": at(crew, MONDAY)}
    pure = _schedule(crew, (2, f"2026-12-10 {hour}"), now="2026-12-07 12:00", **began)
    assert as_booked(pure) is pure


@settings(max_examples=40, deadline=None)
@given(days=st.lists(st.integers(7, 23), min_size=3, max_size=3))
def test_nothing_is_shown_before_what_it_follows_and_bookings_only_move_on(
    crew: WorkCalendar, days: list[int]
) -> None:
    pure = _schedule(crew, *((n, f"2026-12-{day:02} 08:00") for n, day in enumerate(days, 1)))
    found = as_booked(pure).phases
    assert all(one.early_finish <= two.early_start for one, two in zip(found, found[1:], strict=False))
    assert all(one.early_start >= two.early_start for one, two in zip(found, pure.phases, strict=True))
