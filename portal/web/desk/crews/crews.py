"""The firm's crews at the desk: the list, keeping, changing and removing one."""

from collections.abc import Mapping
from typing import Any

from flask import Response, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.crews.crews import add_crew, change_crew, remove_crew
from portal.api.http.shapes import Strict, email_field, line_field, name_field, phone_field
from portal.planning.calendar.week import DAYS
from portal.store.refusals import FieldRefused
from portal.store.rows.crews import crew_rows
from portal.store.rows.editable import in_firm
from portal.store.tables import Crew
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.crews.crew_words import DAY_NAMES, hours_words, others_words, who_words
from portal.web.desk.forms import Values, handle, seen
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import DateLines

ONE = "/crews/<int:crew_id>"
_PLAIN = ("name", "trade", "size", "phone", "email", "active")


class CrewForm(Strict):
    """Its hours are the same on each of its days; a week that differs by day is kept until something else is said."""

    name = name_field(80, required=True)
    trade = line_field(80)
    size = fields.Integer(allow_none=True, validate=validate.Range(1, 200))
    phone = phone_field()
    email = email_field()
    days = fields.List(fields.String(validate=validate.OneOf(DAYS)), load_default=list)
    begins = line_field(5, load_default="")
    ends = line_field(5, load_default="")
    days_off = DateLines(load_default=list)
    active = fields.Boolean(load_default=True)


_HOURS = "Hours and days off, if they are not those of the house"
_FIELDS = [
    Field("name", "Name", required=True, hint="As plans and the household read it."),
    Field("trade", "Trade"),
    Field("phone", "Phone", "phone"),
    Field("email", "E-mail address", "email"),
    Field("size", "How many people", "number"),
    Field("days", "Days on which it works", "choices", group=_HOURS, folded=True,
          choices=list(DAY_NAMES.items())),
    Field("begins", "From", "time", group=_HOURS, folded=True),
    Field("ends", "To", "time", group=_HOURS, folded=True),
    Field("days_off", "Days off", "text", group=_HOURS, folded=True, hint="One a line, such as 2026-12-24."),
]
_ACTIVE = Field("active", "It is offered where a plan or a visit asks who comes", "yes")


@blueprint.get("/crews/")
def crews() -> Response:
    lines = [(crew, who_words(crew), hours_words(crew), others_words(crew_rows.names_of(crew.id), crew.name))
             for crew in crew_rows.every()]
    known = crew_rows.known_keys()
    return show("crews.html", lines=lines, unknown=len(crew_rows.unknown(known)))


@form_page("/crews/new", "add_crew")
def new_crew() -> Response:
    def do(values: Values) -> str:
        crew = add_crew(who(), _kept(values, {}), clock.now())
        return f"{crew.name} is on the list."

    form = Form("Add a crew", _FIELDS, CrewForm(), "Add the crew")
    return handle(form, do, url_for("desk.crews"))


@form_page(f"{ONE}/change", "change_crew")
def edit_crew(crew_id: int) -> Response:
    row = in_firm(Crew, crew_id)
    start = _start(row)

    def do(values: Values) -> str:
        crew = change_crew(who(), crew_id, seen(), _kept(values, start), clock.now())
        return f"{crew.name} is changed."

    form = Form(f"Change a crew: {row.name}", [*_FIELDS, _ACTIVE], CrewForm(), "Save the crew",
                template="crew_form.html")
    return handle(form, do, url_for("desk.crews"), start, seen=row.version, crew=row)


@form_page(f"{ONE}/remove", "remove_crew")
def drop_crew(crew_id: int) -> Response:
    row = in_firm(Crew, crew_id)

    def do(values: Values) -> str:
        remove_crew(who(), crew_id, seen(), clock.now())
        return f"{row.name} is off the list. Plans that are over keep its name."

    form = Form(f"Remove a crew: {row.name}", [], Strict(), "Remove the crew")
    return handle(form, do, url_for("desk.crews"), seen=row.version)


def _kept(values: Values, start: Mapping[str, Any]) -> Values:
    """The form as the act takes it. Hours that were left as they were shown are left as they are kept."""
    kept = {name: values[name] for name in (*_PLAIN, "days_off") if name in values}
    hours = {name: values[name] for name in ("days", "begins", "ends")}
    if hours == {name: start.get(name) or type(value)() for name, value in hours.items()}:
        return kept
    return kept | {"week": _week(**hours)}


def _week(days: list[str], begins: str, ends: str) -> dict[str, Any] | None:
    if not (days or begins or ends):
        return None
    for field, given in (("begins", begins), ("ends", ends)):
        if not given:
            raise FieldRefused(field, "Give the days and both times, or none of them.")
    if not days:
        raise FieldRefused("days", "Tick the days on which it works, or leave the times empty.")
    return {day: [[begins[:5], "24:00" if ends[:5] == "00:00" else ends[:5]]] for day in DAYS if day in days}


def _start(row: Crew) -> dict[str, Any]:
    week = {day: periods for day, periods in (row.week or {}).items() if periods}
    times = sorted(time for periods in week.values() for period in periods for time in period)
    return {name: getattr(row, name) for name in _PLAIN} | {
        "days": [day for day in DAYS if day in week],
        "begins": times[0] if times else "", "ends": times[-1].replace("24:00", "00:00") if times else "",
        "days_off": "\n".join(row.days_off),
    }
