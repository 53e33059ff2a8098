"""When a crew can come: a stretch of clock time within working hours, the house's and its own, free of its other
visits."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.crews.hours import both
from portal.planning.crews.names import crew_key
from portal.planning.schedule.plan import Visit

DAYS_SEARCHED = 400
"""Days looked through for a free time; after that a crew is booked out and someone must call."""


def within_hours(calendar: WorkCalendar, starts: int, ends: int) -> bool:
    """Tell whether an appointment starts at a working moment and ends when work can end (both instants)."""
    return calendar.next_working_moment(starts) == starts and calendar.last_working_moment(ends) == ends


def same_crew(one: Visit, other: Visit) -> bool:
    """Tell whether two visits need the same crew, in any project, whatever name each has for it; a visit without a crew
    is nobody's."""
    return one.id != other.id and bool(one.crew.strip()) and _key(one) == _key(other)


def overlap(one: Visit, other: Visit) -> bool:
    """Tell whether two visits have a minute in common; one may end when the other starts."""
    return one.starts < other.ends and other.starts < one.ends


def first_free_time(calendar: WorkCalendar, visit: Visit, earliest: int, booked: Iterable[Visit]) -> int | None:
    """Give the first start from `earliest` on at which the whole visit fits into one day's hours, the house's and its
    crew's, and its crew is free of what is `booked`."""
    busy = sorted((other.starts, other.ends) for other in booked if same_crew(visit, other))
    return first_free_of(calendar, visit, earliest, busy)


def first_free_of(
    calendar: WorkCalendar, visit: Visit, earliest: int, busy: Sequence[tuple[int, int]]
) -> int | None:
    """The same, of a crew that is `busy` from when to when (instants, in the order of time).

    A visit longer than any day starts at the first working moment at which its crew is free. None: it would fit, but
    the crew is booked out for DAYS_SEARCHED days; or it never works when the house lets it.
    """
    length = visit.ends - visit.starts
    day, fits = calendar.day_of(earliest), False
    first: int | None = None
    for _ in range(DAYS_SEARCHED):
        periods = hours_on(calendar, visit.hours, day)
        fits = fits or bool(periods) and periods[0][0] + length <= periods[-1][1]
        found = _first_on(periods, length, earliest, busy)
        if found is not None:
            return found
        if first is None:
            first = next((max(opens, earliest) for opens, closes in periods if closes > earliest), None)
        day += timedelta(days=1)
    return None if fits or first is None else _free(first, length, busy)


def hours_on(house: WorkCalendar, crew: WorkCalendar | None, day: date) -> list[tuple[int, int]]:
    """Give the periods (instants) of a day in which the house lets the crew work and the crew does."""
    periods = house.periods_on(day)
    return both(periods, crew.periods_on(day)) if crew is not None and periods else periods


def _first_on(
    periods: Sequence[tuple[int, int]], length: int, earliest: int, busy: Sequence[tuple[int, int]]
) -> int | None:
    for opens, closes in periods:
        start = _free(max(opens, earliest), length, busy)
        if start < closes and start + length <= periods[-1][1]:
            return start
    return None


def _free(start: int, length: int, busy: Sequence[tuple[int, int]]) -> int:
    """`busy` in the order of time."""
    for begins, ends in busy:
        if begins < start + length and start < ends:
            start = ends
    return start


def _key(visit: Visit) -> str:
    return visit.key or crew_key(visit.crew)
