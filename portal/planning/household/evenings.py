"""When the household is told of tomorrow: in the evening before, at the end of work, by the clocks of the house."""

from datetime import date, datetime, time, timedelta

from portal.planning.calendar.working_calendar import WorkCalendar

EARLIEST, LATEST = time(16), time(20)
"""Not before what else the day brings is known, and not when people go to bed: common practice."""
MORNING = time(8)
"""The last hour at which what was not told in the evening, or has changed since, is still told."""


def evening(calendar: WorkCalendar, day: date) -> int:
    """Give the instant at which the household is told of the day after: the end of work, within EARLIEST and LATEST; on
    a day without work, the hour at which the last day with some ends."""
    last = calendar.periods_on(calendar.add_days(day, 0, roll="backward"))[-1][1]
    ends = calendar.moment(last)
    at_midnight = ends.time() == time(0)
    return _at(calendar, day, LATEST if at_midnight else min(max(ends.time(), EARLIEST), LATEST))


def told_day(calendar: WorkCalendar, now: int) -> date | None:
    """Give the day that the household is told of at `now` (an instant): tomorrow, from this evening on; today, until
    its MORNING; else None."""
    today = calendar.day_of(now)
    if now >= evening(calendar, today):
        return today + timedelta(days=1)
    return today if now < _at(calendar, today, MORNING) else None


def next_evening(calendar: WorkCalendar, now: int) -> int:
    """Give the next instant after `now` at which the household is told."""
    today = calendar.day_of(now)
    tonight = evening(calendar, today)
    return tonight if now < tonight else evening(calendar, today + timedelta(days=1))


def morning_after(calendar: WorkCalendar, day: date) -> int:
    """Give the instant until which a change of what was told of a day is told in its turn."""
    return _at(calendar, day, MORNING)


def _at(calendar: WorkCalendar, day: date, clock: time) -> int:
    return calendar.instant(datetime.combine(day, clock))
