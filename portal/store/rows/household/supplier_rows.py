"""Who delivers, and with whom something is likely ordered."""

from portal.store.engine.named_rows import first_value
from portal.store.tables import PlannedOrder, Supplier

_LAST_WITH = """SELECT d.supplier_id FROM delivery d JOIN supplier s ON s.id = d.supplier_id
    WHERE LOWER(d.item) = LOWER(?) AND s.dropped_at IS NULL ORDER BY d.id DESC LIMIT 1"""


def every() -> list[Supplier]:
    """Those that are chosen still, by name."""
    return list(Supplier.select().where(Supplier.dropped_at.is_null()).order_by(Supplier.name))


def one(supplier_id: int) -> Supplier | None:
    return Supplier.get_or_none((Supplier.id == supplier_id) & Supplier.dropped_at.is_null())


def by_id() -> dict[int, Supplier]:
    """Dropped ones, too."""
    return {row.id: row for row in Supplier.select()}


def called(name: str) -> Supplier | None:
    return Supplier.get_or_none(Supplier.name == name)


def dropped(name: str) -> Supplier | None:
    return Supplier.get_or_none((Supplier.name == name) & Supplier.dropped_at.is_null(False))


def likely_for(order: PlannedOrder) -> Supplier | None:
    """Whom somebody chose for it, or with whom the same item was ordered last, in any house."""
    chosen = order.supplier_id or first_value(_LAST_WITH, order.item)
    return Supplier.get_or_none(Supplier.id == chosen) if chosen else None
