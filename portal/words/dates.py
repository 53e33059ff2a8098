"""Days, times and distances in time, as every page, drawing, refusal and notice says them. Pure."""

from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from portal.words.plurals import counted

FAR = 183
"""From so many days on, about half a year, a day without its year could be taken for another."""

LONGEST_IN_HOURS = 72
"""Waits of more hours are told in days, where they are whole days."""


def seconds(moment: datetime) -> int:
    """Count the whole seconds since 1970-01-01T00:00Z. Raises ValueError for a moment without an offset."""
    if moment.tzinfo is None:
        raise ValueError("a moment without an offset says nothing")
    return int(moment.timestamp())


def local(at: int, zone: str) -> datetime:
    """Show `at` (seconds since 1970-01-01T00:00Z) on the clocks of an IANA time zone, with its offset."""
    return datetime.fromtimestamp(at, ZoneInfo(zone))


def utc_text(at: int) -> str:
    """Write `at` (seconds since 1970-01-01T00:00Z) in UTC as the record does: `2026-12-02T13:30:00Z` (RFC 3339)."""
    return datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def weekday_words(day: date) -> str:
    """Say the day of the week, as short as a column has room for: `Thu`."""
    return f"{day:%a}"


def day_words(day: date) -> str:
    """Say a date: `Thu Dec 3`. The weekday tells the year apart; whole dates are `long_day_words`."""
    return f"{day:%a} {day:%b} {day.day}"


def weekday_and_day(day: date) -> str:
    """Say a date as a heading does: `Thursday, Dec 3`."""
    return f"{day:%A}, {day:%b} {day.day}"


def long_day_words(day: date) -> str:
    """Say a date in full: `Thursday, December 3, 2026`."""
    return f"{day:%A}, {day:%B} {day.day}, {day.year}"


def dated_words(day: date, today: date) -> str:
    """Say a date, with its year where it is FAR from today, before or after: `Thu Dec 3`, `Thu Jun 3, 2027`."""
    return day_words(day) if abs((day - today).days) < FAR else f"{day_words(day)}, {day.year}"


@lru_cache(maxsize=1024)
def near_words(day: date, today: date) -> str:
    """Say a date as `dated_words` does, and that it is today or tomorrow: `today, Wed Dec 2`."""
    near = {today: "today, ", today + timedelta(days=1): "tomorrow, "}.get(day, "")
    return near + dated_words(day, today)


def span_words(first: date, last: date) -> str:
    """Say a stretch of days, both ends included: `Thu Dec 3 to Fri Dec 4`; of one day, `Thu Dec 3`."""
    return day_words(first) if first == last else f"{day_words(first)} to {day_words(last)}"


def short_span_words(first: date, last: date) -> str:
    """Say a stretch of days without their weekdays, the month once where it is one: `Dec 3 to 10`, `Dec 30 to Jan 4`;
    of one day, `Dec 3`."""
    begins = f"{first:%b} {first.day}"
    if first == last:
        return begins
    same = (first.year, first.month) == (last.year, last.month)
    return f"{begins} to {last.day if same else f'{last:%b} {last.day}'}"


def part_of_day(moment: datetime) -> tuple[date, str]:
    """Say by when something is over, as near as anybody counts on it, and on which day: `at noon`. Never earlier than
    the moment: what ends after 6 pm is over the next morning."""
    hour = (moment.hour, moment.minute)
    if hour > (18, 0):
        return moment.date() + timedelta(days=1), "in the morning"
    return moment.date(), "in the morning" if hour <= (8, 0) else "at noon" if hour <= (12, 0) else "in the evening"


def clock_words(moment: datetime) -> str:
    """Say the time of day, to the minute below, on a clock of twelve hours: `2:05 pm`."""
    return f"{moment.hour % 12 or 12}:{moment:%M} {'am' if moment.hour < 12 else 'pm'}"


SURE_HOURS = range(7, 19)
"""Within these hours of the day each one is there but once: 8:00 is the morning's, 4:30 the afternoon's."""


def short_clock(moment: datetime) -> str:
    """Say the time of day where there is little room: `8:00`, `noon`, `6:00 am`."""
    if (moment.hour, moment.minute) == (12, 0):
        return "noon"
    words = clock_words(moment)
    return words.split(" ")[0] if moment.hour in SURE_HOURS else words


def moment_words(moment: datetime) -> str:
    """Say day and time as the moment itself has them, whatever its offset: `Thu Dec 3, 2:05 pm`."""
    return f"{day_words(moment.date())}, {clock_words(moment)}"


def when_words(at: int, zone: str) -> str:
    """Say `at` (seconds since 1970-01-01T00:00Z) by the clocks of an IANA time zone: `Thu Dec 3, 2:05 pm`."""
    return moment_words(local(at, zone))


def working_days(days: int) -> str:
    """Count working days, without a sign: `1 working day`, `2 working days`."""
    return counted(abs(days), "working day")


def time_words(days: int | None) -> str:
    """Say in a sentence what an option does to the time: working days more, or fewer below zero. Empty for None, where
    nothing was said about it."""
    if days is None:
        return ""
    if days == 0:
        return "Does not change the time."
    return f"Takes {working_days(days)} more." if days > 0 else f"Saves {working_days(days)}."


def time_change(days: int | None) -> str:
    """Say the same where there is room for two words: `no change`, `1 working day more`; empty for None."""
    if days is None:
        return ""
    if days == 0:
        return "no change"
    return f"{working_days(days)} {'more' if days > 0 else 'less'}"


def cure_words(least: int | None, most: int | None, more: bool = False) -> str:
    """Say a wait of `least` to `most` hours: `24 hours or more`, `48 to 72 hours`, `7 to 21 days or more`. None: the
    label says it."""
    if least is None or most is None:
        return "as its label says"
    unit, of = ("hour", 1) if most <= LONGEST_IN_HOURS or least % 24 or most % 24 else ("day", 24)
    shortest = "" if least == most else f"{least // of} to "
    return f"{shortest}{counted(most // of, unit)}{' or more' if more else ''}"
