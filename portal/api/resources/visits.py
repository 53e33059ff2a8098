"""Visits: booked appointments at the house."""

from typing import Any

from marshmallow import fields

from portal import clock
from portal.acts.visiting import visits as acts
from portal.api.http.idempotency import once
from portal.api.http.paging import PageQuery, links, offset
from portal.api.http.resource import made, shown, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, line_field, moment_of, name_field
from portal.api.http.versions import seen
from portal.api.http.warnings import warned, warnings_field
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Visit

blueprint = under_project("visits", "Who comes when, to do what.")


class WallClock(Instant):
    """As Instant, but a time without offset is the project's wall clock; the act finds the instant."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        return moment_of(value)


class VisitSchema(Strict):
    id = fields.Integer(dump_only=True)
    crew = name_field(80, required=True)
    purpose = name_field(255, required=True)
    phase = RowId(allow_none=True, strict=True)
    starts_at = WallClock(required=True)
    ends_at = WallClock(required=True)
    cancelled_at = Instant(dump_only=True)
    cancelled_because = fields.String(dump_only=True)
    warnings = warnings_field()


class CancelSchema(Strict):
    because = line_field(255, load_default="")


@blueprint.route("", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, VisitSchema(many=True))
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Visit, project_id, offset(query), query["per_page"])
    return rows, 200, links(query, total)


@blueprint.route("", methods=["POST"])
@once
@blueprint.arguments(VisitSchema)
@blueprint.response(201, VisitSchema)
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return made(acts.book_visit(who(), project_id, values, clock.now()))


@blueprint.route("/<int:visit_id>", methods=["GET"])
@blueprint.response(200, VisitSchema)
def one(project_id: int, visit_id: int) -> Any:
    return shown(in_project(Visit, project_id, visit_id))


@blueprint.route("/<int:visit_id>", methods=["PATCH"])
@blueprint.arguments(VisitSchema(partial=True))
@blueprint.response(200, VisitSchema)
@warned
def change(values: dict[str, Any], project_id: int, visit_id: int) -> Any:
    return shown(acts.change_visit(who(), project_id, visit_id, _seen(project_id, visit_id), values, clock.now()))


@blueprint.route("/<int:visit_id>/cancel", methods=["POST"])
@blueprint.arguments(CancelSchema, required=False)
@blueprint.response(200, VisitSchema)
@warned
def cancel(values: dict[str, Any], project_id: int, visit_id: int) -> Any:
    version = _seen(project_id, visit_id)
    return shown(acts.cancel_visit(who(), project_id, visit_id, version, because=values["because"], now=clock.now()))


def _seen(project_id: int, visit_id: int) -> int:
    return seen(in_project(Visit, project_id, visit_id).version, "visit")
