"""Who delivers to the firm: their phone, and how many working days they take."""

from typing import Any

from portal.acts.actor import Actor, act, firm_act, known_values
from portal.acts.entries import keep_rest
from portal.acts.written import needed
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import planned_rows
from portal.store.rows.editable import add_row, change_row
from portal.store.rows.household import supplier_rows
from portal.store.tables import PlannedOrder, Supplier
from portal.words import typed

_PLAIN = ("name", "phone", "email", "lead_days")


@firm_act("add_supplier")
def add_supplier(actor: Actor, values: dict[str, Any]) -> Supplier:
    """Whoever was dropped comes back under the same name."""
    columns = known_values(values, *_PLAIN)
    columns["name"] = needed("name", columns["name"], "Give their name.", typed.line)
    dropped = supplier_rows.dropped(columns["name"])
    if dropped is not None:
        return change_row(Supplier, dropped.id, dropped.version, columns | {"dropped_at": None})
    return add_row(Supplier, **columns)


@firm_act("change_supplier")
def change_supplier(actor: Actor, supplier_id: int, seen: int, values: dict[str, Any]) -> Supplier:
    supplier(supplier_id)
    return change_row(Supplier, supplier_id, seen, known_values(values, *_PLAIN))


@firm_act("drop_supplier")
def drop_supplier(actor: Actor, supplier_id: int, seen: int, now: int) -> None:
    """They are chosen no more; orders that name them stay as they are."""
    supplier(supplier_id)
    change_row(Supplier, supplier_id, seen, {"dropped_at": now})


@act("choose_supplier")
def choose_supplier(actor: Actor, project_id: int, order_id: int, name: str | None, now: int) -> PlannedOrder:
    """With whom an item of the plan is to be ordered: from their lead follows by when."""
    order = planned_rows.order(project_id, order_id)
    planned_rows.settle(order, supplier=named(name))
    keep_rest(actor, project_id, "plan_changed", {"changed": [order.item]}, now)
    return order


def supplier(supplier_id: int) -> Supplier:
    """Raises NotFound."""
    found = supplier_rows.one(supplier_id)
    if found is None:
        raise NotFound(what="supplier")
    return found


def named(name: str | None, kept: int | None = None) -> int | None:
    """The id of the supplier who is called so; nobody for no name. One that was dropped stays where it is `kept`.
    Raises FieldRefused."""
    if not name:
        return None
    found = supplier_rows.called(name)
    if found is None or found.dropped_at is not None and found.id != kept:
        raise FieldRefused("supplier", f"No supplier is called “{name}”. Add them first, or choose one of the list.")
    return int(found.id)
