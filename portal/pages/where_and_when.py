"""Where a phase is and from when to when a visit is, as every page and notice says it."""

from collections.abc import Iterator
from datetime import date, timedelta

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import clock_words, day_words, local, short_clock


def hours_words(visit: VisitFact, zone: str) -> str:
    """Say the hours of a visit by the clocks of the house: `8:00 am to 4:30 pm`; an end on another day is named."""
    starts, ends = local(visit.starts_at, zone), local(visit.ends_at, zone)
    end = clock_words(ends) if starts.date() == ends.date() else f"{day_words(ends.date())}, {clock_words(ends)}"
    return f"{clock_words(starts)} to {end}"


def short_hours(visit: VisitFact, zone: str) -> str:
    """Say the same where there is little room: `8:00 to 4:30`, `8:30 to noon`. Hours at which nobody expects a crew
    keep their half of the day: `6:00 am to 2:30`; so does every hour of a visit that ends on another day."""
    starts, ends = local(visit.starts_at, zone), local(visit.ends_at, zone)
    if starts.date() != ends.date():
        return hours_words(visit, zone)
    return f"{short_clock(starts)} to {short_clock(ends)}"


def days_of(visit: VisitFact, calendar: WorkCalendar) -> Iterator[date]:
    """Give the days that a visit stands at: its first and its last, and the working days between. One that ends at
    midnight does not reach the next."""
    first, last = local(visit.starts_at, calendar.timezone), local(visit.ends_at - 1, calendar.timezone)
    day = first.date()
    while day <= last.date():
        if day in (first.date(), last.date()) or calendar.is_working_day(day):
            yield day
        day += timedelta(days=1)


def in_room(snapshot: Snapshot, phase_id: int | None) -> str:
    """Say the room of a phase after its name: ` (Kitchen)`. Empty for a phase in no room, and for None."""
    phase = next((phase for phase in snapshot.phases if phase.id == phase_id), None)
    return "" if phase is None or phase.room_id is None else f" ({snapshot.room_name(phase.room_id)})"
