"""The week of the crews in words: who is where, who is at two houses at once, who is free."""

from collections.abc import Sequence
from datetime import datetime

from portal.planning.conflicts.crew_days import PLANNED, RUNNING, VISIT, Clash, Stretch
from portal.store.reading.crews.week import CrewsAhead, WeekHouse
from portal.words.dates import clock_words, day_words, local, when_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted, plural

_KINDS = {VISIT: "", RUNNING: ", at work", PLANNED: ", planned and not booked"}
_NAMED = 4
"""Days of a clash that are named; of more it says how many."""


def short_hours(starts: datetime, ends: datetime) -> tuple[str, str]:
    """`8` and `12`, `7:30` and `4:30`: on a clock of twelve hours, as short as a column has room for."""
    first, last = (f"{one.hour % 12 or 12}{f':{one:%M}' if one.minute else ''}" for one in (starts, ends))
    return first, last


def entry_words(house: WeekHouse, one: Stretch, doubled: bool) -> str:
    starts, ends = (local(at * 60, house.timezone) for at in (one.starts, one.ends))
    said = f"{day_words(starts.date())}, {clock_words(starts)} to {clock_words(ends)}: {house.name}, {one.name}"
    said += _KINDS[one.kind]
    said += f", held until {until_words(one)}" if one.held else ", can’t be kept" if one.unkept else ""
    return f"{said}, at two houses at once." if doubled else f"{said}."


def until_words(one: Stretch) -> str:
    """What a held stretch waits for."""
    which = listed(f"decision {number}" for number in one.numbers)
    missing = f"{which} {plural(len(one.numbers), 'is', 'are')} approved" if which else ""
    asked = f"we have asked {quoted(one.unasked)}" if one.unasked else ""
    return listed(filter(None, [missing, asked])) or "an answer comes"


def then_words(first: str, second: str) -> str:
    """Two works of one crew in one house, one after the other."""
    return f"{first}, then {second}"


def clash_words(ahead: CrewsAhead, clash: Clash, fits: int | None) -> str:
    """What `easy` could be moved to is said where something was found."""
    firm, easy = clash.one, clash.other
    zone = ahead.houses[easy.project].timezone
    kinds = [f"{ahead.houses[one.project].name} ({_is(one)})" for one in (firm, easy)]
    free = f" Free for {ahead.houses[easy.project].name}: {when_words(fits * 60, zone)}." if fits is not None else ""
    return f"{_days(clash, zone)}, at {listed(kinds)}.{free}"


def _days(clash: Clash, zone: str) -> str:
    days = [day_words(day) for day in dict.fromkeys(local(at * 60, zone).date() for at in clash.begins)]
    more = len(days) - _NAMED
    return listed([*days[:_NAMED], counted(more, "more day")] if more > 1 else days)


def free_words(names: Sequence[str]) -> str:
    return f"Free all week: {', '.join(names)}." if names else ""


def _is(one: Stretch) -> str:
    return {VISIT: "booked", RUNNING: "at work", PLANNED: "planned"}[one.kind]
