"""All working time of some years as a table, to be bisected: adding work is two look-ups however far it goes.

Work is counted from the table's origin; years added before the origin count down from zero, so a count stays
valid when the table grows.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta, tzinfo

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.week import Pattern, Period

Instants = NDArray[np.int64]
Interval = tuple[int, int]

_EPOCH = date(1970, 1, 1).toordinal()
_DAY = 24 * 60


@dataclass(frozen=True)
class WorkTable:
    """Working intervals from `first` to `last` year, touching ones joined.

    `starts`, `ends`: instants; `before`: work minutes since the origin at each start; `days`: ordinals of working days;
    `begin`, `end`: instants between which the table speaks; `low`, `high`: its work minutes. `idle_array`: what to add
    to a work coordinate to get the instant, by interval; `since_idle`, `since_done`: the same, and the work done when
    the interval ends, with the time before the first interval as one more in front. `midnights`, `mornings`: instants
    and work coordinates at which the working days begin.
    """

    first: int
    last: int
    begin: int
    end: int
    starts: list[int]
    ends: list[int]
    before: list[int]
    days: list[int]
    low: int
    high: int
    starts_array: Instants = field(repr=False)
    before_array: Instants = field(repr=False)
    idle_array: Instants = field(repr=False)
    since_idle: Instants = field(repr=False)
    since_done: Instants = field(repr=False)
    midnights: Instants = field(repr=False)
    mornings: Instants = field(repr=False)

    def work_before(self, instant: int) -> int:
        at = bisect_right(self.starts, instant) - 1
        if at < 0:
            return self.low
        end = self.ends[at]
        return self.before[at] + (instant if instant < end else end) - self.starts[at]

    def start_of(self, work: int) -> int:
        at = bisect_right(self.before, work) - 1
        return self.starts[at] + work - self.before[at]

    def finish_of(self, work: int) -> int:
        at = bisect_left(self.before, work) - 1
        return self.starts[at] + work - self.before[at]

    def work_at(self, instants: Instants) -> Instants:
        at = self.starts_array.searchsorted(instants, side="right")
        return np.minimum(instants - self.since_idle[at], self.since_done[at])

    def start_at(self, work: Instants) -> Instants:
        return np.asarray(self.idle_array[self.before_array.searchsorted(work, side="right") - 1] + work)

    def finish_at(self, work: Instants) -> Instants:
        return np.asarray(self.idle_array[self.before_array.searchsorted(work, side="left") - 1] + work)


def local_instant(zone: tzinfo, day: date, minute: int) -> int:
    """The instant of a wall-clock time; minute 1440 is the next midnight.

    A time in the gap at the start of summer time takes the offset before the gap; of a time that occurs twice the
    first is meant (RFC 5545, 3.3.5): both are what `fold=0` says.
    """
    wall = datetime(day.year, day.month, day.day) + timedelta(minutes=minute)
    offset = zone.utcoffset(wall)
    assert offset is not None
    return ((wall.toordinal() - _EPOCH) * 86_400 + wall.hour * 3600 + wall.minute * 60 - _seconds(offset)) // 60


def build_table(pattern: Pattern, zone: tzinfo, years: range, origin: int) -> WorkTable:
    """Table of the given years; work is counted from the start of the year `origin`."""
    days: list[int] = []
    midnights: list[int] = []
    intervals: list[Interval] = []
    for year in years:
        for day, opens, closes, periods in _days(pattern, zone, year):
            if periods:
                days.append(day.toordinal())
                midnights.append(opens)
            _append(intervals, _intervals(zone, day, opens, closes, periods))
    begin = local_instant(zone, date(years[0], 1, 1), 0)
    end = local_instant(zone, date(years[-1], 12, 31), _DAY)
    table = _table(years, begin, end, intervals, days, local_instant(zone, date(origin, 1, 1), 0))
    begins = np.array(midnights, np.int64)
    return replace(table, midnights=begins, mornings=table.work_at(begins))


def _days(pattern: Pattern, zone: tzinfo, year: int) -> Iterator[tuple[date, int, int, tuple[Period, ...]]]:
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
        if intervals and start <= intervals[-1][1]:
            start, _ = intervals[-1]
            intervals[-1] = (start, max(end, intervals[-1][1]))
        elif end > start:
            intervals.append((start, end))


def _table(
    years: range, begin: int, end: int, intervals: list[Interval], days: list[int], origin: int
) -> WorkTable:
    starts = [start for start, _ in intervals]
    ends = [end for _, end in intervals]
    before, work = [], 0
    for start, stop in intervals:
        before.append(work)
        work += stop - start
    shift = sum(min(stop, origin) - start for start, stop in intervals if start < origin)
    before = [value - shift for value in before]
    starts_array, before_array = np.array(starts, np.int64), np.array(before, np.int64)
    idle = starts_array - before_array
    done = before_array + np.array(ends, np.int64) - starts_array
    return WorkTable(
        years[0], years[-1], begin, end, starts, ends, before, days, -shift, work - shift,
        starts_array, before_array, idle,
        np.concatenate(([begin + shift], idle)), np.concatenate(([-shift], done)),
        np.empty(0, np.int64), np.empty(0, np.int64),
    )


def _seconds(offset: timedelta) -> int:
    return offset.days * 86_400 + offset.seconds
