"""Setting up: a project with its calendar, its rooms, and the firm's own details."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import Any

from flask import Response, request, url_for
from marshmallow import post_load, validate

from portal import clock
from portal.acts.firm.projects import add_project, add_room, change_firm, change_project, change_room, remove_room
from portal.api.http.shapes import Strict, Whole, email_field, line_field, name_field
from portal.api.resources.projects import WORKING_CALENDAR, ProjectSchema
from portal.api.resources.rooms import RoomSchema
from portal.planning.household.services import SERVICES
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import first_firm, in_project, project_row
from portal.store.rows.project_rows import usual_holidays, usual_timezone
from portal.store.tables import Room
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, handle, project_form, seen
from portal.web.desk.house.calendar_rows import CalendarForm, calendar_fields, calendar_json, typed_calendar, whose
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import Dollars, Lines, dollars


class ProjectForm(ProjectSchema):
    calendar = Whole(CalendarForm, required=True)
    contract_cents = Dollars(allow_none=True, validate=validate.Range(0, 10**12))

    @post_load
    def as_kept(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        return values | {"calendar": calendar_json(values["calendar"], _today())}


class FirmForm(Strict):
    name = name_field(required=True)
    phone = line_field(40, required=True)
    office_hours = line_field(200, required=True)
    email = email_field()
    address = line_field(255)
    registrations = Lines(load_default=list, validate=validate.Length(max=20))


_PLAIN = [
    Field("name", "Name", required=True, hint="What you call it, such as the family’s name."),
    Field("address", "Address", required=True),
    Field("timezone", "Time zone", required=True,
          hint="Such as America/Chicago. If it is put right later, booked visits stay at their time by the clock."),
    Field("starts_on", "Starts on", "date", required=True),
    Field("promised_on", "Promised to be done on", "date"),
    Field("signed_on", "Contract signed on", "date"),
    Field("contract_cents", "Contract amount in dollars"),
    Field("phone", "Phone to call for this project", "phone", hint="Empty: the office’s."),
    Field("office_hours", "When that phone is answered", hint="Empty: the office’s hours."),
]
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
        Field("phone", "Office phone", "phone", required=True),
        Field("office_hours", "When the office answers", required=True, hint="Such as Monday to Friday, 7:30 to 4:30."),
        Field("email", "E-mail address", "email"),
        Field("address", "Address"),
        Field("registrations", "Registrations", "text", hint="One a line."),
    ],
    FirmForm(), "Save the details", intro="They stand on every page.",
)


def _form(title: str, button: str, start: dict[str, Any]) -> Form:
    """The list of holidays is the one that was shown, also where the form comes back refused."""
    listed = request.form.get("calendar.listed", start["calendar"]["listed"])
    return Form(title, [*_PLAIN, *calendar_fields(listed, _today())], ProjectForm(), button)


def _now_listed(values: Values) -> str:
    """Where another state was named than the one whose holidays had their ticks."""
    if whose(values["calendar"]["holidays"]) in ("", request.form.get("calendar.listed", "")):
        return ""
    return (" All its public holidays are off: under “Name, address, dates and working calendar” they are listed now, "
            "to untick those that are worked.")


def _today() -> date:
    return datetime.fromtimestamp(clock.now(), UTC).date()


@form_page("/projects/new", "add_project")
def new_project() -> Response:
    def do(values: Values) -> tuple[str, str]:
        with _named_as_in_the_form():
            project = add_project(who(), values, clock.now())
        said = f"The project is set up.{_now_listed(values)} Next: its rooms."
        return said, url_for("desk.rooms", project_id=project.id)

    calendar = WORKING_CALENDAR | {"holidays": usual_holidays()}
    start = {"timezone": usual_timezone(), "calendar": typed_calendar(calendar, _today())}
    return handle(_form("Set up a project", "Set it up", start), do, "", start)


@form_page(f"{PROJECT}/change", "change_project")
def edit_project(project_id: int) -> Response:
    row = project_row(project_id)
    zone = row.timezone

    def do(values: Values) -> str:
        with _named_as_in_the_form():
            change_project(who(), project_id, seen(), values, clock.now())
        kept = " Booked visits stay at their time by the clock at the house."
        return f"The project is changed.{kept if values['timezone'] != zone else ''}{_now_listed(values)}"

    start = {name: getattr(row, name) for name in _NAMES} | {"calendar": typed_calendar(row.calendar, _today())}
    start["contract_cents"] = None if row.contract_cents is None else dollars(row.contract_cents)
    return project_form(_form("Change the project", "Save the project", start), do, project_id, start, seen=row.version)


@form_page(f"{PROJECT}/rooms/", "add_room")
def rooms(project_id: int) -> Response:
    def do(values: Values) -> str:
        return f"{add_room(who(), project_id, values).name} is added."

    here = url_for("desk.rooms", project_id=project_id)
    return project_form(ROOM, do, project_id, then=here, rooms=read_snapshot(project_id).rooms)


@form_page(f"{PROJECT}/rooms/<int:room_id>/change", "change_room")
def edit_room(project_id: int, room_id: int) -> Response:
    room = in_project(Room, project_id, room_id)

    def do(values: Values) -> str:
        change_room(who(), project_id, room_id, seen(), values | {"services": _services(room, values["services"])})
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
        remove_room(who(), project_id, room_id, seen())
        return f"{room.name} is removed."

    form = Form(f"Remove a room: {room.name}", [], Strict(), "Remove the room")
    return project_form(form, do, project_id, then=url_for("desk.rooms", project_id=project_id), seen=room.version)


@form_page("/firm", "change_firm")
def firm() -> Response:
    row = first_firm()

    def do(values: Values) -> str:
        change_firm(who(), seen(), values)
        return "The details are saved, and every page is written anew."

    names = ("name", "phone", "office_hours", "email", "address")
    start = {name: getattr(row, name) for name in names} | {"registrations": "\n".join(row.registrations)}
    return handle(FIRM, do, url_for("desk.every"), start, seen=row.version)


def _service(entry: Any) -> str:
    return str(entry["service"] if isinstance(entry, dict) else entry)


def _services(room: Room, ticked: list[str]) -> list[Any]:
    """An entry that says more than its service (a name, a need) stays while the service is ticked."""
    kept = [entry for entry in room.services if _service(entry) in ticked]
    known = {_service(entry) for entry in kept}
    return kept + [service for service in ticked if service not in known]


@contextmanager
def _named_as_in_the_form() -> Iterator[None]:
    """The act names country and state by their place among the holidays; the form asks for them by themselves."""
    try:
        yield
    except FieldRefused as refusal:
        renamed = {
            "calendar.holidays.country": "calendar.country", "calendar.holidays.subdivision": "calendar.state",
            "calendar.holidays.except": "calendar.off",
        }.get(str(refusal.field))
        if renamed is None:
            raise
        raise FieldRefused(renamed, str(refusal.details["message"])) from refusal
