"""Ordered items, and the phases that wait for them."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep, keep_rest
from portal.acts.refusals import NeverCame
from portal.acts.times import existing_local
from portal.acts.visiting.suppliers import named
from portal.acts.written import reason_given
from portal.store.reading.before_entries import newest_said
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows, planned_rows
from portal.store.rows.editable import add_row, change_row, in_project, project_row, remove_row
from portal.store.tables import Delivery, Phase, PlannedOrder
from portal.words.dates import utc_text

_PLAIN = ("item", "expected_low", "expected_on", "expected_high", "note", "order_number", "ordered_on")


@act("order_delivery")
def order_delivery(
    actor: Actor, project_id: int, values: dict[str, Any], now: int, planned: PlannedOrder | None = None
) -> Delivery:
    """`values`: item, expected_on, perhaps expected_low and expected_high, phases, note; supplier (by name),
    order_number, ordered_on. `planned`: the plan's order that it settles."""
    columns = known_values(values, *_PLAIN) | _supplier(values)
    for name in ("expected_low", "expected_high"):
        columns[name] = columns.get(name) or columns["expected_on"]
    _check_order(columns["expected_low"], columns["expected_on"], columns["expected_high"])
    delivery = add_row(Delivery, project=project_id, **columns)
    _set_phases(project_id, delivery, values)
    if planned:
        planned_rows.settle(planned, delivery=delivery)
    keep_rest(actor, project_id, "delivery_ordered", _told(delivery), now)
    return delivery


@act("change_delivery")
def change_delivery(
    actor: Actor, project_id: int, delivery_id: int, seen: int, values: dict[str, Any], now: int
) -> Delivery:
    """`values` as those of `order_delivery`, and `reason`, which must say why where its dates change."""
    before = in_project(Delivery, project_id, delivery_id)
    columns = known_values(values, *_PLAIN) | _supplier(values, before.supplier_id)
    if "expected_on" in columns and "expected_low" not in columns and before.expected_low == before.expected_on:
        columns["expected_low"] = columns["expected_on"]
    if "expected_on" in columns and "expected_high" not in columns and before.expected_high == before.expected_on:
        columns["expected_high"] = columns["expected_on"]
    dates = [columns.get(name, getattr(before, name)) for name in ("expected_low", "expected_on", "expected_high")]
    _check_order(*dates)
    if dates != [before.expected_low, before.expected_on, before.expected_high]:
        given = values.get("reason") or ""
        columns["reason"] = reason_given("reason", given, "Say why it comes on another day; the household reads it.")
    delivery = change_row(Delivery, delivery_id, seen, columns)
    _set_phases(project_id, delivery, values)
    because = {"reason": delivery.reason} if "reason" in columns else {}
    keep_rest(actor, project_id, "delivery_changed", _told(delivery) | because, now)
    return delivery


@act("record_arrival")
def record_arrival(
    actor: Actor, project_id: int, delivery_id: int, seen: int, *, now: int, at: Any = None
) -> Delivery:
    """The item is at the house, `at` (a datetime) or now. Phases wait for it, so the record tells when it came."""
    item = in_project(Delivery, project_id, delivery_id).item
    arrived = now if at is None else existing_local(at, project_row(project_id).timezone, "arrived_at")
    if arrived > now + 60:
        raise FieldRefused("arrived_at", "This lies in the future. Give the time when it really came.")
    delivery = change_row(Delivery, delivery_id, seen, {"arrived_at": arrived})
    body = {"delivery": delivery_id, "item": item, "at": utc_text(arrived)}
    keep(actor, project_id, "delivery_arrived", body, now)
    return delivery


@act("take_back_arrival")
def take_back_arrival(
    actor: Actor, project_id: int, delivery_id: int, *, reason: str, now: int, seen: int | None = None
) -> Delivery:
    """It has not come after all: phases that have not begun wait for it again. Raises NeverCame."""
    delivery = in_project(Delivery, project_id, delivery_id)
    reason = reason_given("reason", reason, "Say how the mistake came about; it goes on the record.")
    if delivery.arrived_at is None:
        raise NeverCame(item=delivery.item)
    said = newest_said(project_id, "delivery_arrived", "delivery", delivery_id)
    known = {} if said is None else {"entry": said.sequence, "since": said.written}
    body = {"delivery": delivery_id, "item": delivery.item, "at": utc_text(delivery.arrived_at), **known}
    delivery = change_row(Delivery, delivery_id, seen or delivery.version, {"arrived_at": None})
    keep(actor, project_id, "arrival_taken_back", body | {"reason": reason}, now)
    return delivery


@act("remove_delivery")
def remove_delivery(actor: Actor, project_id: int, delivery_id: int, seen: int, now: int) -> None:
    item = in_project(Delivery, project_id, delivery_id).item
    remove_row(Delivery, delivery_id, seen)
    keep_rest(actor, project_id, "delivery_removed", {"delivery": delivery_id, "item": item}, now)


def _told(delivery: Delivery) -> dict[str, Any]:
    return {"delivery": delivery.id, "item": delivery.item, "expected_on": delivery.expected_on.isoformat()}


def _supplier(values: dict[str, Any], kept: int | None = None) -> dict[str, Any]:
    return {"supplier": named(values["supplier"], kept)} if "supplier" in values else {}


def _check_order(low: Any, likely: Any, high: Any) -> None:
    if not low <= likely <= high:
        raise FieldRefused("expected_on", "The earliest, likely and latest dates must come in this order.")


def _set_phases(project_id: int, delivery: Delivery, values: dict[str, Any]) -> None:
    if "phases" in values:
        for phase in values["phases"]:
            in_project(Phase, project_id, phase, field="phases")
        plan_rows.set_delivery_phases(delivery, values["phases"])
