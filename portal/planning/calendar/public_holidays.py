"""Public holidays of a country or a state, by name: on which days they are off, and when each comes next.

A day in lieu (Friday, July 3 for a July 4 on a Saturday) goes by the name of its holiday.
"""

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

# By which `holidays` marks a day in lieu.
_IN_LIEU = " (observed)"
_LIES_NEAR = timedelta(days=4)
"""A day in lieu lies nearer to its holiday than this."""
_ZIP = re.compile(r"[ ,]+[0-9]{5}(-[0-9]{4})?$")
_YEARS_AHEAD = 4
"""The rarest come every four years, such as the inauguration in the District of Columbia."""


@dataclass(frozen=True, slots=True)
class NextHoliday:
    """A public holiday by `name`, and the next day on which it is off: its day in lieu where it has one, so that
    `in_lieu` is true, else its own date."""

    name: str
    on: date
    in_lieu: bool = False


def days_off(country: str, subdivision: str | None, year: int, worked: Collection[str] = ()) -> frozenset[date]:
    """Give the days of the year that are public holidays, days in lieu included (a next New Year's may be among them),
    without those on which only holidays in `worked`, by name, fall."""
    return frozenset(
        day for day, names in _named(country, subdivision, [year]) if not {_own(name) for name in names} <= set(worked)
    )


def names_of(country: str, subdivision: str | None, days: Collection[date]) -> dict[date, str]:
    """Name those of the days that are public holidays; a day in lieu goes by the name of its holiday."""
    years = sorted({day.year for day in days})
    return {day: _own(names[0]) for day, names in _named(country, subdivision, years) if day in days}


def place_of(country: str, subdivision: str | None) -> str:
    """Name whose holidays they are, as people call it: `Minnesota`; by its code where `holidays` has no name for it."""
    import holidays

    if subdivision is None:
        return country
    aliases = getattr(getattr(holidays, country, None), "subdivisions_aliases", {})
    return next((name for name, code in aliases.items() if code == subdivision), f"{country}, {subdivision}")


def next_holidays(country: str, subdivision: str | None, today: date) -> tuple[NextHoliday, ...]:
    """Give each public holiday with its next day from today on, the nearest first."""
    found: dict[str, NextHoliday] = {}
    years = range(today.year, today.year + _YEARS_AHEAD + 1)
    coming = sorted((day, name) for day, names in _named(country, subdivision, years) for name in names if day >= today)
    for day, name in coming:
        own, in_lieu = _own(name), name != _own(name)
        before = found.setdefault(own, NextHoliday(own, day, in_lieu))
        if in_lieu and day - before.on <= _LIES_NEAR:
            found[own] = NextHoliday(own, day, in_lieu)
    return tuple(sorted(found.values(), key=lambda one: one.on))


def _own(name: str) -> str:
    return name.removesuffix(_IN_LIEU)


def _named(country: str, subdivision: str | None, years: Sequence[int]) -> Iterator[tuple[date, tuple[str, ...]]]:
    """Each public holiday and day in lieu of the years with its names."""
    # Imported here: 10 MiB that a worker only needs once a project has holidays.
    import holidays

    found = holidays.country_holidays(country, subdiv=subdivision, years=years)
    for day in found:
        yield day, tuple(found.get_list(day))


def holidays_at(address: str) -> dict[str, str] | None:
    """Whose public holidays a firm most likely goes by: those of the state of the United States with which its address
    ends, by name or in two letters, a ZIP code after it or not. None where it names none."""
    import holidays  # as above

    last = _ZIP.sub("", address.strip()).rstrip(", ")
    for name, state in sorted(holidays.US.subdivisions_aliases.items(), key=lambda one: -len(one[0])):
        if last.endswith(f", {state}") or last.lower().endswith(f" {name.lower()}"):
            return {"country": "US", "subdivision": state}
    return None
