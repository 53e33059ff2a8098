"""Times as people of a project read them, and as they send them."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from portal.store.refusals import FieldRefused


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
    """A date as the pages say it: `Thu Dec 3`, the year only when it is not obvious from the weekday."""
    return f"{day:%a} {day:%b} {day.day}"


def when_words(at: int, zone: str) -> str:
    """`Thu Dec 3, 2:05 pm`."""
    moment = local(at, zone)
    return f"{day_words(moment.date())}, {clock_words(moment)}"


def clock_words(moment: datetime) -> str:
    return f"{moment.hour % 12 or 12}:{moment:%M} {'am' if moment.hour < 12 else 'pm'}"


def existing_local(moment: datetime, zone: str, field: str) -> int:
    """The instant of a wall-clock time; one that the change to summer time skips is refused.

    Of a time that occurs twice, the first is meant (RFC 5545, 3.3.5).
    """
    if moment.tzinfo is not None:
        return seconds(moment)
    there = moment.replace(tzinfo=ZoneInfo(zone), fold=0)
    back = there.astimezone(UTC).astimezone(ZoneInfo(zone))
    if back.replace(tzinfo=None) != moment:
        later = back
        raise FieldRefused(
            field, f"{clock_words(moment)} on {day_words(moment.date())} does not exist: the clocks go forward then. "
            f"Did you mean {clock_words(later)}?",
        )
    return seconds(there)
