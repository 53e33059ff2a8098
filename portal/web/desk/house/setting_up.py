"""Setting up: a project with its calendar, its rooms, and the firm's own details."""

from dataclasses import replace
from typing import Any

from flask import Response, request, url_for
from marshmallow import ValidationError, post_load, validate

from portal import clock
from portal.acts.firm.projects import add_project, add_room, change_firm, change_project, change_room, remove_room
from portal.api.http.shapes import Strict, Typed, Whole, email_field, line_field, name_field, phone_field
from portal.api.resources.projects import WORKING_CALENDAR, ProjectSchema
from portal.api.resources.rooms import RoomSchema
from portal.pages.days.calendar_words import calendar_words
from portal.planning.household.services import SERVICES
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import first_firm, in_project, project_row
from portal.store.rows.project_rows import usual_timezone
from portal.store.tables import Room
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.firm.calendar_rows import (
    CalendarForm,
    as_it_was,
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
from portal.web.desk.forms import Values, handle, project_form, seen
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import Dollars, Lines, dollars
from portal.words import typed
from portal.words.names import initials


class ProjectForm(ProjectSchema):
    calendar = Whole(CalendarForm, required=True)
    contract_cents = Dollars(allow_none=True, validate=validate.Range(0, 10**12))

    @post_load
    def as_kept(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        return values | {"calendar": calendar_json(values["calendar"], today())}


def _letters(value: str) -> None:
    if not all(one.isalnum() for one in value):
        raise ValidationError("The mark has letters and digits only, such as BR. Leave out all else.")


class FirmForm(Strict):
    name = name_field(required=True)
    phone = phone_field(required=True)
    office_hours = line_field(200, required=True)
    # A form's own `mark` is that of its session.
    letters = Typed(typed.line, attribute="mark", validate=[validate.Length(max=3), _letters])
    email = email_field()
    address = line_field(255)
    registrations = Lines(load_default=list, validate=validate.Length(max=20))


_PLAIN = [
    Field("name", "Name", required=True, hint="What you call it, such as the family’s name."),
    Field("address", "Address", required=True),
    Field("timezone", "Time zone", "choice", required=True, choices=ZONES,
          hint="If it is put right later, booked visits stay at their time by the clock."),
    Field("starts_on", "Starts on", "date", required=True),
    Field("promised_on", "Promised to be done on", "date"),
    Field("signed_on", "Contract signed on", "date"),
    Field("contract_cents", "Contract amount in dollars"),
    Field("phone", "Phone to call for this project", "phone", hint="Empty: the office’s."),
    Field("office_hours", "When that phone is answered", hint="Empty: the office’s hours."),
]
_FIRST = 5  # of them are asked for at once where a house is set up, the others behind a fold
_LISTED = "Name, address, dates and working calendar"
_NAMES = [one.name for one in _PLAIN]
_SERVICES = {service: service.capitalize() for service in SERVICES} | {
    "sink": "Sink or tub sink", "bath": "Bath or shower", "floor": "Floor to walk on",
    "way_through": "Way through, such as a door of the house",
}
_ROOM = [
    Field("name", "Name", required=True),
    Field("services", "What the household uses there", "choices", choices=list(_SERVICES.items()),
          hint="From this, the page says what works tonight."),
]
ROOM = Form("Add a room", _ROOM, RoomSchema(), "Add the room", template="rooms.html")
FIRM = Form(
    "The firm’s details",
    [
        Field("name", "Name", required=True),
        Field("letters", "Mark", hint="One to three letters; they stand before the name."),
        Field("phone", "Office phone", "phone", required=True),
        Field("office_hours", "When the office answers", required=True, hint="Such as Monday to Friday, 7:30 to 4:30."),
        Field("email", "E-mail address", "email"),
        Field("address", "Address"),
        Field("registrations", "Registrations", "text", hint="One a line."),
    ],
    FirmForm(), "Save the details", intro="They stand on every page.",
)


def _form(title: str, button: str, start: dict[str, Any], first: int = len(_PLAIN)) -> tuple[Form, dict[str, Any]]:
    """The form, and its parts: the `first` fields stand open, the others in folds. Once the firm has a calendar, the
    zone is folded with the days of the house's own, behind the tick that takes the firm's. The list of holidays is the
    one that was shown, also where the form comes back refused."""
    listed = request.form.get("calendar.listed", start["calendar"]["listed"])
    open_now, more = list(_PLAIN[:first]), list(_PLAIN[first:])
    firm = first_firm()
    days = calendar_fields(listed, today(), "" if firm.calendar else why_none(firm, likely_holidays(firm)))
    if firm.calendar is not None:
        zone = next(one for one in open_now if one.name == "timezone")
        open_now.remove(zone)
        days = [zone, *days]
        open_now.append(Field(
            "as_firm", f"Work days as the firm’s ({calendar_words(firm.calendar)})", "yes",
            hint="They change with the firm’s. Without the tick, the house keeps days, hours and a zone of its own.",
        ))
    form = Form(title, [*open_now, *days, *more], ProjectForm(), button, template="house_form.html")
    words = "A calendar of its own: zone, work days, hours" if firm.calendar else "Work days, hours and holidays"
    if firm.calendar is None and not more:
        return form, {"first": form, "folds": []}
    folds = [(replace(form, fields=days), words), (replace(form, fields=more), "Contract, and a phone of its own")]
    return form, {"first": replace(form, fields=open_now), "folds": [fold for fold in folds if fold[0].fields]}


@form_page("/projects/new", "add_project")
def new_project() -> Response:
    firm = first_firm()
    calendar = firm.calendar or WORKING_CALENDAR | {"holidays": likely_holidays(firm)}

    def do(values: Values) -> tuple[str, str]:
        with named_as_in_the_form():
            project = add_project(who(), as_it_was(values, calendar), clock.now())
        said = f"The house is set up.{now_listed(values, _LISTED)} Next: its rooms."
        return said, url_for("desk.rooms", project_id=project.id)

    zone = firm.timezone or usual_timezone()
    start = {"timezone": zone, "calendar": typed_calendar(calendar, today()), "as_firm": firm.calendar is not None}
    form, parts = _form("Set up a house", "Set it up", start, _FIRST)
    return handle(form, do, "", start, **parts)


@form_page(f"{PROJECT}/change", "change_project")
def edit_project(project_id: int) -> Response:
    row = project_row(project_id)
    zone = row.timezone

    def do(values: Values) -> str:
        with named_as_in_the_form():
            changed = change_project(who(), project_id, seen(), as_it_was(values, row.calendar), clock.now())
        kept = " Booked visits stay at their time by the clock at the house."
        return f"The house is changed.{kept if changed.timezone != zone else ''}{now_listed(values, _LISTED)}"

    start = {name: getattr(row, name) for name in (*_NAMES, "as_firm")}
    start["calendar"] = typed_calendar(row.calendar, today())
    start["contract_cents"] = None if row.contract_cents is None else dollars(row.contract_cents)
    form, parts = _form("Change the house", "Save the house", start)
    return project_form(form, do, project_id, start, look=True, seen=row.version, **parts)


@form_page(f"{PROJECT}/rooms/", "add_room")
def rooms(project_id: int) -> Response:
    def do(values: Values) -> str:
        return f"{add_room(who(), project_id, values, now=clock.now()).name} is added."

    here = url_for("desk.rooms", project_id=project_id)
    return project_form(ROOM, do, project_id, then=here, rooms=read_snapshot(project_id).rooms)


@form_page(f"{PROJECT}/rooms/<int:room_id>/change", "change_room")
def edit_room(project_id: int, room_id: int) -> Response:
    room = in_project(Room, project_id, room_id)

    def do(values: Values) -> str:
        wanted = values | {"services": _services(room, values["services"])}
        change_room(who(), project_id, room_id, seen(), wanted, clock.now())
        return "The room is changed."

    position = Field("position", "Place in the list", "number", hint="0 comes first.")
    form = Form("Change a room", [*_ROOM, position], RoomSchema(), "Save the room")
    start = {"name": room.name, "position": room.position, "services": [_service(one) for one in room.services]}
    here = url_for("desk.rooms", project_id=project_id)
    return project_form(form, do, project_id, start, then=here, seen=room.version)


@form_page(f"{PROJECT}/rooms/<int:room_id>/remove", "remove_room")
def drop_room(project_id: int, room_id: int) -> Response:
    room = in_project(Room, project_id, room_id)

    def do(values: Values) -> str:
        remove_room(who(), project_id, room_id, seen(), now=clock.now())
        return f"{room.name} is removed."

    form = Form(f"Remove a room: {room.name}", [], Strict(), "Remove the room")
    return project_form(form, do, project_id, then=url_for("desk.rooms", project_id=project_id), seen=room.version)


@form_page("/firm", "change_firm")
def firm() -> Response:
    row = first_firm()

    def do(values: Values) -> str:
        change_firm(who(), seen(), values, clock.now())
        return "The details are saved, and every page is written anew."

    names = ("name", "phone", "office_hours", "email", "address")
    start = {name: getattr(row, name) for name in names}
    start |= {"registrations": "\n".join(row.registrations), "letters": row.mark or initials(row.name)}
    return handle(FIRM, do, url_for("desk.every"), start, seen=row.version)


def _service(entry: Any) -> str:
    return str(entry["service"] if isinstance(entry, dict) else entry)


def _services(room: Room, ticked: list[str]) -> list[Any]:
    """An entry that says more than its service (a name, a need) stays while the service is ticked."""
    kept = [entry for entry in room.services if _service(entry) in ticked]
    known = {_service(entry) for entry in kept}
    return kept + [service for service in ticked if service not in known]
