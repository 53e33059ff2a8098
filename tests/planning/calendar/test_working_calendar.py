"""Work time on a crew's calendar."""

from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.week import CalendarError
from portal.planning.calendar.working_calendar import WorkCalendar, calendar_of
from tests.planning.houses import ALWAYS, CREW_WEEK, DAY, at, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
SPLIT = WorkCalendar.of(
    {
        "week": {"mon": [["07:00", "11:45"], ["12:30", "16:00"]], "wed": [["00:00", "03:10"]],
                 "sat": [["22:00", "24:00"]], "sun": [["00:00", "02:30"], ["02:40", "04:00"]]},
        "holidays": None,
        "days_off": ["2026-07-06"],
        "half_days": {"2026-12-24": [["08:00", "12:00"]]},
    },
    "America/New_York",
)
INSTANTS = st.integers(at(CREW, "2024-01-01 00:00"), at(CREW, "2030-01-01 00:00"))


def test_a_night_a_holiday_and_a_weekend_are_jumped() -> None:
    start = at(CREW, "2026-11-25 15:00")
    assert says(CREW, CREW.add(start, 90)) == "2026-11-25 16:30"
    assert says(CREW, CREW.add(start, 91)) == "2026-11-27 08:01"
    assert says(CREW, CREW.add(start, 90 + DAY + 1)) == "2026-11-30 08:01"


def test_a_wait_of_minutes_is_exact() -> None:
    """Common practice: a stone seam's two-part adhesive is set in 20 to 25 minutes."""
    assert says(CREW, CREW.next_working_moment(at(CREW, "2026-12-03 09:10") + 25)) == "2026-12-03 09:35"


def test_outside_hours_the_next_working_moment_is_the_next_opening() -> None:
    assert says(CREW, CREW.next_working_moment(at(CREW, "2026-12-04 16:30"))) == "2026-12-07 08:00"
    assert says(CREW, CREW.next_working_moment(at(CREW, "2026-12-04 16:29"))) == "2026-12-04 16:29"
    assert says(CREW, CREW.last_working_moment(at(CREW, "2026-12-06 12:00"))) == "2026-12-04 16:30"


def test_a_half_day_is_worked_even_on_a_day_without_hours() -> None:
    assert SPLIT.is_working_day(date(2026, 12, 24))
    assert SPLIT.count(SPLIT.day_start(date(2026, 12, 24)), SPLIT.day_end(date(2026, 12, 24))) == 240


def test_a_day_off_is_off() -> None:
    assert not SPLIT.is_working_day(date(2026, 7, 6))
    assert SPLIT.periods_on(date(2026, 7, 6)) == []


def test_periods_of_a_day_end_at_midnight_though_work_goes_on() -> None:
    saturday = date(2026, 7, 11)
    assert SPLIT.periods_on(saturday) == [(SPLIT.day_end(saturday) - 120, SPLIT.day_end(saturday))]


@given(start=INSTANTS, work=st.integers(1, 60_000), calendar=st.sampled_from([CREW, SPLIT]))
@settings(max_examples=60, deadline=None)
def test_work_that_was_added_is_counted_back_to_where_it_started(
    start: int, work: int, calendar: WorkCalendar
) -> None:
    working = calendar.next_working_moment(start)
    done = calendar.add(working, work)
    assert calendar.start_of(calendar.work_before(done) - work) == working
    assert calendar.count(working, done) == work
    assert calendar.last_working_moment(done) == done


@given(start=INSTANTS, work=st.integers(1, 3_000), calendar=st.sampled_from([CREW, SPLIT]))
@settings(max_examples=25, deadline=None)
def test_adding_agrees_with_counting_minute_by_minute(start: int, work: int, calendar: WorkCalendar) -> None:
    """The slow and obvious way: look at the clock on the wall each minute."""
    left, now = work, start
    while left:
        if not calendar.is_working_day(calendar.day_of(now)):
            now = calendar.day_end(calendar.day_of(now))
            continue
        left -= any(opens <= now < closes for opens, closes in calendar.periods_on(calendar.day_of(now)))
        now += 1
    assert calendar.add(start, work) == now


@given(instants=st.lists(INSTANTS, min_size=1, max_size=20), calendar=st.sampled_from([CREW, SPLIT]))
@settings(max_examples=30, deadline=None)
def test_arrays_are_converted_as_single_values_are(instants: list[int], calendar: WorkCalendar) -> None:
    work = calendar.work_at(np.array([instants]))
    assert work.tolist() == [[calendar.work_before(one) for one in instants]]
    assert calendar.finish_at(work).tolist() == [[calendar.last_working_moment(one) for one in instants]]


def test_work_counts_stay_valid_when_the_table_grows() -> None:
    calendar = WorkCalendar.of(CREW_WEEK, "America/Chicago")
    now = at(calendar, "2026-03-02 10:00")
    seen = calendar.work_before(now)
    calendar.work_before(at(calendar, "2001-01-01 00:00"))
    calendar.work_before(at(calendar, "2044-01-01 00:00"))
    assert calendar.work_before(now) == seen
    assert calendar.start_of(seen) == now


def test_work_that_never_ends_is_refused() -> None:
    with pytest.raises(CalendarError, match="within 60 years"):
        CREW.add(at(CREW, "2026-01-05 08:00"), DAY * 260 * 70)
    with pytest.raises(CalendarError, match="within 60 years"):
        CREW.add_days(date(2026, 1, 5), -20_000)
    with pytest.raises(CalendarError, match="no such date"):
        CREW.work_before(10**12)


def test_day_and_night_work_time_is_clock_time() -> None:
    always = WorkCalendar.of(ALWAYS, "America/New_York")
    for start in ("2026-03-07 16:00", "2026-10-31 16:00", "2026-12-31 23:59"):
        assert always.add(at(always, start), 1_440) == at(always, start) + 1_440


def test_a_calendar_is_kept() -> None:
    text = '{"week": {"mon": [["08:00", "16:30"]]}}'
    assert calendar_of(text, "America/Chicago") is calendar_of(text, "America/Chicago")


def test_days_are_added_and_counted_both_ways() -> None:
    assert CREW.add_days(date(2026, 12, 5), 0) == date(2026, 12, 7)
    assert CREW.add_days(date(2026, 12, 5), 0, roll="backward") == date(2026, 12, 4)
    assert CREW.count_days(date(2026, 12, 7), date(2026, 12, 4)) == -1
    with pytest.raises(ValueError, match="forward or backward"):
        CREW.add_days(date(2026, 12, 5), 1, roll="sideways")


def test_a_naive_datetime_is_local_and_comes_back() -> None:
    instant = CREW.instant(datetime(2026, 12, 3, 14, 5))
    assert CREW.moment(instant).isoformat() == "2026-12-03T14:05:00-06:00"
    assert CREW.day_of(CREW.day_end(date(2026, 12, 3)) - 1) == date(2026, 12, 3)
    assert CREW.moment(instant).utcoffset() == timedelta(hours=-6)
