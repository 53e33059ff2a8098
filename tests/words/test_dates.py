"""Days and times as people say them."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from portal.words import dates
from tests.house import at

TODAY = date(2026, 12, 2)


def test_a_day_is_said_with_its_weekday_and_without_a_leading_zero() -> None:
    assert dates.day_words(date(2026, 12, 3)) == "Thu Dec 3"
    assert dates.day_words(date(2027, 2, 28)) == "Sun Feb 28"


def test_a_column_has_room_for_the_day_of_the_week() -> None:
    assert [dates.weekday_words(date(2026, 12, day)) for day in (3, 6)] == ["Thu", "Sun"]


def test_a_day_in_full_has_all_its_words_and_its_year() -> None:
    assert dates.long_day_words(date(2026, 12, 3)) == "Thursday, December 3, 2026"


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 12, 2), "today, Wed Dec 2"), (date(2026, 12, 3), "tomorrow, Thu Dec 3"),
        (date(2026, 12, 1), "Tue Dec 1"), (date(2026, 12, 4), "Fri Dec 4"), (date(2027, 1, 4), "Mon Jan 4"),
        (date(2027, 12, 2), "Thu Dec 2, 2027"), (date(2026, 1, 5), "Mon Jan 5, 2026"),
    ],
)  # fmt: skip
def test_dates_say_what_a_reader_would_ask(day: date, said: str) -> None:
    assert dates.near_words(day, TODAY) == said


@pytest.mark.parametrize("way", [1, -1])
def test_from_half_a_year_on_a_day_names_its_year(way: int) -> None:
    far, near = TODAY + way * timedelta(days=183), TODAY + way * timedelta(days=182)
    assert dates.dated_words(far, TODAY) == f"{dates.day_words(far)}, {far.year}"
    assert dates.dated_words(near, TODAY) == dates.day_words(near)


def test_a_day_that_is_near_is_not_said_to_be_so_where_it_stands_in_a_list() -> None:
    assert dates.dated_words(TODAY, TODAY) == "Wed Dec 2"


def test_a_stretch_of_one_day_is_that_day() -> None:
    assert dates.span_words(date(2026, 12, 3), date(2026, 12, 3)) == "Thu Dec 3"
    assert dates.span_words(date(2026, 12, 31), date(2027, 1, 2)) == "Thu Dec 31 to Sat Jan 2"


@pytest.mark.parametrize(
    ("hour", "minute", "said"),
    [(0, 0, "12:00 am"), (0, 5, "12:05 am"), (9, 30, "9:30 am"), (11, 59, "11:59 am"), (12, 0, "12:00 pm"),
     (13, 7, "1:07 pm"), (23, 59, "11:59 pm")],
)  # fmt: skip
def test_a_clock_has_twelve_hours_and_two_halves(hour: int, minute: int, said: str) -> None:
    assert dates.clock_words(datetime(2026, 12, 3, hour, minute, 59)) == said


def test_a_time_is_said_by_the_clocks_of_the_house() -> None:
    """On Sun Nov 1, 2026 the clocks of America/Chicago go back at 2 am (zoneinfo): 7:30 am UTC is 1:30 am again."""
    moment = int(datetime(2026, 11, 1, 7, 30, tzinfo=UTC).timestamp())
    assert dates.when_words(moment, "America/Chicago") == "Sun Nov 1, 1:30 am"
    assert dates.when_words(moment - 3600, "America/Chicago") == "Sun Nov 1, 1:30 am"
    assert dates.when_words(moment, "Asia/Tokyo") == "Sun Nov 1, 4:30 pm"
    assert dates.local(moment, "America/Chicago").utcoffset() == timedelta(hours=-6)


def test_a_moment_is_said_as_it_is_written_whatever_its_offset() -> None:
    there = datetime(2026, 12, 3, 14, 5, tzinfo=timezone(timedelta(hours=9)))
    assert dates.moment_words(there) == "Thu Dec 3, 2:05 pm"


def test_the_record_writes_utc_with_its_letter() -> None:
    """RFC 3339, 5.6: `Z` for a time in UTC."""
    assert dates.utc_text(0) == "1970-01-01T00:00:00Z"
    assert dates.utc_text(at("2026-12-02T07:30")) == "2026-12-02T13:30:00Z"


def test_seconds_are_whole_and_the_same_wherever_they_are_read() -> None:
    utc = datetime(2026, 12, 2, 13, 30, 0, 999_999, tzinfo=UTC)
    assert dates.seconds(utc) == dates.seconds(utc.astimezone(timezone(timedelta(hours=-6)))) == at("2026-12-02T07:30")


def test_a_moment_without_an_offset_is_no_time() -> None:
    with pytest.raises(ValueError, match="a moment without an offset says nothing"):
        dates.seconds(datetime(2026, 12, 2, 13, 30))


@pytest.mark.parametrize(
    ("days", "said"),
    [(None, ""), (0, "Does not change the time."), (1, "Takes 1 working day more."), (3, "Takes 3 working days more."),
     (-1, "Saves 1 working day."), (-2, "Saves 2 working days.")],
)  # fmt: skip
def test_what_an_option_does_to_the_time_is_said_unless_nothing_is_known(days: int | None, said: str) -> None:
    assert dates.time_words(days) == said


@pytest.mark.parametrize(
    ("days", "said"), [(None, ""), (0, "no change"), (1, "1 working day more"), (-2, "2 working days less")]
)
def test_a_change_of_the_time_in_two_words(days: int | None, said: str) -> None:
    assert dates.time_change(days) == said


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2026, 12, 3), date(2026, 12, 3), "Dec 3"), (date(2026, 12, 3), date(2026, 12, 10), "Dec 3 to 10"),
        (date(2026, 12, 30), date(2027, 1, 4), "Dec 30 to Jan 4"),
        (date(2026, 12, 3), date(2027, 12, 4), "Dec 3 to Dec 4"),
    ],
)  # fmt: skip
def test_a_short_stretch_names_its_month_once(first: date, last: date, said: str) -> None:
    assert dates.short_span_words(first, last) == said
