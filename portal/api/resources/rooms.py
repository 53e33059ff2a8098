"""Rooms of a project."""

from typing import Any

from marshmallow import fields, validate

from portal.acts.firm import projects as acts
from portal.api.http.idempotency import once
from portal.api.http.paging import PageQuery, links, offset
from portal.api.http.resource import made, shown, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import HouseholdJson, Strict, name_field
from portal.api.http.versions import seen
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


@blueprint.route("", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, RoomSchema(many=True))
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Room, project_id, offset(query), query["per_page"])
    return rows, 200, links(query, total)


@blueprint.route("", methods=["POST"])
@once
@blueprint.arguments(RoomSchema)
@blueprint.response(201, RoomSchema)
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return made(acts.add_room(who(), project_id, values))


@blueprint.route("/<int:room_id>", methods=["GET"])
@blueprint.response(200, RoomSchema)
def one(project_id: int, room_id: int) -> Any:
    return shown(in_project(Room, project_id, room_id))


@blueprint.route("/<int:room_id>", methods=["PATCH"])
@blueprint.arguments(RoomSchema(partial=True))
@blueprint.response(200, RoomSchema)
@warned
def change(values: dict[str, Any], project_id: int, room_id: int) -> Any:
    room = in_project(Room, project_id, room_id)
    return shown(acts.change_room(who(), project_id, room_id, seen(room.version, "room"), values))


@blueprint.route("/<int:room_id>", methods=["DELETE"])
@blueprint.response(204)
def remove(project_id: int, room_id: int) -> None:
    room = in_project(Room, project_id, room_id)
    acts.remove_room(who(), project_id, room_id, seen(room.version, "room"))
