"""Rooms of a project."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.firm import projects as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import HouseholdJson, Strict, name_field
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.planning.household.services import read_services
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Room

blueprint = under_project("rooms", "The rooms that the work is in.")


class RoomSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = name_field(required=True)
    position = fields.Integer(strict=True, validate=validate.Range(0, 100_000))
    services = HouseholdJson(read_services)
    warnings = warnings_field()


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, RoomSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    return page_of(Room, project_id, offset(query), query["per_page"])


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(RoomSchema)
@blueprint.response(201, RoomSchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return acts.add_room(who(), project_id, values, now=clock.now())


@blueprint.route("/<int:room_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, RoomSchema)
@shows_version
def one(project_id: int, room_id: int) -> Any:
    return in_project(Room, project_id, room_id)


@blueprint.route("/<int:room_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(RoomSchema(partial=True))
@needs_version(Room, "room_id")
@blueprint.response(200, RoomSchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, room_id: int, seen: int) -> Any:
    return acts.change_room(who(), project_id, room_id, seen, values, now=clock.now())


@blueprint.route("/<int:room_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Room, "room_id")
@blueprint.response(204)
def remove(project_id: int, room_id: int, seen: int) -> None:
    acts.remove_room(who(), project_id, room_id, seen, now=clock.now())
