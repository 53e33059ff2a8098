"""Days and times as sentences of this package say them."""

from datetime import date, datetime


def day_words(day: date) -> str:
    """`Thu Dec 3`."""
    return f"{day:%a} {day:%b} {day.day}"


def moment_words(moment: datetime) -> str:
    """`Thu Dec 3, 2:05 pm`."""
    return f"{day_words(moment)}, {moment.hour % 12 or 12}:{moment:%M} {'am' if moment.hour < 12 else 'pm'}"
