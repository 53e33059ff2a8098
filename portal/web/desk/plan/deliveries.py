"""Deliveries: ordered, changed, arrived."""

from datetime import UTC, datetime
from typing import Any

from flask import Response, url_for

from portal import clock
from portal.acts.visiting.deliveries import change_delivery, order_delivery, record_arrival, remove_delivery
from portal.api.http.shapes import Strict
from portal.api.resources.deliveries import ArrivalSchema, DeliveryChangeSchema, DeliverySchema
from portal.pages.undoing.taken_back import TAKEN_BACK
from portal.request.pressed import pressed_at
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project
from portal.store.rows.household import supplier_rows
from portal.store.tables import Delivery
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.slips import offer_back
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form, grouped
from portal.web.forms.plain_fields import HouseTime


class ArrivalForm(ArrivalSchema):
    at = HouseTime(load_default=None, allow_none=True)


_GROUP = "With whom, and under which number"


def _ordered_with(kept: str) -> list[Field]:
    """For the firm alone; folded, since an order stands on the plan without it."""
    names = [one.name for one in supplier_rows.every()]
    names += [kept] if kept and kept not in names else []
    return grouped(_GROUP, [
        Field("supplier", "Supplier", "choice", choices=[("", "Not said"), *((name, name) for name in names)]),
        Field("order_number", "Their order number"), Field("ordered_on", "Ordered on", "date"),
    ], folded=True)  # fmt: skip


_WHY = Field("reason", "Why on another day", hint="If a date changes. The household reads this.")


def delivery_form(
    snapshot: Snapshot, title: str, button: str, waiting: list[int], *, change: bool = False, supplier: str = ""
) -> Form:
    """`supplier`: who stands with the order, also where they were taken off the list since."""
    return Form(
        title,
        [
            Field("item", "What is ordered", required=True),
            Field("expected_on", "Likely to come on", "date", required=True),
            Field("expected_low", "At the earliest", "date", hint="Empty: on the likely day."),
            Field("expected_high", "At the latest", "date", hint="Empty: on the likely day."),
            *([_WHY] if change else []),
            Field("phases", "Which phases wait for it", "choices", choices=choices.startable(snapshot, waiting)),
            Field("note", "Note", hint="The household reads this."),
            *_ordered_with(supplier),
        ],
        DeliveryChangeSchema() if change else DeliverySchema(), button,
    )


@form_page(f"{PROJECT}/deliveries/new", "order_delivery")
def new_delivery(project_id: int) -> Response:
    def do(values: Values) -> str:
        order_delivery(who(), project_id, values, now=clock.now())
        return "The delivery is on the plan."

    form = delivery_form(read_snapshot(project_id), "Order a delivery", "Put it on the plan", [])
    return project_form(form, do, project_id, look=True)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/change", "change_delivery")
def edit_delivery(project_id: int, delivery_id: int) -> Response:
    delivery, waiting = in_project(Delivery, project_id, delivery_id), plan_rows.delivery_phases(delivery_id)

    def do(values: Values) -> str:
        blank = {name: values["expected_on"] for name in ("expected_low", "expected_high") if not values.get(name)}
        change_delivery(who(), project_id, delivery_id, seen(), values | blank, now=clock.now())
        return "The delivery is changed."

    form = delivery_form(read_snapshot(project_id), "Change a delivery", "Save the delivery", waiting, change=True,
                         supplier=_name_of(delivery))
    return project_form(form, do, project_id, _typed(delivery, waiting), look=True, seen=delivery.version)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/came", "record_arrival")
def it_came(project_id: int, delivery_id: int) -> Response:
    delivery = in_project(Delivery, project_id, delivery_id)

    def do(values: Values) -> str:
        record_arrival(who(), project_id, delivery_id, seen(), now=clock.now(), at=values["at"] or _pressed())
        return f"{delivery.item}: it came."

    form = Form(
        f"It came: {delivery.item}", [Field("at", "When it came", "moment", hint="Empty: just now.")],
        ArrivalForm(), "It came",
    )
    back = url_for("desk.not_come", project_id=project_id, delivery_id=delivery_id)
    answer = project_form(form, do, project_id, seen=delivery.version)
    return offer_back(answer, TAKEN_BACK["arrival_taken_back"].row, delivery.item, back)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/remove", "remove_delivery")
def drop_delivery(project_id: int, delivery_id: int) -> Response:
    delivery = in_project(Delivery, project_id, delivery_id)

    def do(values: Values) -> str:
        remove_delivery(who(), project_id, delivery_id, seen(), now=clock.now())
        return f"{delivery.item} is no longer on the plan."

    form = Form(f"Take off the plan: {delivery.item}", [], Strict(), "Take it off the plan",
                intro="No phase will wait for it any longer.")
    return project_form(form, do, project_id, seen=delivery.version)


def _pressed() -> datetime:
    return datetime.fromtimestamp(pressed_at(), UTC)


def _typed(delivery: Delivery, waiting: list[int]) -> dict[str, Any]:
    names = ("item", "expected_on", "expected_low", "expected_high", "note", "order_number", "ordered_on")
    return {name: getattr(delivery, name) for name in names} | {"phases": waiting, "supplier": _name_of(delivery)}


def _name_of(delivery: Delivery) -> str:
    supplier = supplier_rows.by_id().get(delivery.supplier_id)
    return supplier.name if supplier else ""
