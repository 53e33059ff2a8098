"""Deliveries: ordered, changed, arrived."""

from typing import Any

from flask import Response

from portal import clock
from portal.acts.visiting.deliveries import change_delivery, order_delivery, record_arrival, remove_delivery
from portal.api.http.shapes import Strict
from portal.api.resources.deliveries import ArrivalSchema, DeliverySchema
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Delivery
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import HouseTime


class ArrivalForm(ArrivalSchema):
    at = HouseTime(load_default=None, allow_none=True)


def delivery_form(snapshot: Snapshot, title: str, button: str, waiting: list[int]) -> Form:
    return Form(
        title,
        [
            Field("item", "What is ordered", required=True),
            Field("expected_on", "Likely to come on", "date", required=True),
            Field("expected_low", "At the earliest", "date", hint="Empty: on the likely day."),
            Field("expected_high", "At the latest", "date", hint="Empty: on the likely day."),
            Field("phases", "Which phases wait for it", "choices", choices=choices.startable(snapshot, waiting)),
            Field("note", "Note", hint="The household reads this."),
        ],
        DeliverySchema(), button,
    )


@form_page(f"{PROJECT}/deliveries/new", "order_delivery")
def new_delivery(project_id: int) -> Response:
    def do(values: Values) -> str:
        order_delivery(who(), project_id, values)
        return "The delivery is on the plan."

    form = delivery_form(read_snapshot(project_id), "Order a delivery", "Put it on the plan", [])
    return project_form(form, do, project_id)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/change", "change_delivery")
def edit_delivery(project_id: int, delivery_id: int) -> Response:
    delivery, waiting = in_project(Delivery, project_id, delivery_id), plan_rows.delivery_phases(delivery_id)

    def do(values: Values) -> str:
        blank = {name: values["expected_on"] for name in ("expected_low", "expected_high") if not values.get(name)}
        change_delivery(who(), project_id, delivery_id, seen(), values | blank)
        return "The delivery is changed."

    form = delivery_form(read_snapshot(project_id), "Change a delivery", "Save the delivery", waiting)
    return project_form(form, do, project_id, _typed(delivery, waiting), seen=delivery.version)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/came", "record_arrival")
def it_came(project_id: int, delivery_id: int) -> Response:
    delivery = in_project(Delivery, project_id, delivery_id)

    def do(values: Values) -> str:
        record_arrival(who(), project_id, delivery_id, seen(), now=clock.now(), at=values["at"])
        return f"{delivery.item}: it came."

    form = Form(
        f"It came: {delivery.item}", [Field("at", "When it came", "moment", hint="Empty: just now.")],
        ArrivalForm(), "It came",
    )
    return project_form(form, do, project_id, seen=delivery.version)


@form_page(f"{PROJECT}/deliveries/<int:delivery_id>/remove", "remove_delivery")
def drop_delivery(project_id: int, delivery_id: int) -> Response:
    delivery = in_project(Delivery, project_id, delivery_id)

    def do(values: Values) -> str:
        remove_delivery(who(), project_id, delivery_id, seen())
        return f"{delivery.item} is no longer on the plan."

    form = Form(f"Take off the plan: {delivery.item}", [], Strict(), "Take it off the plan",
                intro="No phase will wait for it any longer.")
    return project_form(form, do, project_id, seen=delivery.version)


def _typed(delivery: Delivery, waiting: list[int]) -> dict[str, Any]:
    names = ("item", "expected_on", "expected_low", "expected_high", "note")
    return {name: getattr(delivery, name) for name in names} | {"phases": waiting}
