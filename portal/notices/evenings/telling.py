"""Who is told in the evening what tomorrow takes and asks: each person, and once; again only when that has changed.

A house is looked at in its evening, and after a change from then to the morning.
"""

import logging
from datetime import date
from typing import NamedTuple

from portal.notices.evenings.letter import facts_of, told_of, worth_telling
from portal.planning.household.evenings import morning_after, next_evening, told_day
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import minutes, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.letters import evening_rows

log = logging.getLogger(__name__)


class Looked(NamedTuple):
    """Projects whose day's work is over and that were looked at: their pages speak of tomorrow now. `failed`: those
    that could not be looked at; they are logged."""

    evening: list[int]
    failed: list[int]


def tell_evenings(now: int) -> Looked:
    """Put the letters of the evening that are due into the outbox."""
    looked = Looked([], [])
    for project_id in evening_rows.to_look_at(now):
        _look_at(project_id, now, looked)
    return looked


def _look_at(project_id: int, now: int, looked: Looked) -> None:
    try:
        snapshot = read_snapshot(project_id)
        calendar = schedule_of(snapshot, now).plan.calendar
        day = told_day(calendar, minutes(now))
        if day == calendar.day_of(minutes(now)) and not evening_rows.known(project_id):
            day = None  # no evening of this house was missed: it was not with us then
        if day is not None:
            _tell(snapshot, day, now)
        following = next_evening(calendar, minutes(now))
        until = 0 if day is None else morning_after(calendar, day) * 60
        evening_rows.looked_at(project_id, snapshot.project.changed, following * 60, until)
        if day is not None and day > calendar.day_of(minutes(now)):
            looked.evening.append(project_id)
    except Exception:  # whatever it was, the other houses must be told, and this one at the next tick
        log.exception("what tomorrow takes of project %s could not be looked at", project_id)
        looked.failed.append(project_id)


def _tell(snapshot: Snapshot, day: date, now: int) -> None:
    told = told_of(snapshot, day, now)
    facts = facts_of(told) if worth_telling(told) else ""
    for person in snapshot.people:
        last = evening_rows.told_last(person.id, day.isoformat(), now)
        if (last.facts if last else "") != facts:
            about = {"day": day.isoformat(), "facts": facts, "again": bool(last and last.sent)}
            evening_rows.tell(snapshot.project.id, person.id, about, last, now)
