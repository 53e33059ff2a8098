"""Ordered items, and the phases that wait for them."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep
from portal.acts.times import existing_local
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows
from portal.store.rows.editable import add_row, change_row, in_project, project_row, remove_row
from portal.store.tables import Delivery, Phase
from portal.words.dates import utc_text

_PLAIN = ("item", "expected_low", "expected_on", "expected_high", "note")


@act("order_delivery")
def order_delivery(actor: Actor, project_id: int, values: dict[str, Any]) -> Delivery:
    """`values`: item, expected_on, perhaps expected_low and expected_high, phases, note."""
    columns = known_values(values, *_PLAIN)
    for name in ("expected_low", "expected_high"):
        columns[name] = columns.get(name) or columns["expected_on"]
    _check_order(columns["expected_low"], columns["expected_on"], columns["expected_high"])
    delivery = add_row(Delivery, project=project_id, **columns)
    _set_phases(project_id, delivery, values)
    return delivery


@act("change_delivery")
def change_delivery(actor: Actor, project_id: int, delivery_id: int, seen: int, values: dict[str, Any]) -> Delivery:
    before = in_project(Delivery, project_id, delivery_id)
    columns = known_values(values, *_PLAIN)
    if "expected_on" in columns and "expected_low" not in columns and before.expected_low == before.expected_on:
        columns["expected_low"] = columns["expected_on"]
    if "expected_on" in columns and "expected_high" not in columns and before.expected_high == before.expected_on:
        columns["expected_high"] = columns["expected_on"]
    dates = [columns.get(name, getattr(before, name)) for name in ("expected_low", "expected_on", "expected_high")]
    _check_order(*dates)
    delivery = change_row(Delivery, delivery_id, seen, columns)
    _set_phases(project_id, delivery, values)
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


@act("remove_delivery")
def remove_delivery(actor: Actor, project_id: int, delivery_id: int, seen: int) -> None:
    in_project(Delivery, project_id, delivery_id)
    remove_row(Delivery, delivery_id, seen)


def _check_order(low: Any, likely: Any, high: Any) -> None:
    if not low <= likely <= high:
        raise FieldRefused("expected_on", "The earliest, likely and latest dates must come in this order.")


def _set_phases(project_id: int, delivery: Delivery, values: dict[str, Any]) -> None:
    if "phases" in values:
        for phase in values["phases"]:
            in_project(Phase, project_id, phase, field="phases")
        plan_rows.set_delivery_phases(delivery, values["phases"])
