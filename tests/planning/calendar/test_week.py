"""The calendar as people write it down."""

from datetime import date

import pytest

from portal.planning.calendar.week import DAYS, CalendarError, Pattern, read_pattern, read_zone
from tests.planning.houses import CREW_WEEK

CHRISTMAS = date(2026, 12, 25)
MORNING, AFTERNOON = (8 * 60, 12 * 60), (12 * 60 + 30, 16 * 60)


def pattern(**more: object) -> Pattern:
    week = {"mon": [["12:30", "16:00"], ["08:00", "12:00"]], "fri": [["07:15", "24:00"]]}
    return read_pattern({"week": week, **more})


def refusal(spec: object) -> CalendarError:
    with pytest.raises(CalendarError) as refused:
        read_pattern(spec)  # type: ignore[arg-type]
    return refused.value


def test_hours_are_read_as_minutes_after_midnight_in_the_order_of_the_day() -> None:
    week = pattern().week
    assert len(week) == len(DAYS) == 7
    assert week[0] == (MORNING, AFTERNOON)
    assert week[4] == ((7 * 60 + 15, 24 * 60),), "a day may end at 24:00"
    assert [week[day] for day in (1, 2, 3, 5, 6)] == [()] * 5


def test_periods_may_touch_but_not_overlap() -> None:
    touching = read_pattern({"week": {"tue": [["08:00", "12:00"], ["12:00", "16:00"]]}})
    assert touching.week[1] == ((480, 720), (720, 960))
    overlapping = refusal({"week": {"tue": [["08:00", "12:01"], ["12:00", "16:00"]]}})
    assert overlapping.message == "periods overlap; let one end before the next starts"


def test_the_most_particular_wins() -> None:
    """A half day before a holiday, a holiday and a day off before the week."""
    given = pattern(days_off=["2026-12-21"], half_days={"2026-12-25": [["08:00", "12:00"]]})
    assert given.periods(date(2026, 12, 14), frozenset()) == (MORNING, AFTERNOON)
    assert given.periods(date(2026, 12, 14), frozenset([date(2026, 12, 14)])) == ()
    assert given.periods(date(2026, 12, 21), frozenset()) == ()
    assert given.periods(CHRISTMAS, frozenset([CHRISTMAS])) == (MORNING,)


def test_a_half_day_may_have_no_hours_at_all() -> None:
    given = pattern(half_days={"2026-12-14": []})
    assert given.periods(date(2026, 12, 14), frozenset()) == ()


def test_dates_may_be_given_as_dates() -> None:
    given = pattern(days_off=[date(2026, 12, 21), "2026-12-28"])
    assert given.days_off == {date(2026, 12, 21), date(2026, 12, 28)}


def test_holidays_are_those_of_country_and_subdivision() -> None:
    """Independence Day is a US holiday (5 U.S.C. 6103); Columbus Day is one, too, but Minnesota has none of that name
    in `holidays`."""
    country = pattern(holidays={"country": "US"}).holidays(2025)
    state = pattern(holidays={"country": "US", "subdivision": "MN"}).holidays(2025)
    assert date(2025, 7, 4) in country and date(2025, 7, 5) not in country
    assert date(2025, 10, 13) in country and date(2025, 10, 13) not in state
    assert pattern().holidays(2025) == pattern(holidays=None).holidays(2025) == frozenset()


def test_a_holiday_that_is_worked_is_a_work_day_with_its_day_in_lieu() -> None:
    some = pattern(holidays={"country": "US", "except": ["Independence Day", "Labor Day"]}).holidays(2026)
    every = pattern(holidays={"country": "US"}).holidays(2026)
    assert every - some == {date(2026, 7, 3), date(2026, 7, 4), date(2026, 9, 7)} and some < every


def test_a_worked_holiday_that_there_is_no_more_frees_no_day_and_the_calendar_is_read() -> None:
    """A list of holidays may change its names under a calendar that is kept."""
    assert pattern(holidays={"country": "US", "except": ["Arbor Day"]}).holidays(2026) == pattern(
        holidays={"country": "US"}).holidays(2026)


def test_a_holiday_on_a_saturday_is_observed_on_the_friday() -> None:
    assert date(2026, 7, 3) in pattern(holidays={"country": "US"}).holidays(2026)


