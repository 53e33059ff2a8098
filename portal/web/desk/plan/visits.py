"""Visits: booked, moved, cancelled; by the wall clock of the house."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from flask import Response, request
from marshmallow import fields, validate

from portal import clock
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.api.http.shapes import RowId, Strict, day_field, line_field
from portal.api.resources.visits import CancelSchema, VisitChangeSchema
from portal.pages.days.visit_times import (
    AFTERNOON,
    MORNING,
    WHOLE,
    bookable,
    first_day,
    hours_choices,
    hours_of,
    next_to_book,
)
from portal.pages.outlook import Outlook, outlook_of
from portal.planning.calendar.working_calendar import WorkCalendar, calendar_of
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.clashes import free_days
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.crews import crew_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Visit
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import RowsRefused, Values, project_form, seen
from portal.web.desk.plan.visit_checks import kept_or_seen, were_here
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form, grouped
from portal.web.forms.plain_fields import HouseTime, house_time
from portal.words.dates import dated_words, moment_words, when_words


class BookForm(Strict):
    """A phase, a day and a part of it; all else follows from the plan, unless it is typed."""

    phase = RowId(allow_none=True, load_default=None)
    day = day_field(allow_none=True, load_default=None)
    hours = fields.String(load_default=WHOLE, validate=validate.OneOf((WHOLE, MORNING, AFTERNOON)))
    crew = line_field(80, load_default="")
    purpose = line_field(255, load_default="")
    starts_at = HouseTime(allow_none=True, load_default=None)
    ends_at = HouseTime(allow_none=True, load_default=None)
    were_here = fields.Boolean(load_default=False)


class VisitChangeForm(VisitChangeSchema):
    starts_at = HouseTime(required=True)
    ends_at = HouseTime(required=True)


_MORE = "Another crew, other words, other hours"


_HINT = "Each with its crew and the first day on which they can come for the whole day."
_FIRST = "Empty: the first day that works, as it stands with the phase."


def _book_form(snapshot: Snapshot, outlook: Outlook, days: Mapping[int, date], day: date) -> Form:
    calendar = outlook.booked.plan.calendar
    phases = [(str(one.id), _offer(outlook, one, days[one.id])) for one in bookable(snapshot)]
    return Form(
        "Book a visit",
        [
            Field("phase", "For which phase", "choice", choices=[*phases, ("", "No phase of the plan")], hint=_HINT),
            Field("day", "Day", "date", hint=_FIRST),
            Field("hours", "From when to when", "choice", choices=hours_choices(calendar, day)),
            *were_here(calendar),
            *grouped(_MORE, [
                Field("crew", "Who comes", hint="Empty: the crew of the phase.", offers="crews"),
                Field("purpose", "To do what", hint="Empty: the name of the phase. The household reads this."),
                Field("starts_at", "From", "moment", hint="Empty: as picked above."),
                Field("ends_at", "Until", "moment"),
            ], folded=True),
        ],
        BookForm(), "Book it", template="book_visit.html",
    )  # fmt: skip


def _offer(outlook: Outlook, phase: PhaseFact, day: date) -> str:
    """`Connect the sink, Plumber: Mon Dec 14 (can begin Fri Dec 11, 2:00 pm)`: where it begins within a day, or the
    crew is elsewhere, both stand there."""
    booked = outlook.booked
    today = booked.plan.calendar.day_of(booked.now)
    words = f"{', '.join(filter(None, [phase.name, phase.crew]))}: {dated_words(day, today)}"
    if phase.started_at is not None or outlook.starts[phase.id] == day:
        return words
    return f"{words} (can begin {moment_words(booked.plan.calendar.moment(booked.of(phase.id).early_start))})"


@form_page(f"{PROJECT}/visits/new", "book_visit")
def new_visit(project_id: int) -> Response:
    """`?phase=` is what it is for; else the first to begin that has no visit."""
    snapshot, now = read_snapshot(project_id), clock.now()
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    wanted = next((one for one in bookable(snapshot) if str(one.id) == request.args.get("phase")), None)
    phase = wanted or next_to_book(snapshot, outlook)
    calendar, days = outlook.booked.plan.calendar, _first_days(snapshot, outlook)
    day = days[phase.id] if phase else calendar.add_days(calendar.day_of(outlook.booked.now), 1)

    def do(values: Values) -> str:
        given = _from_the_plan(snapshot, calendar, values, days)
        visit = kept_or_seen(project_id, lambda: book_visit(who(), project_id, given, clock.now()))
        zone = snapshot.project.timezone
        return f"The visit is booked: {visit.crew}, {when_words(visit.starts_at, zone)}."

    start = {"phase": phase.id if phase else None, "hours": WHOLE}
    crews = [*dict.fromkeys([*crew_rows.offered(), *(one.crew for one in snapshot.phases if one.crew)])]
    return project_form(_book_form(snapshot, outlook, days, day), do, project_id, start, crews=crews, days=days)


def _first_days(snapshot: Snapshot, outlook: Outlook) -> dict[int, date]:
    """By phase, the first day on which its crew can come for the whole of it."""
    calendar = outlook.booked.plan.calendar
    wanted: dict[int, tuple[int, int]] = {}
    for one in bookable(snapshot):
        starts, ends = hours_of(calendar, first_day(outlook, one))[WHOLE]
        wanted[one.id] = calendar.instant(starts), calendar.instant(ends)
    return free_days(outlook.booked, snapshot, wanted)


def _from_the_plan(snapshot: Snapshot, calendar: WorkCalendar, values: Values, days: Mapping[int, date]) -> Values:
    """What was typed, with what follows from the phase and from the day. What neither gives is asked for. `days`: the
    first that works, by phase."""
    phase = next((one for one in snapshot.phases if one.id == values["phase"]), None)
    crew, purpose = values["crew"] or (phase.crew if phase else ""), values["purpose"] or (phase.name if phase else "")
    starts, ends = values["starts_at"], values["ends_at"]
    day = values["day"] or days.get(values["phase"])
    if starts is None and ends is None and day is not None:
        found = hours_of(calendar, day)
        starts, ends = found.get(values["hours"], found[WHOLE])
    wrong = {
        "crew": "" if crew else "Write who comes: the plan names nobody.",
        "purpose": "" if purpose else "Write what they come for, or pick a phase.",
        "day": "Pick a day." if starts is None and ends is None else "",
        "starts_at": "Give both, from and until." if starts is None and ends is not None else "",
        "ends_at": "Give both, from and until." if ends is None and starts is not None else "",
    }
    if any(wrong.values()):
        raise RowsRefused(faults=[(name, words) for name, words in wrong.items() if words])
    return {"phase": values["phase"], "crew": crew, "purpose": purpose, "starts_at": starts, "ends_at": ends,
            "were_here": values["were_here"]}


def _change_form(snapshot: Snapshot) -> Form:
    return Form(
        "Move or change a visit",
        [
            Field("starts_at", "From", "moment", required=True),
            Field("ends_at", "Until", "moment", required=True),
            *were_here(calendar_of(snapshot.project.calendar, snapshot.project.timezone)),
            Field("reason", "Why it moves", hint="If it moves. The household reads this."),
            Field("crew", "Who comes", required=True, hint="The crew, such as Plumber."),
            Field("purpose", "To do what", required=True, hint="The household reads this."),
            Field("phase", "For which phase", "choice", choices=choices.phase_or_none(snapshot)),
        ],
        VisitChangeForm(), "Save the visit", intro="Times are by the clock at the house.",
    )


@form_page(f"{PROJECT}/visits/<int:visit_id>/change", "change_visit")
def move_visit(project_id: int, visit_id: int) -> Response:
    visit, snapshot = in_project(Visit, project_id, visit_id), read_snapshot(project_id)

    def do(values: Values) -> str:
        kept_or_seen(project_id, lambda: change_visit(who(), project_id, visit_id, seen(), values, clock.now()))
        return "The visit is changed."

    form = _change_form(snapshot)
    start = _typed(visit, snapshot.project.timezone)
    return project_form(form, do, project_id, start, seen=visit.version)


@form_page(f"{PROJECT}/visits/<int:visit_id>/cancel", "cancel_visit")
def call_off(project_id: int, visit_id: int) -> Response:
    visit = in_project(Visit, project_id, visit_id)

    def do(values: Values) -> str:
        cancel_visit(who(), project_id, visit_id, seen(), because=values["because"], now=clock.now())
        return "The visit is cancelled."

    form = Form(
        f"Cancel a visit: {visit.crew}", [Field("because", "Why", hint="It goes on the record.")],
        CancelSchema(), "Cancel the visit", intro=f"They were to come to: {visit.purpose}",
    )
    return project_form(form, do, project_id, seen=visit.version)


def _typed(visit: Visit, zone: str) -> dict[str, Any]:
    return {
        "crew": visit.crew, "purpose": visit.purpose, "phase": visit.phase_id,
        "starts_at": house_time(visit.starts_at, zone), "ends_at": house_time(visit.ends_at, zone),
    }
