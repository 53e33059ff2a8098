"""Suppliers, and with whom things are ordered."""

import json
from datetime import date

import pytest

from portal.acts.refusals import FieldRefused, NotFound, Stale
from portal.acts.visiting.deliveries import change_delivery, order_delivery
from portal.acts.visiting.suppliers import add_supplier, change_supplier, choose_supplier, drop_supplier
from portal.planning.calendar.lead import allowed_day, order_by
from portal.planning.calendar.working_calendar import calendar_of
from portal.store.rows.household import supplier_rows
from portal.store.tables import Delivery, PlannedOrder, Supplier
from tests.house import NOW, House

YARD = {"name": "Pell Harbor Stone", "phone": "218-555-0190", "lead_days": 10}


def order(house: House, **values: object) -> Delivery:
    given = {"item": "Stone top", "expected_on": date(2026, 12, 16), **values}
    return order_delivery(house.office, house.project, given, now=NOW)


def test_an_order_says_with_whom_since_when_and_under_which_number(house: House) -> None:
    yard = add_supplier(house.office, dict(YARD))
    made = order(house, supplier="Pell Harbor Stone", order_number="A-4711", ordered_on=date(2026, 12, 2))
    row = Delivery.get_by_id(made.id)
    assert (row.supplier_id, row.order_number, row.ordered_on) == (yard.id, "A-4711", date(2026, 12, 2))
    with pytest.raises(FieldRefused, match="No supplier is called “Nobody”"):
        order(house, supplier="Nobody")


def test_who_is_dropped_is_chosen_no_more_and_stays_with_old_orders(house: House) -> None:
    yard = add_supplier(house.office, dict(YARD))
    made = order(house, supplier=yard.name)
    drop_supplier(house.office, yard.id, yard.version, NOW)
    assert supplier_rows.every() == []
    with pytest.raises(FieldRefused):
        order(house, supplier=yard.name)
    values = {"supplier": yard.name, "note": "Soon"}
    kept = change_delivery(house.office, house.project, made.id, made.version, values, NOW)
    assert kept.supplier_id == yard.id
    with pytest.raises(NotFound):
        change_supplier(house.office, yard.id, 2, {"phone": ""})
    assert add_supplier(house.manager, {"name": yard.name}).id == yard.id, "added again, it is the same one"


def test_two_of_one_name_and_an_old_version_are_refused(house: House) -> None:
    yard = add_supplier(house.office, dict(YARD))
    with pytest.raises(FieldRefused):
        add_supplier(house.office, dict(YARD))
    change_supplier(house.office, yard.id, yard.version, {"lead_days": 12})
    with pytest.raises(Stale):
        change_supplier(house.office, yard.id, yard.version, {"lead_days": 14})


def test_what_the_plan_wants_is_likely_ordered_where_the_same_was_before(house: House) -> None:
    yard = add_supplier(house.office, dict(YARD))
    other = Supplier.create(name="Alder Yard")
    wanted = PlannedOrder.create(project=house.other_project, item="stone top", phases=[])
    assert supplier_rows.likely_for(wanted) is None
    order(house, supplier=yard.name)
    found = supplier_rows.likely_for(wanted)
    assert found is not None and found.id == yard.id
    choose_supplier(house.office, house.other_project, wanted.id, other.name, NOW)
    found = supplier_rows.likely_for(PlannedOrder.get_by_id(wanted.id))
    assert found is not None and found.id == other.id


def test_the_day_to_order_by_is_the_inverse_of_the_days_they_take() -> None:
    week = {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")}
    calendar = calendar_of(json.dumps({"week": week, "holidays": None, "days_off": ["2026-12-25"]}), "America/Chicago")
    needed = date(2026, 12, 30)
    assert order_by(calendar, needed, 10) == date(2026, 12, 15)  # counted on a wall calendar, Christmas off
    assert allowed_day(calendar, order_by(calendar, needed, 10), 10) == needed
