"""Deliveries: ordered items that phases wait for."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.visiting import deliveries as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import With, makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, Strict, day_field, line_field, name_field, note_field
from portal.api.http.versions import needs_version, shows_version
from portal.api.http.warnings import warned, warnings_field
from portal.api.resources.visits import WallClock
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project, page_of
from portal.store.rows.household import supplier_rows
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
    supplier = line_field(120, allow_none=True, metadata={"description": "By the name of one at the desk. For staff."})
    order_number = line_field(80, metadata={"description": "Theirs. For staff."})
    ordered_on = day_field(allow_none=True)
    arrived_at = Instant(dump_only=True)
    reason = fields.String(dump_only=True, metadata={"description": "Why its dates were changed, the last time."})
    warnings = warnings_field()


class DeliveryChangeSchema(DeliverySchema):
    reason = line_field(400, metadata={
        "description": "Why it comes on another day. Needed with another date; the household reads it."})


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
    return delivery_view(acts.order_delivery(who(), project_id, values, now=clock.now()))


@blueprint.route("/<int:delivery_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, DeliverySchema)
@shows_version
def one(project_id: int, delivery_id: int) -> Any:
    return delivery_view(in_project(Delivery, project_id, delivery_id))


@blueprint.route("/<int:delivery_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(DeliveryChangeSchema(partial=True))
@needs_version(Delivery, "delivery_id")
@blueprint.response(200, DeliverySchema)
@shows_version
@warned
def change(values: dict[str, Any], project_id: int, delivery_id: int, seen: int) -> Any:
    return delivery_view(acts.change_delivery(who(), project_id, delivery_id, seen, values, now=clock.now()))


@blueprint.route("/<int:delivery_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Delivery, "delivery_id")
@blueprint.response(204)
def remove(project_id: int, delivery_id: int, seen: int) -> None:
    acts.remove_delivery(who(), project_id, delivery_id, seen, now=clock.now())


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
    """With whom it was ordered, and under which number, is the firm's own business."""
    supplier = supplier_rows.by_id().get(delivery.supplier_id) if who().is_staff and delivery.supplier_id else None
    return With(
        delivery, phases=plan_rows.delivery_phases(delivery.id), supplier=supplier.name if supplier else None,
        order_number=delivery.order_number if who().is_staff else "",
        ordered_on=delivery.ordered_on if who().is_staff else None,
    )
