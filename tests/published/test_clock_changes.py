"""Work and waits over the changes to and from summer time (RFC 5545)."""

from datetime import UTC, date, datetime

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def new_york(*hours: list[str]) -> WorkCalendar:
    return WorkCalendar.of({"week": {day: list(hours) for day in DAYS}}, "America/New_York")


def utc(calendar: WorkCalendar, local: datetime) -> str:
    return datetime.fromtimestamp(calendar.instant(local) * 60, UTC).strftime("%H:%MZ")


def test_a_local_time_in_the_gap_uses_the_offset_before_it() -> None:
    """RFC 5545, 3.3.5: 2007-03-11T02:30 in New York is 03:30 EDT, 07:30Z."""
    calendar = new_york(["08:00", "16:00"])
    assert utc(calendar, datetime(2007, 3, 11, 2, 30)) == "07:30Z"
    assert calendar.moment(calendar.instant(datetime(2007, 3, 11, 2, 30))).strftime("%H:%M %Z") == "03:30 EDT"


def test_a_local_time_that_occurs_twice_means_the_first() -> None:
    """RFC 5545, 3.3.5: 2007-11-04T01:30 in New York is EDT, 05:30Z."""
    assert utc(new_york(["08:00", "16:00"]), datetime(2007, 11, 4, 1, 30)) == "05:30Z"


@pytest.mark.parametrize(
    ("hours", "start", "end"),
    [
        (24, "2026-03-07 16:00", "2026-03-08 17:00"),
        (24, "2026-10-31 16:00", "2026-11-01 15:00"),
        (72, "2026-03-07 16:00", "2026-03-10 17:00"),
    ],
)
def test_a_cure_is_elapsed_time(hours: int, start: str, end: str) -> None:
    """RFC 5545, 3.3.6: PT24H is exact, unlike P1D; New York changes on Mar 8 and Nov 1, 2026 (tzdata)."""
    calendar = new_york(["08:00", "16:00"])
    cured = calendar.instant(datetime.fromisoformat(start)) + hours * 60
    assert f"{calendar.moment(cured):%Y-%m-%d %H:%M}" == end


@pytest.mark.parametrize(
    ("day", "minutes"),
    [(date(2026, 3, 7), 360), (date(2026, 3, 8), 300), (date(2026, 10, 31), 360), (date(2026, 11, 1), 420)],
)
def test_a_night_shift_loses_or_gains_the_hour(day: date, minutes: int) -> None:
    """Midnight to six is five hours when the clocks go forward and seven when they go back (tzdata)."""
    calendar = new_york(["00:00", "06:00"])
    assert calendar.count(calendar.day_start(day), calendar.day_end(day)) == minutes


def test_a_period_inside_the_gap_moves_behind_it() -> None:
    """02:00 to 03:00 EST does not exist on Mar 8, 2026: by the offset before the gap it is 03:00 to 04:00 EDT, but its
    end, 03:00, exists and is EDT, so nothing is left of the period."""
    calendar = new_york(["02:00", "03:00"])
    assert calendar.periods_on(date(2026, 3, 8)) == []
    assert len(calendar.periods_on(date(2026, 3, 9))) == 1


@pytest.mark.parametrize("days", [(date(2026, 3, 6), date(2026, 3, 10)), (date(2026, 10, 30), date(2026, 11, 3))])
def test_a_day_shift_does_not_feel_the_change(days: tuple[date, date]) -> None:
    calendar = new_york(["08:00", "16:00"])
    start = calendar.periods_on(days[0])[0][0]
    assert f"{calendar.moment(calendar.add(start, 5 * 480)):%Y-%m-%d %H:%M}" == f"{days[1]} 16:00"
