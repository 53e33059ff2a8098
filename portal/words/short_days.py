"""Days in words, as short as a drawing has room for."""

from datetime import date


def day_words(day: date) -> str:
    """`Thu Dec 3`."""
    return f"{day:%a} {day:%b} {day.day}"


def span_words(first: date, last: date) -> str:
    """`Thu Dec 3`, or `Thu Dec 3 to Fri Dec 4`."""
    return day_words(first) if first == last else f"{day_words(first)} to {day_words(last)}"