@pytest.mark.parametrize(
    ("spec", "field"),
    [
        ({}, "week"),
        ({"week": {}}, "week"),
        ({"week": None}, "week"),
        ({"week": [["08:00", "16:00"]]}, "week"),
        ({"week": {"mon": []}}, "week"),
        ({"week": {"mon": None}}, "week"),
        ({"week": {"monday": [["08:00", "16:00"]]}}, "week.monday"),
        ({"week": {"mon": [["8:00", "16:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00", "24:01"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00", "25:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:60", "16:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00", 16]]}}, "week.mon"),
        ({"week": {"mon": [["16:00", "08:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00", "08:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00"]]}}, "week.mon"),
        ({"week": {"mon": [["08:00", "12:00", "16:00"]]}}, "week.mon"),
        ({"week": {"mon": "08:00"}}, "week.mon"),
        ({"week": {"mon": {"08:00": "16:00"}}}, "week.mon"),
        ({**CREW_WEEK, "nights": []}, "nights"),
        ({**CREW_WEEK, "holidays": {"country": "XX"}}, "holidays.country"),
        ({**CREW_WEEK, "holidays": {"country": None}}, "holidays.country"),
        ({**CREW_WEEK, "holidays": {"country": "US", "subdivision": "ZZ"}}, "holidays.subdivision"),
        ({**CREW_WEEK, "holidays": {"country": "US", "subdivision": 5}}, "holidays.subdivision"),
        ({**CREW_WEEK, "holidays": {"country": "US", "state": "MN"}}, "holidays"),
        ({**CREW_WEEK, "holidays": "US"}, "holidays"),
        ({**CREW_WEEK, "days_off": ["2026-02-30"]}, "days_off"),
        ({**CREW_WEEK, "days_off": "2026-02-03"}, "days_off"),
        ({**CREW_WEEK, "days_off": 5}, "days_off"),
        ({**CREW_WEEK, "half_days": ["2026-12-24"]}, "half_days"),
        ({**CREW_WEEK, "half_days": {"Christmas": []}}, "half_days"),
        ({**CREW_WEEK, "half_days": {"2026-12-24": [["12:00", "08:00"]]}}, "half_days.2026-12-24"),
        ({**CREW_WEEK, "days_off": ["2026-12-24"], "half_days": {"2026-12-24": [["08:00", "12:00"]]}}, "half_days"),
        ("Monday to Friday", "calendar"),
    ],
)
def test_a_wrong_calendar_is_refused_by_the_name_of_its_field(spec: object, field: str) -> None:
    refused = refusal(spec)
    assert refused.field == field
    assert str(refused) == f"{field}: {refused.message}"


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        ("Monday to Friday", "give an object with a week"),
        ({}, 'give the hours by day, as in {"mon": [["08:00", "16:30"]]}'),
        ({"week": {}}, "has no working time; give at least one day its hours"),
        ({"week": {"someday": []}}, "is no day; use mon, tue, wed, thu, fri, sat, sun"),
        ({"week": {"mon": "08:00"}}, "give a list"),
        ({"week": {"mon": [["08:00"]]}}, 'give each period as ["08:00", "16:30"]'),
        ({"week": {"mon": [["16:00", "08:00"]]}}, "a period ends before it starts: 16:00 to 08:00"),
        ({"week": {"mon": [["8", "16:00"]]}}, "'8' is no time of day; write it like 08:00 (or 24:00 for midnight)"),
        ({**CREW_WEEK, "nights": []}, "is not known here; use week, holidays, days_off, half_days"),
        ({**CREW_WEEK, "holidays": "US"},
         'give null or {"country": "US", "subdivision": "MN", "except": ["Labor Day"]}'),
        ({**CREW_WEEK, "holidays": {"country": "US", "except": "Labor Day"}}, "give a list"),
        ({**CREW_WEEK, "holidays": {"country": "US", "except": [5]}}, "give names of holidays"),
        ({**CREW_WEEK, "holidays": {"country": "XX"}}, "'XX' is not known; use a two-letter code such as US"),
        ({**CREW_WEEK, "holidays": {"country": "US", "subdivision": "ZZ"}}, "'ZZ' is not known in US"),
        ({**CREW_WEEK, "days_off": ["soon"]}, "'soon' is no date; write it like 2026-12-24"),
        ({**CREW_WEEK, "half_days": []}, 'give the hours by date, as in {"2026-12-24": [["08:00", "12:00"]]}'),
        (
            {**CREW_WEEK, "days_off": ["2026-12-24"], "half_days": {"2026-12-24": []}},
            "2026-12-24 is also a day off; keep one of the two",
        ),
    ],
)
def test_a_refusal_says_what_to_write_instead(spec: object, words: str) -> None:
    assert refusal(spec).message == words


@pytest.mark.parametrize("timezone", ["Mars/Olympus", "", "../etc/passwd", "America"])
def test_an_unknown_zone_is_refused(timezone: str) -> None:
    with pytest.raises(CalendarError) as refused:
        read_zone(timezone)
    assert refused.value.field == "timezone"
    assert refused.value.message == f"{timezone!r} is no IANA zone; write one like America/Chicago"


def test_a_zone_is_read_by_its_name() -> None:
    assert str(read_zone("America/Chicago")) == "America/Chicago"
