"""Adding a year of work time, against stepping day by day with `holidays`."""

import sys
from datetime import date, datetime, timedelta

import holidays

from portal.planning.calendar.working_calendar import WorkCalendar
from tests.bench.networks import repeated
from tests.bench.ratios import at_least, closing, in_turn

WEEK = {"week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")},
        "holidays": {"country": "US", "subdivision": "MN"}}
DAY = 510
YEAR = 250 * DAY + 137
OFF = holidays.country_holidays("US", subdiv="MN", years=range(2025, 2029))


def day_by_day(start: date, opened: int, work: int) -> tuple[date, int]:
    """`opened`: minutes worked on the start day. Each day is looked up, full days are counted off."""
    day, left = start, work + opened
    while True:
        if day.weekday() < 5 and day not in OFF:
            if left <= DAY:
                return day, left
            left -= DAY
        day += timedelta(days=1)


def main() -> int:
    calendar = WorkCalendar.of(WEEK, "America/Chicago")
    start = calendar.instant(datetime(2026, 3, 2, 10, 0))
    done = calendar.moment(calendar.add(start, YEAR))
    day, minutes = day_by_day(date(2026, 3, 2), 120, YEAR)
    assert (done.date(), done.hour * 60 + done.minute - 480) == (day, minutes), "both must say the same minute"
    medians = in_turn(15, {
        "table": repeated(lambda: calendar.add(start, YEAR), 1_000),
        "by day": repeated(lambda: day_by_day(date(2026, 3, 2), 120, YEAR), 10),
    })
    return closing([at_least("stepping by day / adding a year of work", medians["by day"] / medians["table"], 20.0)])


if __name__ == "__main__":
    sys.exit(main())
