"""Deliveries: ordered items that phases wait for."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.visiting import deliveries as acts
from portal.api.http.idempotency import once
from portal.api.http.paging import PageQuery, links, offset
from portal.api.http.resource import With, made, shown, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, Strict, day_field, name_field, note_field
from portal.api.http.versions import seen
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


@blueprint.route("", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, DeliverySchema(many=True))
def every(query: dict[str, Any], project_id: int) -> Any:
    rows, total = page_of(Delivery, project_id, offset(query), query["per_page"])
    return [delivery_view(row) for row in rows], 200, links(query, total)


@blueprint.route("", methods=["POST"])
@once
@blueprint.arguments(DeliverySchema)
@blueprint.response(201, DeliverySchema)
@warned
def add(values: dict[str, Any], project_id: int) -> Any:
    return made(delivery_view(acts.order_delivery(who(), project_id, values)))


@blueprint.route("/<int:delivery_id>", methods=["GET"])
@blueprint.response(200, DeliverySchema)
def one(project_id: int, delivery_id: int) -> Any:
    return shown(delivery_view(in_project(Delivery, project_id, delivery_id)))


@blueprint.route("/<int:delivery_id>", methods=["PATCH"])
@blueprint.arguments(DeliverySchema(partial=True))
@blueprint.response(200, DeliverySchema)
@warned
def change(values: dict[str, Any], project_id: int, delivery_id: int) -> Any:
    version = _seen(project_id, delivery_id)
    return shown(delivery_view(acts.change_delivery(who(), project_id, delivery_id, version, values)))


@blueprint.route("/<int:delivery_id>", methods=["DELETE"])
@blueprint.response(204)
def remove(project_id: int, delivery_id: int) -> None:
    acts.remove_delivery(who(), project_id, delivery_id, _seen(project_id, delivery_id))


@blueprint.route("/<int:delivery_id>/arrival", methods=["POST"])
@once
@blueprint.arguments(ArrivalSchema, required=False)
@blueprint.response(200, DeliverySchema)
@warned
def arrived(values: dict[str, Any], project_id: int, delivery_id: int) -> Any:
    delivery = in_project(Delivery, project_id, delivery_id)
    return shown(delivery_view(acts.record_arrival(
        who(), project_id, delivery_id, delivery.version, now=clock.now(), at=values["at"]
    )))


def _seen(project_id: int, delivery_id: int) -> int:
    return seen(in_project(Delivery, project_id, delivery_id).version, "delivery")


def delivery_view(delivery: Delivery) -> With:
    return With(delivery, phases=plan_rows.delivery_phases(delivery.id))
