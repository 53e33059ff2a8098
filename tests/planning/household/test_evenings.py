"""When the household is told of tomorrow."""

from datetime import date

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.evenings import evening, morning_after, next_evening, told_day
from tests.planning.homes import CREW
from tests.planning.houses import ALWAYS, at, says

WEEK = {"mon": [["07:00", "12:00"]], "tue": [["08:00", "21:00"]], "wed": [["08:00", "17:30"]]}
HALF = WorkCalendar.of({"week": WEEK}, "America/Chicago")
NIGHTS = WorkCalendar.of(ALWAYS, "America/Chicago")


@pytest.mark.parametrize(
    ("calendar", "day", "told"),
    [
        (CREW, "2026-12-07", "16:30"),  # a working day: the end of work
        (CREW, "2026-12-06", "16:30"),  # a Sunday: as on the Friday before it
        (CREW, "2026-12-25", "16:30"),  # a holiday
        (HALF, "2026-12-07", "16:00"),  # work ends at noon: the day may bring more
        (HALF, "2026-12-08", "20:00"),  # nobody is told at bedtime
        (HALF, "2026-12-09", "17:30"),
        (HALF, "2026-12-12", "17:30"),
        (NIGHTS, "2026-12-09", "20:00"),  # work goes on to midnight
        (CREW, "2026-11-01", "16:30"),  # the day on which clocks go back
        (CREW, "2026-03-08", "16:30"),  # and on which they go forward
    ],
)
def test_the_evening_is_the_end_of_work_within_waking_hours(calendar: WorkCalendar, day: str, told: str) -> None:
    assert says(calendar, evening(calendar, date.fromisoformat(day))) == f"{day} {told}"


@pytest.mark.parametrize(
    ("now", "day"),
    [("2026-12-06 16:29", None), ("2026-12-06 16:30", "2026-12-07"), ("2026-12-06 23:59", "2026-12-07"),
     ("2026-12-07 07:59", "2026-12-07"), ("2026-12-07 08:00", None), ("2026-12-07 16:30", "2026-12-08")],
)  # fmt: skip
def test_from_the_evening_to_the_morning_there_is_a_day_to_tell_of(now: str, day: str | None) -> None:
    assert told_day(CREW, at(CREW, now)) == (day and date.fromisoformat(day))


def test_the_next_evening_comes_after_now() -> None:
    assert says(CREW, next_evening(CREW, at(CREW, "2026-12-06 16:29"))) == "2026-12-06 16:30"
    assert says(CREW, next_evening(CREW, at(CREW, "2026-12-06 16:30"))) == "2026-12-07 16:30"
    assert says(CREW, morning_after(CREW, date(2026, 12, 7))) == "2026-12-07 08:00"
