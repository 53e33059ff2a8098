"""Reminders: once, two working days before an answer is needed, in the morning.

A project is looked at after each change and once a day: nothing else moves the day of a reminder closer.
"""

import logging
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from portal.notices.asking import waits_for
from portal.pages.outlook import outlook_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.words.dates import local

log = logging.getLogger(__name__)

WORKING_DAYS_BEFORE = 2
FROM_HOUR = 8  # at the house: nobody is woken by us


def remind(now: int) -> list[int]:
    """Put the reminders that are due into the outbox; each person is reminded of a revision once. Returns the projects
    that could not be looked at; they are logged."""
    return [project_id for project_id in notice_rows.to_remind(now) if not _looked_at(project_id, now)]


def _looked_at(project_id: int, now: int) -> bool:
    try:
        snapshot = read_snapshot(project_id)
        for decision, person_id in due_reminders(snapshot, now):
            about = {"decision": decision.id, "number": decision.number, "revision": decision.revision}
            mark = f"reminder of decision {decision.id}, revision {decision.revision}, person {person_id}"
            notice_rows.add_once(project_id, person_id, "reminder", about, mark, now)
        notice_rows.looked_at(project_id, snapshot.project.changed, next_morning(now, snapshot.project.timezone))
    except Exception:  # whatever it was, the other houses must be reminded, and this one at the next tick
        log.exception("the reminders of project %s could not be looked at", project_id)
        return False
    return True


def next_morning(now: int, zone: str) -> int:
    """The next time that it is `FROM_HOUR` at the house."""
    moment = local(now, zone)
    day = moment.date() + timedelta(days=moment.hour >= FROM_HOUR)
    return int(datetime(day.year, day.month, day.day, FROM_HOUR, tzinfo=ZoneInfo(zone)).timestamp())


def due_reminders(snapshot: Snapshot, now: int) -> Iterator[tuple[DecisionFact, int]]:
    """Decisions and the people who must be reminded of them now. Whoever was asked after that day is not."""
    moment = local(now, snapshot.project.timezone)
    if moment.hour < FROM_HOUR:
        return
    schedule = schedule_of(snapshot, now)
    outlook = outlook_of(snapshot, schedule)
    for decision in snapshot.decisions:
        needed_by = outlook.needed_by.get(decision.id)
        asked_on = local(decision.asked_at, snapshot.project.timezone).date()
        ours = decision.state != "asked"
        if needed_by and not ours and asked_on < reminder_day(schedule.plan.calendar, needed_by) <= moment.date():
            yield from ((decision, one.id) for one in snapshot.people if waits_for(snapshot, decision, one.id))


def reminder_day(calendar: WorkCalendar, needed_by: date) -> date:
    """Two working days before; before the next working day, when the date itself is off work."""
    return calendar.add_days(needed_by, -WORKING_DAYS_BEFORE)
