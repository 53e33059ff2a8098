"""All working time of some years as a table, to be bisected: adding work is two look-ups however far it goes.

Work is counted from the table's origin; years added before the origin count down from zero, so a count stays
valid when the table grows. Stepping day by day instead takes twenty times as long (tests/bench/bench_calendar.py).
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.week import Pattern, Period

Instants = NDArray[np.int64]
"""Instants, in an array of any shape."""
WorkCoordinates = NDArray[np.int64]
"""Work minutes since the table's origin, in an array of any shape."""
Interval = tuple[int, int]
"""Working time without a break: instants at which it starts and ends."""

_EPOCH = datetime(1970, 1, 1)
_MINUTE = timedelta(minutes=1)
_DAY = 24 * 60


@dataclass(frozen=True)
class WorkTable:
    """Working intervals of the local years `first_year` to `last_year`, in the order of time, touching ones joined.

    `begin`, `end`: instants between which the table speaks. `starts`, `ends`: instants of each interval; `worked`: the
    work coordinate at each start. The first interval is empty and stands at `begin`, so that whatever is looked up has
    one before it. `days`: ordinals of the days with working time.
    """

    first_year: int
    last_year: int
    begin: int
    end: int
    starts: list[int]
    ends: list[int]
    worked: list[int]
    days: list[int]

    @cached_property
    def low(self) -> int:
        """Work coordinate at which the table begins."""
        return self.worked[0]

    @cached_property
    def high(self) -> int:
        """Work coordinate at which the table ends."""
        return self.worked[-1] + self.ends[-1] - self.starts[-1]

    def work_before(self, instant: int) -> int:
        """Give the work coordinate of an instant from `begin` to `end`."""
        at = bisect_right(self.starts, instant) - 1
        return self.worked[at] + min(instant, self.ends[at]) - self.starts[at]

    def start_of(self, work: int) -> int:
        """Give the latest instant with `work` before it; `work` from `low` to below `high`."""
        at = bisect_right(self.worked, work) - 1
        return self.starts[at] + work - self.worked[at]

    def finish_of(self, work: int) -> int:
        """Give the earliest instant with `work` before it; `work` from above `low` to `high`."""
        at = bisect_left(self.worked, work) - 1
        return self.starts[at] + work - self.worked[at]

    def work_at(self, instants: Instants) -> WorkCoordinates:
        """Give `work_before` of each, in the same shape."""
        starts, ends, worked = self._columns
        at = starts.searchsorted(instants, side="right") - 1
        return worked[at] + np.minimum(instants, ends[at]) - starts[at]

    def finish_at(self, work: WorkCoordinates) -> Instants:
        """Give `finish_of` of each, in the same shape."""
        starts, _, worked = self._columns
        at = worked.searchsorted(work, side="left") - 1
        return starts[at] + work - worked[at]

    @cached_property
    def _columns(self) -> tuple[Instants, Instants, WorkCoordinates]:
        """Starts, ends and work coordinates as arrays. The lists stay beside them: of a single value, `bisect` over a
        list takes a fifth of what numpy takes."""
        return np.array(self.starts, np.int64), np.array(self.ends, np.int64), np.array(self.worked, np.int64)


def local_instant(zone: tzinfo, day: date, minute: int) -> int:
    """Give the instant of a wall-clock time: `minute` after local midnight, of which 1440 is the next midnight.

    A time in the gap at the start of summer time takes the offset before the gap; of a time that occurs twice the
    first is meant (RFC 5545, 3.3.5): both are what `fold=0` says.
    """
    wall = datetime(day.year, day.month, day.day) + timedelta(minutes=minute)
    offset = zone.utcoffset(wall)
    assert offset is not None
    return (wall - _EPOCH - offset) // _MINUTE


def build_table(pattern: Pattern, zone: tzinfo, years: range, origin: int) -> WorkTable:
    """Build the table of the given local years; work is counted from the start of the year `origin`, which is one of
    them."""
    days: list[int] = []
    begin = local_instant(zone, date(years[0], 1, 1), 0)
    intervals: list[Interval] = [(begin, begin)]
    for year in years:
        for day, opens, closes, periods in _days(pattern, zone, year):
            if periods:
                days.append(day.toordinal())
            _append(intervals, _intervals(zone, day, opens, closes, periods))
    end = local_instant(zone, date(years[-1], 12, 31), _DAY)
    starts, ends = [start for start, _ in intervals], [end for _, end in intervals]
    worked = _worked(intervals, local_instant(zone, date(origin, 1, 1), 0))
    return WorkTable(years[0], years[-1], begin, end, starts, ends, worked, days)


def _days(pattern: Pattern, zone: tzinfo, year: int) -> Iterator[tuple[date, int, int, tuple[Period, ...]]]:
    """Each day of the year, the instants of its two midnights, and its working periods."""
    holidays = pattern.holidays(year)
    first = date(year, 1, 1).toordinal()
    opens = local_instant(zone, date(year, 1, 1), 0)
    for ordinal in range(first, date(year, 12, 31).toordinal() + 1):
        day = date.fromordinal(ordinal)
        closes = local_instant(zone, day, _DAY)
        yield day, opens, closes, pattern.periods(day, holidays)
        opens = closes


def _intervals(
    zone: tzinfo, day: date, opens: int, closes: int, periods: tuple[Period, ...]
) -> Iterator[Interval]:
    if closes - opens == _DAY:
        return ((opens + start, opens + end) for start, end in periods)
    # The clocks change on this day.
    return ((local_instant(zone, day, start), local_instant(zone, day, end)) for start, end in periods)


def _append(intervals: list[Interval], more: Iterator[Interval]) -> None:
    """Joins touching intervals; the hour that a clock change takes away makes some overlap or vanish."""
    for start, end in more:
        if start <= intervals[-1][1]:
            intervals[-1] = (intervals[-1][0], max(end, intervals[-1][1]))
        elif end > start:
            intervals.append((start, end))


def _worked(intervals: list[Interval], origin: int) -> list[int]:
    """The work coordinate at the start of each interval: work minutes since `origin`, an instant."""
    worked = []
    work = -sum(min(end, origin) - start for start, end in intervals if start < origin)
    for start, end in intervals:
        worked.append(work)
        work += end - start
    return worked
