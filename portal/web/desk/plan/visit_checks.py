"""What is asked before a visit is booked or moved: of one that can't be kept, whether it is meant all the same; of a
time that is over, whether they were here then."""

from collections.abc import Callable
from datetime import date, datetime
from typing import TypeVar

from flask import request
from marshmallow import ValidationError

from portal import clock
from portal.api.http.shapes import moment_of
from portal.pages.days.visit_times import WHOLE, hours_of
from portal.pages.unkept_visits import whose_words
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.unkept_visits import Conflict
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.warnings import caused
from portal.web.desk.ahead import Ahead, look_first
from portal.web.forms.inputs import Field

Done = TypeVar("Done")


def kept_or_seen(project_id: int, change: Callable[[], Done]) -> Done:
    """Do it; where a visit can't be kept by it, only after that, and the first time that works, was seen."""
    done, found = caused(project_id, clock.now(), change)
    words = whose_words(read_snapshot(project_id), [one for one in found if isinstance(one, Conflict)])
    look_first([Ahead(one, late=True) for one in words])
    return done


def were_here(calendar: WorkCalendar) -> list[Field]:
    """Asked only where the time that was sent is over."""
    ends = _sent(calendar)
    over = ends is not None and calendar.instant(ends) * 60 <= clock.now()
    return [Field("were_here", "They were here then", "yes")] if over else []


def _sent(calendar: WorkCalendar) -> datetime | None:
    """Until when the visit of the form that came lasts, as it was typed, or by the day and its part."""
    try:
        if request.form.get("ends_at"):
            return moment_of(request.form["ends_at"])
        day = date.fromisoformat(request.form.get("day", ""))
        found = hours_of(calendar, day)
    except (ValidationError, ValueError, OverflowError):
        return None
    return found.get(request.form.get("hours", ""), found[WHOLE])[1]
