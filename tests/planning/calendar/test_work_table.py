"""All working time of some years as a table."""

from datetime import date
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from portal.planning.calendar.week import read_pattern
from portal.planning.calendar.work_table import WorkTable, build_table, local_instant

CHICAGO, UTC = ZoneInfo("America/Chicago"), ZoneInfo("UTC")
DAY = 24 * 60
# Instants are minutes since 1970; 2026 begins 20,454 days later: 56 * 365 + 14 leap days.
NEW_YEAR = 20_454 * DAY
MONDAYS = read_pattern({"week": {"mon": [["08:00", "12:00"], ["13:00", "16:00"]]}})
# January 5 is the first Monday of 2026; a Monday has 7 hours of work.
FIRST_MONDAY = NEW_YEAR + 4 * DAY


def mondays(years: range = range(2026, 2027), origin: int = 2026) -> WorkTable:
    return build_table(MONDAYS, UTC, years, origin)


def test_a_table_speaks_of_whole_local_years() -> None:
    table = build_table(MONDAYS, CHICAGO, range(2026, 2028), 2026)
    assert (table.first_year, table.last_year) == (2026, 2027)
    assert table.begin == NEW_YEAR + 6 * 60, "midnight in Chicago is 6 am in UTC"
    assert table.end == table.begin + (365 + 365) * DAY


def test_days_are_the_working_ones() -> None:
    days = [date.fromordinal(day) for day in mondays().days]
    assert days[:2] == [date(2026, 1, 5), date(2026, 1, 12)]
    assert len(days) == 52 and {day.weekday() for day in days} == {0}


@pytest.mark.parametrize(
    ("minute", "worked"),
    [
        (0, 0), (480, 0), (481, 1), (720, 240), (750, 240), (780, 240), (781, 241), (960, 420), (1_439, 420),
        (7 * DAY + 480, 420), (7 * DAY + 490, 430),
    ],
)
def test_work_is_counted_from_the_origin(minute: int, worked: int) -> None:
    """`minute` after midnight of the first Monday: four hours until noon, three from one to four."""
    table = mondays()
    assert table.work_before(FIRST_MONDAY + minute) == worked
    assert table.work_at(np.array([FIRST_MONDAY + minute])).tolist() == [worked]


@pytest.mark.parametrize(
    ("work", "starts", "finishes"),
    [
        (1, 481, 481), (239, 719, 719),
        (240, 780, 720),  # the next minute is worked after the break, the last one was before it
        (241, 781, 781), (420, 7 * DAY + 480, 960),
    ],
)
def test_a_count_is_turned_back_into_an_instant_from_either_side(work: int, starts: int, finishes: int) -> None:
    table = mondays()
    assert table.start_of(work) - FIRST_MONDAY == starts
    assert table.finish_of(work) - FIRST_MONDAY == finishes
    assert (table.finish_at(np.array([[work]])) - FIRST_MONDAY).tolist() == [[finishes]]


def test_years_before_the_origin_count_down_from_zero() -> None:
    both, later = mondays(range(2025, 2027)), mondays()
    assert both.work_before(FIRST_MONDAY + 600) == later.work_before(FIRST_MONDAY + 600) == 120
    assert both.low == -52 * 420, "2025 has 52 Mondays"
    assert both.high == later.high == 52 * 420
    assert (both.low, later.low) == (both.work_before(both.begin), later.work_before(later.begin))


def test_work_that_goes_over_the_turn_of_the_origin_year_is_shared() -> None:
    """Day and night: half of the two days around the turn lies before it."""
    always = read_pattern({"week": {day: [["00:00", "24:00"]] for day in ("mon", "tue", "wed", "thu", "fri")}})
    table = build_table(always, UTC, range(2025, 2027), 2026)
    assert table.work_before(NEW_YEAR) == 0
    assert table.work_before(NEW_YEAR - DAY) == -DAY, "December 31, 2025 is a Wednesday"
    assert table.work_before(NEW_YEAR + DAY) == DAY


def test_touching_intervals_are_one() -> None:
    days = read_pattern({"week": {"fri": [["20:00", "24:00"]], "sat": [["00:00", "02:00"], ["02:00", "03:00"]]}})
    table = build_table(days, UTC, range(2026, 2027), 2026)
    lengths = {end - start for start, end in zip(table.starts[1:], table.ends[1:], strict=True)}
    assert lengths == {7 * 60}


def test_the_first_interval_is_empty_so_that_everything_has_one_before_it() -> None:
    table = mondays()
    assert (table.starts[0], table.ends[0], table.worked[0]) == (table.begin, table.begin, 0)
    assert table.work_before(table.begin) == 0


def test_a_year_without_work_has_a_table_all_the_same() -> None:
    closed = read_pattern({
        "week": {"mon": [["08:00", "16:00"]]},
        "days_off": [date.fromordinal(day).isoformat() for day in mondays().days],
    })
    table = build_table(closed, UTC, range(2026, 2027), 2026)
    assert (table.low, table.high, table.days) == (0, 0, [])
    assert table.work_before(FIRST_MONDAY + 600) == 0
    assert table.work_at(np.array([NEW_YEAR, table.end])).tolist() == [0, 0]


@pytest.mark.parametrize(
    ("day", "minute", "hour_of_utc"),
    [
        (date(2026, 1, 1), 0, "06:00"),
        (date(2026, 7, 1), 90, "06:30"),
        (date(2026, 7, 1), 1440, "05:00"),  # the next midnight
        (date(2026, 3, 8), 150, "08:30"),  # 2:30 does not exist: the offset before the gap, -6
        (date(2026, 11, 1), 90, "06:30"),  # 1:30 comes twice: the first, -5
    ],
)
def test_a_local_time_is_an_instant(day: date, minute: int, hour_of_utc: str) -> None:
    hours, minutes = divmod(local_instant(CHICAGO, day, minute) % DAY, 60)
    assert f"{hours:02}:{minutes:02}" == hour_of_utc


def test_the_hour_that_a_clock_change_takes_away_is_not_worked() -> None:
    """Chicago skips 2 to 3 am on March 8, 2026 (tzdata): of midnight to six, five hours are left."""
    nights = read_pattern({"week": {"sun": [["00:00", "06:00"]]}})
    table = build_table(nights, CHICAGO, range(2026, 2027), 2026)
    lengths = {
        date.fromordinal(day): end - start
        for day, start, end in zip(table.days, table.starts[1:], table.ends[1:], strict=True)
    }
    assert lengths.pop(date(2026, 3, 8)) == 5 * 60
    assert lengths.pop(date(2026, 11, 1)) == 7 * 60
    assert set(lengths.values()) == {6 * 60}


def test_a_period_that_lies_in_the_skipped_hour_vanishes() -> None:
    lost = read_pattern({"week": {"sun": [["02:00", "03:00"]]}})
    table = build_table(lost, CHICAGO, range(2026, 2027), 2026)
    assert len(table.starts) - 1 == len(table.days) - 1 == 51
