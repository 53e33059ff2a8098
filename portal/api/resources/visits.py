"""Visits: booked appointments at the house."""

from typing import Any

from marshmallow import fields

from portal import clock
from portal.acts.visiting import suiting
from portal.acts.visiting import visits as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import With, makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, Whole, YesNo, line_field, moment_of, name_field, note_field
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.store.rows import visit_rows
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Visit

blueprint = under_project("visits", "Who comes when, to do what.")


class WallClock(Instant):
    """As Instant, but a time without offset is the project's wall clock; the act finds the instant."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        return moment_of(value)


class VisitAnswerSchema(Strict):
    """What one person said of a visit as it is booked now."""

    person = fields.Integer(attribute="person_id", dump_only=True)
    suits = YesNo(required=True)
    why = note_field(suiting.LONGEST_WHY, load_default="")
    at = Instant(dump_only=True)
    starts_at = Instant(required=True)


class VisitSchema(Strict):
    id = fields.Integer(dump_only=True)
    crew = name_field(80, required=True)
    purpose = name_field(255, required=True)
    phase = RowId(allow_none=True, strict=True)
    starts_at = WallClock(required=True)
    ends_at = WallClock(required=True)
    were_here = YesNo(load_only=True, metadata={
        "description": "Must be true of a time that is over (`ends_at` is not after now): the crew was there. Of a "
        "time to come it says nothing."})
    cancelled_at = Instant(dump_only=True)
    cancelled_because = fields.String(dump_only=True)
    answers = fields.List(Whole(VisitAnswerSchema), dump_only=True)
    reason = fields.String(dump_only=True, metadata={"description": "Why it was moved, the last time."})
    warnings = warnings_field()


class VisitChangeSchema(VisitSchema):
    reason = line_field(400, metadata={
        "description": "Why it moves. Needed with another time; the household reads it."})


class CancelSchema(Strict):
    because = line_field(255, load_default="")


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, VisitSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    visits, total = page_of(Visit, project_id, offset(query), query["per_page"])
    return [_view(visit) for visit in visits], total


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(VisitSchema)
@blueprint.response(201, VisitSchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return _view(acts.book_visit(who(), project_id, values, clock.now()))


@blueprint.route("/<int:visit_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, VisitSchema)
@shows_version
def one(project_id: int, visit_id: int) -> Any:
    return _view(in_project(Visit, project_id, visit_id))


@blueprint.route("/<int:visit_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(VisitChangeSchema(partial=True))
@needs_version(Visit, "visit_id")
@blueprint.response(200, VisitSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, visit_id: int, seen: int) -> Any:
    return _view(acts.change_visit(who(), project_id, visit_id, seen, values, clock.now()))


@blueprint.route("/<int:visit_id>/cancel", endpoint="cancel", methods=["POST"])
@blueprint.arguments(CancelSchema, required=False)
@needs_version(Visit, "visit_id")
@blueprint.response(200, VisitSchema)
@shows_version
@warned
def cancel(values: dict[str, Any], project_id: int, visit_id: int, seen: int) -> Any:
    return _view(
        acts.cancel_visit(who(), project_id, visit_id, seen, because=values["because"], now=clock.now()))


@blueprint.route("/<int:visit_id>/answers", endpoint="suits", methods=["POST"])
@idempotent
@blueprint.arguments(VisitAnswerSchema)
@blueprint.response(201, VisitAnswerSchema)
def suits(values: dict[str, Any], project_id: int, visit_id: int) -> Any:
    """Say whether a visit suits, as often as one likes; the last word of each person counts until the visit is moved.
    `starts_at`: when it begins, as it was read."""
    suiting.count_visit_answer(who().key, clock.now())
    return suiting.answer_visit(who(), project_id, visit_id, **values, now=clock.now())


def _view(row: Visit) -> With:
    return With(row, answers=visit_rows.answers_standing(row))
