"""A working calendar in a few words, for who chooses it: `Mon to Fri 8:00 to 4:30, holidays of Minnesota`."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import Any

from portal.planning.calendar.public_holidays import place_of
from portal.planning.calendar.week import DAYS
from portal.words.dates import short_clock
from portal.words.lists import listed
from portal.words.plurals import counted

Periods = Sequence[Sequence[str]]


def calendar_words(calendar: Mapping[str, Any]) -> str:
    return ", ".join([*_week_words(calendar.get("week") or {}), *_off_words(calendar)])


def _week_words(week: Mapping[str, Periods]) -> Iterator[str]:
    """Days next to each other that are worked alike stand together."""
    for periods, days in groupby(DAYS, lambda day: week.get(day) or []):
        names = [day.capitalize() for day in days]
        if periods:
            span = names[0] if len(names) == 1 else f"{names[0]} {'and' if len(names) == 2 else 'to'} {names[-1]}"
            yield f"{span} {listed(f'{_time(begins)} to {_time(ends)}' for begins, ends in periods)}"


def _off_words(calendar: Mapping[str, Any]) -> Iterator[str]:
    whose = calendar.get("holidays")
    if whose:
        worked = len(whose.get("except") or ())
        but = f" but {worked}" if worked else ""
        yield f"holidays of {place_of(whose['country'], whose.get('subdivision'))}{but}"
    off, other = len(calendar.get("days_off") or ()), len(calendar.get("half_days") or ())
    if off:
        yield counted(off, "other day off", "other days off")
    if other:
        yield counted(other, "day with other hours", "days with other hours")


def _time(text: str) -> str:
    hour, minute = (int(part) for part in text.split(":"))
    return "midnight" if hour in (0, 24) and not minute else short_clock(datetime(2000, 1, 1, hour, minute))
