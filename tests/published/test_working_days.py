"""Working days and holidays against numpy's documented examples and the published lists of federal holidays."""

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.public_holidays import next_holidays
from portal.planning.calendar.working_calendar import WorkCalendar

NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
PLAIN = ("mon", "tue", "wed", "thu", "fri")


def week_of(
    *days: str, days_off: tuple[str, ...] = (), country: str | None = None, worked: Sequence[str] = ()
) -> WorkCalendar:
    spec = {
        "week": {day: [["08:00", "16:00"]] for day in days},
        "holidays": {"country": country, "except": list(worked)} if country else None,
        "days_off": list(days_off),
    }
    return WorkCalendar.of(spec, "UTC")


@pytest.mark.parametrize(
    ("days", "start", "count", "roll", "expected"),
    [
        (PLAIN, "2011-10-01", 0, "forward", "2011-10-03"),
        (PLAIN, "2012-03-01", -1, "forward", "2012-02-29"),
        (("wed",), "2011-01-01", 2, "forward", "2011-01-19"),
        (("sun",), "2012-05-01", 1, "forward", "2012-05-13"),
        (PLAIN, "2011-03-20", 0, "forward", "2011-03-21"),
        (PLAIN, "2011-03-22", 0, "forward", "2011-03-22"),
        (PLAIN, "2011-03-20", 1, "backward", "2011-03-21"),
        (PLAIN, "2011-03-22", 1, "backward", "2011-03-23"),
    ],
)
def test_offsets_are_those_of_the_numpy_docs(
    days: tuple[str, ...], start: str, count: int, roll: str, expected: str
) -> None:
    """numpy.busday_offset, docstring examples (check-values section 2)."""
    found = week_of(*days).add_days(date.fromisoformat(start), count, roll)
    assert found.isoformat() == expected


def test_counts_are_those_of_the_numpy_docs() -> None:
    """numpy.busday_count, docstring examples."""
    plain = week_of(*PLAIN)
    assert plain.count_days(date(2011, 1, 1), date(2011, 2, 1)) == 21
    assert plain.count_days(date(2011, 1, 1), date(2012, 1, 1)) == 260
    assert week_of("sat").count_days(date(2011, 1, 1), date(2012, 1, 1)) == 53


def test_working_days_are_those_of_the_numpy_docs() -> None:
    """numpy.is_busday, docstring example."""
    calendar = week_of(*PLAIN, days_off=("2011-07-01", "2011-07-04", "2011-07-17"))
    days = (date(2011, 7, 1), date(2011, 7, 2), date(2011, 7, 18))
    assert [calendar.is_working_day(day) for day in days] == [False, False, True]


@given(
    days=st.sets(st.sampled_from(NAMES), min_size=1),
    start=st.dates(date(2024, 1, 1), date(2028, 12, 31)),
    count=st.integers(-400, 400),
    roll=st.sampled_from(["forward", "backward"]),
    off=st.lists(st.dates(date(2024, 1, 1), date(2028, 12, 31)), max_size=12),
)
@settings(max_examples=60, deadline=None)
def test_any_week_agrees_with_numpy(
    days: set[str], start: date, count: int, roll: str, off: list[date]
) -> None:
    """numpy.busday_offset and busday_count as independent oracle."""
    calendar = week_of(*days, days_off=tuple(map(str, off)))
    mask = [name in days for name in NAMES]
    expected = np.busday_offset(start, count, roll=roll, weekmask=mask, holidays=off)
    found = calendar.add_days(start, count, roll)
    assert found == expected.astype(date)
    end = start + timedelta(days=count)
    # numpy leaves out the later day of a reversed range, too; we mean the same days.
    low, high = min(start, end), max(start, end)
    assert calendar.count_days(low, high) == np.busday_count(low, high, weekmask=mask, holidays=off)
    assert calendar.count_days(start, end) == np.busday_count(start, end, weekmask=mask, holidays=off)


def weekdays_off(year: int, worked: Sequence[str] = ()) -> list[str]:
    """Mondays to Fridays on which a crew with federal holidays, but for those that are worked, does not work."""
    calendar = week_of(*PLAIN, country="US", worked=worked)
    days = (date(year, 1, 1) + timedelta(days=n) for n in range(365 + (year % 4 == 0)))
    return [f"{day:%m-%d}" for day in days if day.weekday() < 5 and not calendar.is_working_day(day)]


