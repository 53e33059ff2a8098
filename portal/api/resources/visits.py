"""Visits: booked appointments at the house."""

from typing import Any

from marshmallow import fields

from portal import clock
from portal.acts.visiting import visits as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, line_field, moment_of, name_field
from portal.api.http.versions import needs_version, shows_version
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


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, VisitSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    return page_of(Visit, project_id, offset(query), query["per_page"])


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(VisitSchema)
@blueprint.response(201, VisitSchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return acts.book_visit(who(), project_id, values, clock.now())


@blueprint.route("/<int:visit_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, VisitSchema)
@shows_version
def one(project_id: int, visit_id: int) -> Any:
    return in_project(Visit, project_id, visit_id)


@blueprint.route("/<int:visit_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(VisitSchema(partial=True))
@needs_version(Visit, "visit_id")
@blueprint.response(200, VisitSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, visit_id: int, seen: int) -> Any:
    return acts.change_visit(who(), project_id, visit_id, seen, values, clock.now())


@blueprint.route("/<int:visit_id>/cancel", endpoint="cancel", methods=["POST"])
@blueprint.arguments(CancelSchema, required=False)
@needs_version(Visit, "visit_id")
@blueprint.response(200, VisitSchema)
@shows_version
@warned
def cancel(values: dict[str, Any], project_id: int, visit_id: int, seen: int) -> Any:
    return acts.cancel_visit(who(), project_id, visit_id, seen, because=values["because"], now=clock.now())
