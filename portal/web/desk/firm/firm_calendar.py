"""The working days, hours and zone of the firm: written down once, for every house without others of its own."""

from datetime import date
from typing import Any

from flask import Response, request, url_for
from marshmallow import fields, post_load, validate

from portal import clock
from portal.acts.firm.firm_calendar import change_firm_calendar
from portal.api.http.shapes import Strict, Whole, name_field
from portal.api.resources.projects import WORKING_CALENDAR
from portal.planning.conflicts.unkept_visits import Conflict
from portal.store.reading.warnings import Moved, all_moved_by
from portal.store.rows.editable import first_firm
from portal.store.rows.project_rows import open_ones, usual_timezone
from portal.store.tables import Project
from portal.web.desk.ahead import Ahead, look_first
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.firm.calendar_rows import (
    CalendarForm,
    calendar_fields,
    calendar_json,
    likely_holidays,
    named_as_in_the_form,
    now_listed,
    today,
    typed_calendar,
    why_none,
)
from portal.web.desk.firm.zones import ZONES
from portal.web.desk.forms import Values, handle, seen
from portal.web.forms.inputs import Field, Form, grouped
from portal.words.dates import dated_words
from portal.words.plurals import counted

_TITLE = "The firm’s working days"
_NAMED = 5
"""So many houses are named, those that move most; of the others it says how many."""


class FirmCalendarForm(Strict):
    timezone = name_field(60, required=True)
    calendar = Whole(CalendarForm, required=True)
    houses = fields.List(fields.Integer(), load_default=list, validate=validate.Length(max=10_000))

    @post_load
    def as_kept(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        return values | {"calendar": calendar_json(values["calendar"], today())}


@form_page("/firm/calendar", "change_firm_calendar")
def firm_calendar() -> Response:
    """Before it is written down, the form holds what the newest house goes by."""
    firm = first_firm()
    likely = likely_holidays(firm)
    usual: dict[str, Any] = firm.calendar or WORKING_CALENDAR | {"holidays": likely}
    lacks = "" if firm.calendar else why_none(firm, likely)
    start: dict[str, Any] = {"timezone": firm.timezone or usual_timezone(), "calendar": typed_calendar(usual, today())}
    zone = Field("timezone", "Time zone", "choice", required=True, choices=ZONES,
                 hint="If it is put right later, booked visits stay at their time by the clock.")
    listed_now = request.form.get("calendar.listed", start["calendar"]["listed"])
    form = Form(
        _TITLE, [zone, *calendar_fields(listed_now, today(), lacks), *_own_ones()], FirmCalendarForm(),
        "Save the working days",
        intro="Houses set up from now on go by them, unless they get days and hours of their own.",
    )  # fmt: skip
    return handle(form, _save, url_for("desk.every"), start, seen=firm.version)


def _own_ones() -> list[Field]:
    """A tick for each house that has a calendar of its own; at most two stand there without a fold."""
    own = [(str(one.id), ", ".join(filter(None, [one.name, one.address]))) for one in open_ones() if not one.as_firm]
    ticks = Field("houses", "Tick those that go by the firm’s from now on", "choices", choices=own)
    return grouped("Houses with days and hours of their own", [ticks], folded=len(own) > 2) if own else []


def _save(values: Values) -> str:
    """Houses are looked at before and after, and nothing is kept until somebody has seen what it does to them."""
    houses = {one.id: one for one in open_ones() if one.as_firm or one.id in values["houses"]}
    now = clock.now()

    def change() -> None:
        with named_as_in_the_form():
            change_firm_calendar(who(), seen(), values, now)

    _, moved = all_moved_by(houses, now, change)
    changed = [one.id for one in open_ones() if one.id in houses and one.version != houses[one.id].version]
    look_first(_ahead(houses, {one: moved[one] for one in changed}))
    return f"The working days are saved. {_goes_for(len(changed))}{now_listed(values, _TITLE)}"


def _goes_for(houses: int) -> str:
    return f"They go for {counted(houses, 'house')} from now on." if houses else "No house is changed by it."


def _ahead(houses: dict[int, Project], moved: dict[int, Moved]) -> list[Ahead]:
    """How many houses change, and what that does to their finish: late ones first, then those that move most."""
    if not moved:
        return []
    moving = [one for one in moved if _is_late(moved[one]) or _days(moved[one])]
    moving.sort(key=lambda one: (not _is_late(moved[one]), -abs(_days(moved[one])), one))
    said = [Ahead(f"It changes the days and hours of {counted(len(moved), 'house')}.")]
    said += [Ahead(_of_house(houses[one], moved[one]), _is_late(moved[one])) for one in moving[:_NAMED]]
    rest = [moved[one] for one in moving[_NAMED:]]
    if rest:
        words = f"{counted(len(rest), 'more house')} {'moves' if len(rest) == 1 else 'move'} too."
        said.append(Ahead(words, any(_is_late(one) for one in rest)))
    stay = len(moved) - len(moving)
    if stay:
        said.append(Ahead(f"The finish of {counted(stay, 'house')} stays."))
    return said


def _of_house(house: Project, moved: Moved) -> str:
    said = []
    today_there = today()
    before, after = moved.before.finish, moved.after.finish
    if before and after and before != after:
        said.append(f"done {dated_words(after, today_there)} instead of {dated_words(before, today_there)}, "
                    f"{_apart(before, after)}")
    if moved.breaks_promise and moved.after.promised:
        said.append(f"promised is {dated_words(moved.after.promised, today_there)}")
    unkept = sum(isinstance(one, Conflict) for one in moved.found)
    if unkept:
        said.append(f"{counted(unkept, 'visit')} can’t be kept then")
    return f"{', '.join(filter(None, [house.name, house.address]))}: {'; '.join(said)}."


def _apart(before: date, after: date) -> str:
    return f"{counted(abs((after - before).days), 'day')} {'later' if after > before else 'earlier'}"


def _days(moved: Moved) -> int:
    before, after = moved.before.finish, moved.after.finish
    return (after - before).days if before and after else 0


def _is_late(moved: Moved) -> bool:
    return moved.breaks_promise or any(isinstance(one, Conflict) for one in moved.found)
