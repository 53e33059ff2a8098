"""The working calendar: work time added, subtracted, counted to the minute over nights, holidays and clock changes."""

import json
from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from threading import Lock
from typing import Any

from portal.planning.calendar.week import CalendarError, Pattern, read_pattern, read_zone
from portal.planning.calendar.work_table import Instants, WorkCoordinates, WorkTable, build_table, local_instant

YEARS_REACHED = 60
"""Years on either side of the first year asked about. Beyond it the plan is wrong, not far away."""


@lru_cache(maxsize=256)
def calendar_of(json_text: str, timezone: str) -> "WorkCalendar":
    """Give the calendar of a stored JSON text, kept: its tables are costlier than a plan. Raises as
    `WorkCalendar.of`."""
    return WorkCalendar.of(json.loads(json_text), timezone)


class WorkCalendar:
    """Crew hours in one timezone. Instants, work and waits are whole minutes.

    A *working moment* is one at which work can go on: the end of a period is none. Work coordinates (`work_before` and
    its like) count working minutes from an origin of this calendar's own: only differences mean something outside.
    """

    def __init__(self, pattern: Pattern, timezone: str) -> None:
        self.timezone = timezone
        self.zone = read_zone(timezone)
        self._pattern = pattern
        self._kept: WorkTable | None = None
        self._origin = 0
        self._growing = Lock()

    @classmethod
    def of(cls, spec: Mapping[str, Any], timezone: str) -> "WorkCalendar":
        """Read the calendar JSON of a project: `{"week": {"mon": [["08:00", "16:30"]], ...},
        "holidays": {"country", "subdivision", "except": [name]} or null, "days_off": [date],
        "half_days": {date: [[from, to]]}}`.

        Raises CalendarError, which names the field.
        """
        return cls(read_pattern(spec), timezone)

    # Work time.

    def next_working_moment(self, instant: int) -> int:
        """Give the first instant from `instant` on at which work can go on."""
        return self.start_of(self.work_before(instant))

    def last_working_moment(self, instant: int) -> int:
        """Give the latest moment up to `instant` at which work can have ended (an end of a period counts)."""
        return self.finish_of(self.work_before(instant))

    def add(self, instant: int, work: int) -> int:
        """Give the instant at which `work` minutes (above 0) are done that start at `instant` or the next working
        moment.

        Raises CalendarError beyond YEARS_REACHED.
        """
        return self.finish_of(self.work_before(instant) + work)

    def count(self, start: int, end: int) -> int:
        """Count the working minutes from `start` to `end`; negative when `end` is earlier."""
        return self.work_before(end) - self.work_before(start)

    # Work coordinates.

    def work_before(self, instant: int) -> int:
        """Give the work coordinate of an instant. Raises CalendarError beyond YEARS_REACHED."""
        return self._table_to(instant, instant).work_before(instant)

    def start_of(self, work: int) -> int:
        """Give the latest instant with `work` before it: the moment at which the next minute of work is done."""
        return self._table_with(work, work).start_of(work)

    def finish_of(self, work: int) -> int:
        """Give the earliest instant with `work` before it: the moment at which the last minute of work was done."""
        return self._table_with(work, work).finish_of(work)

    def work_at(self, instants: Instants) -> WorkCoordinates:
        """Give `work_before` of each, any shape."""
        if not instants.size:
            return instants
        return self._table_to(int(instants.min()), int(instants.max())).work_at(instants)

    def finish_at(self, work: WorkCoordinates) -> Instants:
        """Give `finish_of` of each, any shape."""
        return self._table_with(int(work.min()), int(work.max())).finish_at(work) if work.size else work

    # Days.

    def is_working_day(self, day: date) -> bool:
        """Tell whether the day has any working time."""
        days = self._table_on(day).days
        at = bisect_left(days, day.toordinal())
        return at < len(days) and days[at] == day.toordinal()

    def add_days(self, day: date, days: int, roll: str = "forward") -> date:
        """Give the day that lies so many working days on (or back, when negative). A day off is first rolled "forward"
        or "backward" to a working day; `days=0` only rolls. The meaning is that of numpy.busday_offset. Raises
        ValueError for another `roll`."""
        if roll not in ("forward", "backward"):
            raise ValueError(f"roll is forward or backward, not {roll!r}")
        table = self._table_on(day)
        while True:
            rolled = _rolled(table.days, day.toordinal(), roll)
            lowest, highest = min(rolled, rolled + days), max(rolled, rolled + days)
            if lowest >= 0 and highest < len(table.days):
                return date.fromordinal(table.days[rolled + days])
            table = self._grown(table.first_year - (lowest < 0), table.last_year + (highest >= len(table.days)))

    def count_days(self, start: date, end: date) -> int:
        """Count the working days from `start` on, `end` not included; negative when `end` is earlier
        (numpy.busday_count)."""
        if end < start:
            return -self.count_days(end + timedelta(days=1), start + timedelta(days=1))
        table = self._table_years(start.year, end.year)
        return bisect_left(table.days, end.toordinal()) - bisect_left(table.days, start.toordinal())

    def day_start(self, day: date) -> int:
        """Give the instant of the local midnight at which the day begins."""
        return local_instant(self.zone, day, 0)

    def day_end(self, day: date) -> int:
        """Give the instant of the local midnight at which the day has ended."""
        return local_instant(self.zone, day, 24 * 60)

    def day_of(self, instant: int) -> date:
        """Give the local date of an instant; midnight belongs to the day that it begins."""
        return self.moment(instant).date()

    def periods_on(self, day: date) -> list[tuple[int, int]]:
        """Give the working periods of a local day, as instants (starts, ends): the hours of a crew on that day."""
        table = self._table_on(day)
        begin, end = self.day_start(day), self.day_end(day)
        found = []
        for at in range(bisect_right(table.starts, begin) - 1, len(table.starts)):
            start, stop = table.starts[at], table.ends[at]
            if start >= end:
                break
            if stop > begin:
                found.append((max(start, begin), min(stop, end)))
        return found

    # Clock.

    def moment(self, instant: int) -> datetime:
        """Give the instant as an aware local datetime."""
        return datetime.fromtimestamp(instant * 60, self.zone)

    def instant(self, moment: datetime) -> int:
        """Give the instant of a moment, seconds cut off; a naive datetime is local wall-clock time (RFC 5545, 3.3.5 in
        gaps and overlaps)."""
        if moment.tzinfo is None:
            moment = moment.replace(tzinfo=self.zone, fold=0)
        return int(moment.timestamp() // 60)

    # The table, grown as far as it is asked about.

    def _table_to(self, low: int, high: int) -> WorkTable:
        table = self._kept
        if table is not None and table.begin <= low and high < table.end:
            return table
        return self._table_years(_year(low), _year(high))

    def _table_on(self, day: date) -> WorkTable:
        return self._table_years(day.year, day.year)

    def _table_with(self, low: int, high: int) -> WorkTable:
        """The table, wide enough for `start_of` and `finish_of` anywhere from `low` to `high`."""
        table = self._kept or self._table_years(1970, 1970)
        while not (table.low < low and high < table.high):
            table = self._grown(table.first_year - (low <= table.low), table.last_year + (high >= table.high))
        return table

    def _table_years(self, first: int, last: int) -> WorkTable:
        table = self._kept
        if table is not None and table.first_year < first and last < table.last_year:
            return table
        # A year more on either side, because a local year is not the UTC year and work goes on past its end.
        return self._grown(first - 1, last + 1)

    def _grown(self, first: int, last: int) -> WorkTable:
        with self._growing:
            table = self._kept
            if table is None:
                self._origin = first + 1
            lowest, highest = max(2, self._origin - YEARS_REACHED), min(9998, self._origin + YEARS_REACHED)
            if first < lowest or last > highest:
                within = f"within {YEARS_REACHED} years of {self._origin}"
                raise CalendarError("calendar", f"has no such working time {within}")
            if table is not None:
                first, last = _further(table, max(lowest, first), min(highest, last))
                first, last = max(lowest, first), min(highest, last)
                if (first, last) == (table.first_year, table.last_year):
                    return table
            self._kept = build_table(self._pattern, self.zone, range(first, last + 1), self._origin)
            return self._kept


def _further(table: WorkTable, first: int, last: int) -> tuple[int, int]:
    """Whoever needs a year more soon needs another: grow by half as much again, so that growing stays cheap."""
    half = (table.last_year - table.first_year + 1) // 2
    return (
        table.first_year if first >= table.first_year else min(first, table.first_year - half),
        table.last_year if last <= table.last_year else max(last, table.last_year + half),
    )


def _rolled(days: list[int], day: int, roll: str) -> int:
    return bisect_left(days, day) if roll == "forward" else bisect_right(days, day) - 1


def _year(instant: int) -> int:
    try:
        return (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(minutes=instant)).year
    except OverflowError as error:
        raise CalendarError("calendar", "has no such date") from error
