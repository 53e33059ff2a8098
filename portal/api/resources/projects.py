"""Projects: the house, its timezone and its working calendar."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.firm import projects as acts
from portal.acts.firm.ending import close_house, open_house, remove_house
from portal.acts.firm.responsible import hand_over_house
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, resource
from portal.api.http.sender import who
from portal.api.http.shapes import (
    Instant,
    Strict,
    Whole,
    WhySchema,
    YesNo,
    day_field,
    line_field,
    name_field,
    note_field,
)
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.store.rows import project_rows, staff_rows
from portal.store.rows.editable import project_row
from portal.store.tables import Project

blueprint = resource("projects", "projects", "One house, one job.")

WORKING_CALENDAR: dict[str, Any] = {
    "week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")},
    "holidays": None,
    "days_off": [],
}

AS_FIRM = ("true: timezone and calendar are those of the firm, and change with them; beside it, others are refused. "
           "false: the project keeps its own. It becomes false where a timezone or a calendar of its own is sent.")


class HolidaysSchema(Strict):
    """Whose public holidays are off; `except`: names of those that are worked."""

    country = name_field(10, required=True)
    subdivision = line_field(20, allow_none=True, load_default=None)
    worked = fields.List(line_field(120), data_key="except", attribute="except", validate=validate.Length(max=100))


class CalendarSchema(Strict):
    """The planning package checks the times themselves: portal.planning.calendar.working_calendar."""

    week = fields.Dict(keys=fields.String(), values=fields.List(fields.List(fields.String())), required=True)
    holidays = Whole(HolidaysSchema, allow_none=True, load_default=None)
    days_off = fields.List(fields.String(), load_default=list)
    half_days = fields.Dict(keys=fields.String(), values=fields.List(fields.List(fields.String())))


class ProjectSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = name_field(required=True)
    address = name_field(255, required=True)
    timezone = name_field(60, required=True)
    calendar = Whole(CalendarSchema, load_default=lambda: dict(WORKING_CALENDAR))
    as_firm = YesNo(load_default=False, metadata={"description": AS_FIRM})
    starts_on = day_field(required=True)
    promised_on = day_field(allow_none=True)
    signed_on = day_field(allow_none=True)
    contract_cents = fields.Integer(allow_none=True, strict=True, validate=validate.Range(0, 10**12))
    phone = line_field(40)
    office_hours = line_field(200)
    closed_at = Instant(dump_only=True)
    responsible = fields.Method("who_runs_it", metadata={"type": ["object", "null"], "readOnly": True})
    warnings = warnings_field()

    def who_runs_it(self, project: Project) -> dict[str, Any] | None:
        """The manager who runs it; None: nobody is named, and all managers are told of what waits for us."""
        staff = project.responsible_id
        return None if staff is None else {"id": staff, "name": staff_rows.names()[staff]}


class CloseSchema(Strict):
    reason = note_field(1000, load_default="")


class ResponsibleSchema(Strict):
    staff = fields.Integer(required=True, allow_none=True, strict=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, ProjectSchema(many=True))
@pages
def every(query: dict[str, Any]) -> Any:
    return project_rows.page(offset(query), query["per_page"])


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(ProjectSchema)
@blueprint.response(201, ProjectSchema)
@makes
def add(values: dict[str, Any]) -> Any:
    """With `as_firm`, `calendar` can be left out."""
    if values["as_firm"] and values["calendar"] == WORKING_CALENDAR:  # it was left out, or that is what was meant
        del values["calendar"]
    return acts.add_project(who(), values, clock.now())


@blueprint.route("/<int:project_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, ProjectSchema)
@shows_version
def one(project_id: int) -> Any:
    return project_row(project_id)


@blueprint.route("/<int:project_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(ProjectSchema(partial=True))
@needs_version(Project, "project_id")
@blueprint.response(200, ProjectSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, seen: int) -> Any:
    """With another timezone, booked visits stay at their time by the clock at the house: their instants change."""
    return acts.change_project(who(), project_id, seen, values, clock.now())


@blueprint.route("/<int:project_id>/responsible", endpoint="hand_over", methods=["POST"])
@idempotent
@blueprint.arguments(ResponsibleSchema)
@needs_version(Project, "project_id")
@blueprint.response(200, ProjectSchema)
@shows_version
def hand_over(values: dict[str, Any], project_id: int, seen: int) -> Any:
    """`staff`: the id of the manager who runs it from now on; null: nobody is named."""
    return hand_over_house(who(), project_id, seen, values["staff"], now=clock.now())


@blueprint.route("/<int:project_id>/close", endpoint="close", methods=["POST"])
@idempotent
@blueprint.arguments(CloseSchema)
@needs_version(Project, "project_id")
@blueprint.response(200, ProjectSchema)
@shows_version
def close(values: dict[str, Any], project_id: int, seen: int) -> Any:
    """Open questions, orders that have not come and visits to come end with it. Where work is not finished, `reason` is
    needed."""
    return close_house(who(), project_id, seen, reason=values["reason"], now=clock.now())


@blueprint.route("/<int:project_id>/open", endpoint="open", methods=["POST"])
@idempotent
@blueprint.arguments(WhySchema)
@needs_version(Project, "project_id")
@blueprint.response(200, ProjectSchema)
@shows_version
def open_again(values: dict[str, Any], project_id: int, seen: int) -> Any:
    return open_house(who(), project_id, seen, reason=values["reason"], now=clock.now())


@blueprint.route("/<int:project_id>/remove", endpoint="remove", methods=["POST"])
@blueprint.arguments(WhySchema)
@needs_version(Project, "project_id")
@blueprint.response(204)
def remove(values: dict[str, Any], project_id: int, seen: int) -> None:
    """A project that was set up by mistake, in which nothing happened and to which no link was made."""
    remove_house(who(), project_id, seen, reason=values["reason"], now=clock.now())
