"""When a visit can be, in few words: the first day that works for a phase, and the hours of the crew on that day."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from portal.pages.outlook import Outlook
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store.facts import PhaseFact, Snapshot
from portal.words.dates import short_clock

WHOLE, MORNING, AFTERNOON = "whole", "morning", "afternoon"
_NOON = time(12)
_USUAL = (time(8), time(16, 30))
"""Where a day has no hours of work, and its week neither."""
_LOOKED_AHEAD = 14


def first_day(outlook: Outlook, phase: PhaseFact) -> date:
    """The first day on which the phase can begin with the crew's day, by today's plan; of work that has begun, the next
    working day."""
    calendar, booked = outlook.booked.plan.calendar, outlook.booked
    start = booked.now if phase.started_at is not None else booked.of(phase.id).early_start
    day = calendar.add_days(calendar.day_of(start), 0)
    opens = calendar.periods_on(day)[0][0]
    return day if max(start, booked.now) <= opens else calendar.add_days(day, 1)


def bookable(snapshot: Snapshot) -> list[PhaseFact]:
    """Phases that are not done, in the order of the plan."""
    return [phase for phase in snapshot.phases if phase.finished_at is None]


def next_to_book(snapshot: Snapshot, outlook: Outlook) -> PhaseFact | None:
    """What a visit is most likely wanted for: the first to begin that has none ahead."""
    now = outlook.booked.now * 60
    visited = {one.phase_id for one in snapshot.visits if one.ends_at > now}
    waiting = [one for one in bookable(snapshot) if one.id not in visited and one.started_at is None]
    return min(waiting, key=lambda one: (outlook.starts[one.id], one.id), default=None)


def hours_of(calendar: WorkCalendar, day: date) -> dict[str, tuple[datetime, datetime]]:
    """From when to when, by the clock at the house, without offset: the whole day of the crew, its half before noon and
    its half after. A day off has the hours of the next working day."""
    starts, ends = _day_hours(calendar, day)
    noon = datetime.combine(day, _NOON)
    found = {WHOLE: (starts, ends)}
    if starts < noon < ends:
        found |= {MORNING: (starts, noon), AFTERNOON: (noon, ends)}
    return found


def hours_choices(calendar: WorkCalendar, day: date) -> list[tuple[str, str]]:
    """The hours of that day, to be picked from."""
    words = {WHOLE: "All day", MORNING: "Morning", AFTERNOON: "Afternoon"}
    return [
        (key, f"{words[key]}, {short_clock(starts)} to {short_clock(ends)}")
        for key, (starts, ends) in hours_of(calendar, day).items()
    ]  # fmt: skip


def _day_hours(calendar: WorkCalendar, day: date) -> tuple[datetime, datetime]:
    for periods in _periods_from(calendar, day):
        starts, ends = (calendar.moment(one) for one in (periods[0][0], periods[-1][1]))
        till = timedelta(days=(ends.date() - starts.date()).days)  # a day may end at midnight
        return datetime.combine(day, starts.time()), datetime.combine(day + till, ends.time())
    return datetime.combine(day, _USUAL[0]), datetime.combine(day, _USUAL[1])


def _periods_from(calendar: WorkCalendar, day: date) -> Iterator[list[tuple[int, int]]]:
    for ahead in range(_LOOKED_AHEAD):
        if periods := calendar.periods_on(day + timedelta(days=ahead)):
            yield periods
