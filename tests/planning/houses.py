"""Small builders: a plan in as few words as a test needs."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Phase, Plan, Predecessor

WORKDAYS = ("mon", "tue", "wed", "thu", "fri")
CREW_WEEK = {
    "week": {day: [["08:00", "16:30"]] for day in WORKDAYS},
    "holidays": {"country": "US", "subdivision": "MN"},
    "days_off": [],
}
ALWAYS = {"week": {day: [["00:00", "24:00"]] for day in (*WORKDAYS, "sat", "sun")}, "holidays": None, "days_off": []}
DAY = 510
"""Work minutes of a crew's day."""


def at(calendar: WorkCalendar, text: str) -> int:
    """The instant of a local time such as `2026-12-03 08:00`."""
    return calendar.instant(datetime.fromisoformat(text))


def says(calendar: WorkCalendar, instant: int) -> str:
    return f"{calendar.moment(instant):%Y-%m-%d %H:%M}"


def phase(number: int, work: int, after: Iterable[int | tuple[int, int]] = (), **more: object) -> Phase:
    """`after`: ids, or (id, wait in minutes)."""
    links = tuple(Predecessor(*one) if isinstance(one, tuple) else Predecessor(one) for one in after)
    return Phase(number, f"phase {number}", work, work, work, after=links, **more)  # type: ignore[arg-type]


def plan_of(calendar: WorkCalendar, starts: str, phases: Sequence[Phase], **more: object) -> Plan:
    return Plan(tuple(phases), calendar, at(calendar, starts), **more)  # type: ignore[arg-type]


def needed_by(of: Schedule, decision: int) -> date | None:
    return {dates.decision: dates.needed_by for dates in of.decisions}[decision]
