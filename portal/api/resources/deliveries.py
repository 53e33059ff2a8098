"""Deliveries: ordered items that phases wait for."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.visiting import deliveries as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import With, makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, Strict, day_field, name_field, note_field
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.api.resources.visits import WallClock
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Delivery

blueprint = under_project("deliveries", "Ordered items, and the phases that wait for them.")


class DeliverySchema(Strict):
    id = fields.Integer(dump_only=True)
    item = name_field(200, required=True)
    expected_on = day_field(required=True)
    expected_low = day_field(allow_none=True)
    expected_high = day_field(allow_none=True)
    phases = fields.List(fields.Integer(strict=True), validate=validate.Length(max=100))
    note = note_field(2000)
    arrived_at = Instant(dump_only=True)
    warnings = warnings_field()


class ArrivalSchema(Strict):
    at = WallClock(load_default=None, allow_none=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, DeliverySchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Delivery, project_id, offset(query), query["per_page"])
    return [delivery_view(row) for row in rows], total


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(DeliverySchema)
@blueprint.response(201, DeliverySchema)
@makes
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return delivery_view(acts.order_delivery(who(), project_id, values))


@blueprint.route("/<int:delivery_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, DeliverySchema)
@shows_version
def one(project_id: int, delivery_id: int) -> Any:
    return delivery_view(in_project(Delivery, project_id, delivery_id))


@blueprint.route("/<int:delivery_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(DeliverySchema(partial=True))
@needs_version(Delivery, "delivery_id")
@blueprint.response(200, DeliverySchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, delivery_id: int, seen: int) -> Any:
    return delivery_view(acts.change_delivery(who(), project_id, delivery_id, seen, values))


@blueprint.route("/<int:delivery_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Delivery, "delivery_id")
@blueprint.response(204)
def remove(project_id: int, delivery_id: int, seen: int) -> None:
    acts.remove_delivery(who(), project_id, delivery_id, seen)


@blueprint.route("/<int:delivery_id>/arrival", endpoint="arrived", methods=["POST"])
@idempotent
@blueprint.arguments(ArrivalSchema, required=False)
@blueprint.response(200, DeliverySchema)
@shows_version
@warned
def arrived(values: dict[str, Any], project_id: int, delivery_id: int) -> Any:
    delivery = in_project(Delivery, project_id, delivery_id)
    return delivery_view(acts.record_arrival(
        who(), project_id, delivery_id, delivery.version, now=clock.now(), at=values["at"]
    ))


def delivery_view(delivery: Delivery) -> With:
    return With(delivery, phases=plan_rows.delivery_phases(delivery.id))
