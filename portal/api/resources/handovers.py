"""Hand-overs: a phase or the whole project, with the list of what is still open."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.household import handovers as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.resource import With, makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import (
    Instant,
    RowId,
    Strict,
    Whole,
    WhySchema,
    line_field,
    name_field,
    note_field,
    text_field,
)
from portal.api.http.versions import needs_version, shows_version
from portal.store.rows import handover_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Handover, OpenItem

blueprint = under_project("handovers", "Finished work, handed over with what is still open, and accepted.")


class ItemSchema(Strict):
    id = fields.Integer(dump_only=True)
    item = text_field(1000, required=True)
    room = RowId(allow_none=True, strict=True)
    who = line_field(80)
    by_on = fields.Date(allow_none=True)
    added_by = fields.String(dump_only=True)
    done_at = Instant(dump_only=True)


class HandoverSchema(Strict):
    id = fields.Integer(dump_only=True)
    phase = RowId(allow_none=True, strict=True, load_default=None)
    note = note_field(2000, load_default="")
    items_until = fields.Date(allow_none=True, load_default=None)
    also_open = fields.List(fields.Nested(ItemSchema), dump_only=True)
    items = fields.List(Whole(ItemSchema), validate=validate.Length(max=200), load_default=list)
    offered_at = Instant(dump_only=True)
    accepted_at = Instant(dump_only=True)
    accepted_name = fields.String(dump_only=True)
    taken_back_at = Instant(dump_only=True)
    taken_back_reason = fields.String(dump_only=True)


class UntilSchema(Strict):
    until = fields.Date(allow_none=True, load_default=None)


class AcceptSchema(Strict):
    name = name_field(required=True)
    seen = fields.Integer(required=True, strict=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.response(200, HandoverSchema(many=True))
def every(project_id: int) -> Any:
    return [_view(row) for row in handover_rows.of_project(project_id)]


@blueprint.route("", endpoint="offer", methods=["POST"])
@idempotent
@blueprint.arguments(HandoverSchema)
@blueprint.response(201, HandoverSchema)
@makes
def offer(values: dict[str, Any], project_id: int) -> Any:
    return _view(acts.offer_handover(who(), project_id, **values, now=clock.now()))


@blueprint.route("/<int:handover_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, HandoverSchema)
def one(project_id: int, handover_id: int) -> Any:
    return _view(in_project(Handover, project_id, handover_id))


@blueprint.route("/<int:handover_id>/items", endpoint="add_item", methods=["POST"])
@idempotent
@blueprint.arguments(ItemSchema)
@blueprint.response(201, ItemSchema)
def add_item(values: dict[str, Any], project_id: int, handover_id: int) -> Any:
    return acts.add_item(who(), project_id, handover_id, values, clock.now())


@blueprint.route("/items/<int:item_id>", endpoint="item", methods=["GET"])
@blueprint.response(200, ItemSchema)
@shows_version
def item(project_id: int, item_id: int) -> Any:
    return handover_rows.needed_item(project_id, item_id)


@blueprint.route("/items/<int:item_id>", endpoint="change_item", methods=["PATCH"])
@blueprint.arguments(ItemSchema(partial=True))
@needs_version(OpenItem, "item_id")
@blueprint.response(200, ItemSchema)
@shows_version
def change_item(values: dict[str, Any], project_id: int, item_id: int, seen: int) -> Any:
    return acts.change_item(who(), project_id, item_id, seen, values, clock.now())


@blueprint.route("/<int:handover_id>/take-back", endpoint="take_back", methods=["POST"])
@idempotent
@blueprint.arguments(WhySchema)
@blueprint.response(200, HandoverSchema)
def take_back(values: dict[str, Any], project_id: int, handover_id: int) -> Any:
    return _view(acts.take_back_handover(who(), project_id, handover_id, **values, now=clock.now()))


@blueprint.route("/items/<int:item_id>/done", endpoint="close_item", methods=["POST"])
@blueprint.response(200, ItemSchema)
def close_item(project_id: int, item_id: int) -> Any:
    return acts.close_item(who(), project_id, item_id, now=clock.now())


@blueprint.route("/<int:handover_id>/items-until", endpoint="change_items_until", methods=["POST"])
@idempotent
@blueprint.arguments(UntilSchema)
@blueprint.response(200, HandoverSchema)
def change_items_until(values: dict[str, Any], project_id: int, handover_id: int) -> Any:
    """`until`: the household's last day to add to the list, also once it is accepted; null: until it is accepted."""
    return _view(acts.change_items_until(who(), project_id, handover_id, **values, now=clock.now()))


@blueprint.route("/<int:handover_id>/accept", endpoint="accept", methods=["POST"])
@idempotent
@blueprint.arguments(AcceptSchema)
@blueprint.response(200, HandoverSchema)
def accept(values: dict[str, Any], project_id: int, handover_id: int) -> Any:
    """`seen`: how many items the list had when it was read, with those in `also_open`."""
    return _view(acts.accept_handover(who(), project_id, handover_id, **values, now=clock.now()))


def _view(row: Handover) -> With:
    """`also_open`: of the whole project, what is still open of its phases."""
    elsewhere = [] if row.phase_id is not None else handover_rows.open_elsewhere(row)
    return With(row, items=handover_rows.items(row.id), also_open=elsewhere)
