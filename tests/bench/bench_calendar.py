"""Adding a year of work time, against stepping day by day with `holidays`: python tests/bench/bench_calendar.py"""

import sys
from datetime import date, datetime, timedelta
from pathlib import Path
from statistics import median
from time import perf_counter

import holidays

sys.path.insert(0, str(Path(__file__).parents[2]))

from portal.planning.calendar import WorkCalendar

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


def main() -> None:
    calendar = WorkCalendar.of(WEEK, "America/Chicago")
    start = calendar.instant(datetime(2026, 3, 2, 10, 0))
    done = calendar.moment(calendar.add(start, YEAR))
    day, minutes = day_by_day(date(2026, 3, 2), 120, YEAR)
    assert (done.date(), done.hour * 60 + done.minute - 480) == (day, minutes), "both must say the same minute"
    fast, slow = [], []
    for _ in range(15):
        begun = perf_counter()
        for _ in range(1_000):
            calendar.add(start, YEAR)
        fast.append((perf_counter() - begun) / 1_000)
        begun = perf_counter()
        for _ in range(10):
            day_by_day(date(2026, 3, 2), 120, YEAR)
        slow.append((perf_counter() - begun) / 10)
    ratio = median(slow) / median(fast)
    print(f"add a year of work time: {median(fast) * 1e6:.2f} us; day by day with holidays: {ratio:.0f} x as long "
          f"(target: at least 20)")


if __name__ == "__main__":
    main()
