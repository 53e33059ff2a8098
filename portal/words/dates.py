"""Times in words, as every page, refusal and notice says them. Pure."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo


def seconds(moment: datetime) -> int:
    """Whole seconds since 1970-01-01T00:00Z. The moment must carry its offset."""
    if moment.tzinfo is None:
        raise ValueError("a moment without an offset says nothing")
    return int(moment.timestamp())


def local(at: int, zone: str) -> datetime:
    return datetime.fromtimestamp(at, ZoneInfo(zone))


def utc_text(at: int) -> str:
    """RFC 3339 in UTC, as the record writes it."""
    return datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def day_words(day: date) -> str:
    """A date as the pages say it: `Thu Dec 3`. The weekday tells the year apart; whole dates are `long_day_words`."""
    return f"{day:%a} {day:%b} {day.day}"


def long_day_words(day: date) -> str:
    """`Thursday, December 3, 2026`."""
    return f"{day:%A}, {day:%B} {day.day}, {day.year}"


def when_words(at: int, zone: str) -> str:
    """`Thu Dec 3, 2:05 pm`."""
    moment = local(at, zone)
    return f"{day_words(moment.date())}, {clock_words(moment)}"


def clock_words(moment: datetime) -> str:
    return f"{moment.hour % 12 or 12}:{moment:%M} {'am' if moment.hour < 12 else 'pm'}"
