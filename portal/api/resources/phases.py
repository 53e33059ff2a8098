"""Phases: what they follow, what holds them, and when they started and finished."""

from typing import Any

from marshmallow import ValidationError, fields, post_load, validate, validates_schema

from portal import clock
from portal.acts.plan import phases as acts
from portal.acts.plan import starting
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import With, makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import (
    Hours,
    HouseholdJson,
    Instant,
    Strict,
    Whole,
    YesNo,
    day_field,
    line_field,
    name_field,
    note_field,
    text_field,
)
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.content import cures
from portal.pages.in_the_way import left_by_a_release
from portal.planning.household.services import read_takes
from portal.request.asking_first import FINISHES, STARTS, asking
from portal.store.reading.phase_views import phase_view, phase_views
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Phase

blueprint = under_project("phases", "Stretches of work by one trade, in a room.")

THREE_POINTS = ("low", "likely", "high")


class WorkSchema(Strict):
    """Crew hours: at best, most likely, at worst."""

    low = Hours(required=True)
    likely = Hours(required=True)
    high = Hours(required=True)

    @validates_schema
    def in_order(self, values: dict[str, Any], **kwargs: Any) -> None:
        if not values["low"] <= values["likely"] <= values["high"]:
            raise ValidationError("low, likely and high must come in this order.", "likely")


class FollowsSchema(Strict):
    phase = fields.Integer(required=True, strict=True)
    wait_hours = Hours(attribute="wait", load_default=0)


class PhaseSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = name_field(required=True)
    room = fields.Integer(allow_none=True, strict=True)
    crew = line_field(80)
    position = fields.Integer(strict=True, validate=validate.Range(0, 100_000))
    work_hours = Hours()
    work = Whole(WorkSchema)
    after = fields.List(Whole(FollowsSchema), validate=validate.Length(max=100))
    not_before = day_field(allow_none=True)
    held_by = fields.List(fields.Integer(strict=True), validate=validate.Length(max=100))
    note = note_field(2000)
    remaining_hours = Hours(attribute="remaining", allow_none=True)
    takes = HouseholdJson(lambda given: read_takes(given, cures()))
    state = fields.String(dump_only=True)
    started_at = Instant(dump_only=True)
    finished_at = Instant(dump_only=True)
    inspection_at = Instant(dump_only=True)
    stopped_at = Instant(dump_only=True)
    resumes_at = Instant(dump_only=True)
    stopped_reason = fields.String(dump_only=True, metadata={"description": "Why the work rests; empty: it does not."})
    warnings = warnings_field()

    @validates_schema
    def one_kind_of_work(self, values: dict[str, Any], partial: bool = False, **kwargs: Any) -> None:
        given = [name for name in ("work_hours", "work") if name in values]
        if len(given) > 1:
            raise ValidationError("Send work_hours or work, not both.", "work")
        if not given and not partial:
            raise ValidationError("Say how many hours of work it is.", "work_hours")

    @post_load
    def as_minutes(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        if "work_hours" in values:
            values["work"] = dict.fromkeys(THREE_POINTS, values.pop("work_hours"))
        if "work" in values:
            work = values.pop("work")
            values |= {f"work_{point}": work[point] for point in THREE_POINTS}
        return values


class WhenSchema(Strict):
    """`anyway`: also out of turn. Without it 409 says what is open (`obstacles`) and what it does to the finish
    (`finish`: `stands`, `would_be`)."""

    at = Instant(load_default=None, allow_none=True)
    anyway = YesNo(load_default=False)


class ReleaseSchema(Strict):
    reason = text_field(2000, required=True)


class LeftSchema(Strict):
    """`kind`: planned_question, phase, cure or delivery; `id` is that of it, of a cure that of the phase before it."""

    kind = fields.String()
    id = fields.Integer()
    words = fields.String()


class ReleasedSchema(PhaseSchema):
    """`still_in_the_way`: what a release does not lift."""

    still_in_the_way = fields.List(fields.Nested(LeftSchema), dump_only=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, PhaseSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Phase, project_id, offset(query), query["per_page"])
    return phase_views(project_id, rows), total


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(PhaseSchema)
@blueprint.response(201, PhaseSchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return phase_view(acts.add_phase(who(), project_id, values, now=clock.now()))


@blueprint.route("/<int:phase_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, PhaseSchema)
@shows_version
def one(project_id: int, phase_id: int) -> Any:
    return phase_view(in_project(Phase, project_id, phase_id))


@blueprint.route("/<int:phase_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(PhaseSchema(partial=True))
@needs_version(Phase, "phase_id")
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, phase_id: int, seen: int) -> Any:
    return phase_view(acts.change_phase(who(), project_id, phase_id, seen, values, now=clock.now()))


@blueprint.route("/<int:phase_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Phase, "phase_id")
@blueprint.response(204)
def remove(project_id: int, phase_id: int, seen: int) -> None:
    acts.remove_phase(who(), project_id, phase_id, seen, now=clock.now())


@blueprint.route("/<int:phase_id>/start", endpoint="start", methods=["POST"])
@idempotent
@blueprint.arguments(WhenSchema, required=False)
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def start(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """409 with the decisions in the way while the phase is held; with `obstacles` and what it does to the finish while
    what comes before it is open, unless `anyway`."""
    with asking(project_id, phase_id, STARTS, values["at"], clock.now()):
        return phase_view(starting.start_phase(
            who(), project_id, phase_id, now=clock.now(), at=values["at"], asks=not values["anyway"]
        ))


@blueprint.route("/<int:phase_id>/finish", endpoint="finish", methods=["POST"])
@idempotent
@blueprint.arguments(WhenSchema, required=False)
@blueprint.response(200, PhaseSchema)
@shows_version
@warned
def finish(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """409 with `obstacles` and what it does to the finish where its hours have hardly passed, or nobody works on that
    day, unless `anyway`."""
    with asking(project_id, phase_id, FINISHES, values["at"], clock.now()):
        return phase_view(starting.finish_phase(
            who(), project_id, phase_id, now=clock.now(), at=values["at"], asks=not values["anyway"]
        ))


@blueprint.route("/<int:phase_id>/release", endpoint="release", methods=["POST"])
@idempotent
@blueprint.arguments(ReleaseSchema)
@blueprint.response(200, ReleasedSchema)
@shows_version
@warned
def release(values: dict[str, Any], project_id: int, phase_id: int) -> Any:
    """Let it start without the approvals that hold it; the answer says what else still stands before it."""
    starting.release_phase(who(), project_id, phase_id, reason=values["reason"], now=clock.now())
    snapshot = read_snapshot(project_id)
    left = list(left_by_a_release(snapshot, snapshot.phase(phase_id), clock.now()))
    return With(phase_view(in_project(Phase, project_id, phase_id)), still_in_the_way=left)
