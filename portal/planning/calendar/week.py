"""The calendar as people write it down, read strictly: week pattern, half days, days off, public holidays."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from portal.planning.calendar.public_holidays import days_off

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_TIME = re.compile(r"(\d\d):(\d\d)")
_KEYS = ("week", "holidays", "days_off", "half_days")

Period = tuple[int, int]
"""Minutes after local midnight: start, end."""


class CalendarError(ValueError):
    """A calendar that can't be used; `field` names the part, the message says what to do."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Pattern:
    """Which periods are worked on which day. `week`: seven tuples of periods, from Monday on. `country`, `subdivision`:
    whose public holidays are off, as `holidays` names them; None: nobody's. `half_days`: periods by date. `worked`:
    names of public holidays that are worked all the same."""

    week: tuple[tuple[Period, ...], ...]
    country: str | None
    subdivision: str | None
    days_off: frozenset[date]
    half_days: Mapping[date, tuple[Period, ...]]
    worked: frozenset[str] = frozenset()

    def holidays(self, year: int) -> frozenset[date]:
        """Give the public holidays that fall in the year and are off, observed days included (a next New Year's may be
        among them)."""
        if self.country is None:
            return frozenset()
        return days_off(self.country, self.subdivision, year, self.worked)

    def periods(self, day: date, holidays: frozenset[date]) -> tuple[Period, ...]:
        """Give the periods worked on a day; `holidays`: those of its year. A half day is the most particular, so it
        wins over holidays; those win over the week."""
        special = self.half_days.get(day)
        if special is not None:
            return special
        return () if day in self.days_off or day in holidays else self.week[day.weekday()]


def read_pattern(spec: Mapping[str, Any]) -> Pattern:
    """Read `{"week", "holidays", "days_off", "half_days"}`; only `week` is required. Raises CalendarError."""
    if not isinstance(spec, Mapping):
        raise CalendarError("calendar", "give an object with a week")
    for key in spec:
        if key not in _KEYS:
            raise CalendarError(str(key), f"is not known here; use {', '.join(_KEYS)}")
    country, subdivision, worked = _read_holidays(spec.get("holidays"))
    pattern = Pattern(
        week=_read_week(spec.get("week")),
        country=country,
        subdivision=subdivision,
        days_off=frozenset(_read_date("days_off", day) for day in _read_list("days_off", spec.get("days_off"))),
        half_days=_read_half_days(spec.get("half_days")),
        worked=worked,
    )
    both = sorted(pattern.days_off & set(pattern.half_days))
    if both:
        raise CalendarError("half_days", f"{both[0]} is also a day off; keep one of the two")
    return pattern


def read_zone(timezone: str) -> ZoneInfo:
    """Give the zone of an IANA name such as America/Chicago. Raises CalendarError."""
    try:
        return ZoneInfo(timezone)
    except (KeyError, ValueError, TypeError, OSError) as error:
        raise CalendarError("timezone", f"{timezone!r} is no IANA zone; write one like America/Chicago") from error


def _read_week(week: object) -> tuple[tuple[Period, ...], ...]:
    if not isinstance(week, Mapping):
        raise CalendarError("week", 'give the hours by day, as in {"mon": [["08:00", "16:30"]]}')
    for day in week:
        if day not in DAYS:
            raise CalendarError(f"week.{day}", f"is no day; use {', '.join(DAYS)}")
    read = tuple(_read_periods(f"week.{day}", week.get(day, [])) for day in DAYS)
    if not any(read):
        raise CalendarError("week", "has no working time; give at least one day its hours")
    return read


def _read_half_days(half_days: object) -> dict[date, tuple[Period, ...]]:
    if half_days is None:
        return {}
    if not isinstance(half_days, Mapping):
        raise CalendarError("half_days", 'give the hours by date, as in {"2026-12-24": [["08:00", "12:00"]]}')
    return {
        _read_date("half_days", day): _read_periods(f"half_days.{day}", hours) for day, hours in half_days.items()
    }


def _read_holidays(given: object) -> tuple[str | None, str | None, frozenset[str]]:
    """Country, subdivision and the names of holidays that are worked. A name that a later list of holidays has no more
    is kept: it frees no day."""
    if given is None:
        return None, None, frozenset()
    if not isinstance(given, Mapping) or not set(given) <= {"country", "subdivision", "except"}:
        raise CalendarError("holidays", 'give null or {"country": "US", "subdivision": "MN", "except": ["Labor Day"]}')
    country, subdivision = given.get("country"), given.get("subdivision")
    import holidays  # see public_holidays: only once a project has any

    if not isinstance(country, str) or country not in holidays.list_supported_countries():
        raise CalendarError("holidays.country", f"{country!r} is not known; use a two-letter code such as US")
    try:
        holidays.country_holidays(country, subdiv=subdivision)
    # `holidays` raises the first for a subdivision that it does not know, the others for one that is no text.
    except (NotImplementedError, TypeError, AttributeError) as error:
        raise CalendarError("holidays.subdivision", f"{subdivision!r} is not known in {country}") from error
    names = _read_list("holidays.except", given.get("except"))
    if not all(isinstance(name, str) for name in names):
        raise CalendarError("holidays.except", "give names of holidays")
    return country, subdivision, frozenset(map(str, names))


def _read_list(field: str, given: object) -> Sequence[object]:
    if given is None:
        return ()
    if isinstance(given, str) or not isinstance(given, Sequence):
        raise CalendarError(field, "give a list")
    return given


def _read_date(field: str, given: object) -> date:
    if isinstance(given, date):
        return given
    try:
        return date.fromisoformat(str(given))
    except ValueError as error:
        raise CalendarError(field, f"{given!r} is no date; write it like 2026-12-24") from error


def _read_periods(field: str, given: object) -> tuple[Period, ...]:
    periods = sorted(_read_period(field, period) for period in _read_list(field, given))
    for (_, end), (start, _) in zip(periods, periods[1:], strict=False):
        if start < end:
            raise CalendarError(field, "periods overlap; let one end before the next starts")
    return tuple(periods)


def _read_period(field: str, given: object) -> Period:
    pair = _read_list(field, given)
    if len(pair) != 2:
        raise CalendarError(field, 'give each period as ["08:00", "16:30"]')
    start, end = (_read_time(field, time) for time in pair)
    if end <= start:
        raise CalendarError(field, f"a period ends before it starts: {pair[0]} to {pair[1]}")
    return start, end


def _read_time(field: str, given: object) -> int:
    match = _TIME.fullmatch(given) if isinstance(given, str) else None
    minutes = int(match[1]) * 60 + int(match[2]) if match else -1
    if match is None or int(match[2]) > 59 or not 0 <= minutes <= 24 * 60:
        raise CalendarError(field, f"{given!r} is no time of day; write it like 08:00 (or 24:00 for midnight)")
    return minutes