def test_federal_holidays_of_2023_are_observed_in_both_directions() -> None:
    """OPM federal holidays 2023: Jan 2 for a Sunday, Nov 10 for a Saturday (E.O. 11582; 5 U.S.C. 6103(b))."""
    assert weekdays_off(2023) == [
        "01-02", "01-16", "02-20", "05-29", "06-19", "07-04", "09-04", "10-09", "11-10", "11-23", "12-25",
    ]


def test_federal_holidays_of_2024() -> None:
    """US Courts list 2024."""
    assert weekdays_off(2024) == [
        "01-01", "01-15", "02-19", "05-27", "06-19", "07-04", "09-02", "10-14", "11-11", "11-28", "12-25",
    ]


@pytest.mark.parametrize(("worked", "year", "freed"), [
    (["Veterans Day"], 2023, {"11-10"}), (["New Year's Day"], 2023, {"01-02"}),
    (["Columbus Day", "Washington's Birthday"], 2024, {"10-14", "02-19"}), (["Independence Day"], 2026, {"07-03"}),
    (["New Year's Day", "Juneteenth National Independence Day"], 2027, {"01-01", "12-31", "06-18"}),
    (["Christmas Day"], 2027, {"12-24"}),
])
def test_without_its_tick_a_federal_holiday_is_worked_and_so_is_its_day_in_lieu(
    worked: list[str], year: int, freed: set[str]
) -> None:
    """OPM federal holidays 2023, US Courts list 2024, 5 U.S.C. 6103 for 2026 and 2027: all the others stay off."""
    assert set(weekdays_off(year)) - set(weekdays_off(year, worked)) == freed
    assert set(weekdays_off(year, worked)) < set(weekdays_off(year))


def test_the_next_federal_holidays_are_the_eleven_of_the_law_with_their_dates() -> None:
    """OPM federal holidays 2023 (5 U.S.C. 6103(a)): the days off from January 2, Veterans Day on the Friday before."""
    found = [(one.name, f"{one.on:%m-%d}", one.in_lieu) for one in next_holidays("US", None, date(2023, 1, 2))]
    assert found == [
        ("New Year's Day", "01-02", True), ("Martin Luther King Jr. Day", "01-16", False),
        ("Washington's Birthday", "02-20", False), ("Memorial Day", "05-29", False),
        ("Juneteenth National Independence Day", "06-19", False), ("Independence Day", "07-04", False),
        ("Labor Day", "09-04", False), ("Columbus Day", "10-09", False), ("Veterans Day", "11-10", True),
        ("Thanksgiving Day", "11-23", False), ("Christmas Day", "12-25", False),
    ]


def test_in_lieu_days_of_2026_and_2027() -> None:
    """5 U.S.C. 6103: Saturday goes to Friday, Sunday to Monday; New Year 2028 falls on Dec 31, 2027."""
    assert weekdays_off(2026) == [
        "01-01", "01-19", "02-16", "05-25", "06-19", "07-03", "09-07", "10-12", "11-11", "11-26", "12-25",
    ]
    assert weekdays_off(2027) == [
        "01-01", "01-18", "02-15", "05-31", "06-18", "07-05", "09-06", "10-11", "11-11", "11-25", "12-24", "12-31",
    ]


@pytest.mark.parametrize(
    ("start", "days", "expected"),
    [("2026-11-25", 3, "2026-12-01"), ("2026-12-18", 10, "2027-01-05"), ("2026-07-02", 1, "2026-07-06")],
)
def test_around_thanksgiving_and_the_year_end(start: str, days: int, expected: str) -> None:
    """check-values section 2: numpy with the federal holidays of 2026/27."""
    found = week_of(*PLAIN, country="US").add_days(date.fromisoformat(start), days)
    assert found.isoformat() == expected


def test_the_start_day_counts_as_day_one() -> None:
    """CompTIA Project+ study guide, p. 152: three days from Oct 6 are 6, 7 and 8; the next task starts on the 9th."""
    calendar = week_of(*NAMES)
    start = calendar.periods_on(date(2026, 10, 6))[0][0]
    done = calendar.add(start, 3 * 480)
    assert calendar.day_of(done) == date(2026, 10, 8)
    assert calendar.day_of(calendar.next_working_moment(done)) == date(2026, 10, 9)
