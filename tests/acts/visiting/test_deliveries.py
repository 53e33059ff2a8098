"""Deliveries: three dates in their order, the phases that wait, and when it came."""

from datetime import date, datetime
from typing import Any

import pytest

from portal.acts.refusals import FieldRefused, NotFound, Stale
from portal.acts.visiting.deliveries import change_delivery, order_delivery, record_arrival, remove_delivery
from portal.store.rows import plan_rows
from portal.store.tables import Delivery
from tests.acts.kept import entries, kinds, newest
from tests.house import NOW, House, at

CLOSED = "The factory was closed"
NINTH, TENTH, TWELFTH = date(2026, 12, 9), date(2026, 12, 10), date(2026, 12, 12)


def order(house: House, **values: Any) -> Delivery:
    return order_delivery(house.office, house.project, {"item": "Hinges", "expected_on": TENTH} | values, now=NOW)


def change(house: House, delivery: Delivery, **values: Any) -> Delivery:
    values = {"reason": CLOSED} | values
    return change_delivery(house.office, house.project, delivery.id, delivery.version, values, now=NOW)


def dates(delivery: Delivery) -> tuple[date, date, date]:
    return delivery.expected_low, delivery.expected_on, delivery.expected_high


def test_with_one_date_it_is_expected_on_that_day_alone(house: House) -> None:
    delivery = order(house, note="At the side door")
    assert dates(delivery) == (TENTH, TENTH, TENTH)
    assert (delivery.item, delivery.note, delivery.arrived_at) == ("Hinges", "At the side door", None)
    (entry,) = entries(house.project)
    told = {"delivery": delivery.id, "item": "Hinges", "expected_on": "2026-12-10"}
    assert (entry["kind"], entry["body"]) == ("delivery_ordered", told)


def test_null_for_a_limit_is_the_likely_day(house: House) -> None:
    assert dates(order(house, expected_low=None, expected_high=TWELFTH)) == (TENTH, TENTH, TWELFTH)


@pytest.mark.parametrize("wrong", [{"expected_low": TWELFTH}, {"expected_high": NINTH}])
def test_the_three_dates_come_in_their_order(house: House, wrong: dict[str, date]) -> None:
    with pytest.raises(FieldRefused, match="must come in this order") as refused:
        order(house, **wrong)
    assert refused.value.field == "expected_on"
    good = order(house)
    with pytest.raises(FieldRefused, match="must come in this order"):
        change(house, good, **wrong)
    assert dates(Delivery.get_by_id(good.id)) == (TENTH, TENTH, TENTH)


def test_a_new_likely_day_takes_limits_along_that_were_the_same_day(house: House) -> None:
    assert dates(change(house, order(house), expected_on=TWELFTH)) == (TWELFTH, TWELFTH, TWELFTH)


def test_a_limit_of_its_own_stays_where_it_was(house: House) -> None:
    wide = order(house, expected_low=NINTH, expected_high=TWELFTH)
    assert dates(change(house, wide, expected_on=TWELFTH)) == (NINTH, TWELFTH, TWELFTH)
    late = order(house, expected_high=TWELFTH)
    assert dates(change(house, late, expected_on=NINTH)) == (NINTH, NINTH, TWELFTH)
    early = order(house, expected_low=NINTH)
    assert dates(change(house, early, expected_on=TWELFTH)) == (NINTH, TWELFTH, TWELFTH)


def test_a_limit_that_is_sent_along_counts(house: House) -> None:
    delivery = order(house)
    assert dates(change(house, delivery, expected_on=TWELFTH, expected_low=NINTH)) == (NINTH, TWELFTH, TWELFTH)
    delivery = order(house)
    assert dates(change(house, delivery, expected_on=NINTH, expected_high=TWELFTH)) == (NINTH, NINTH, TWELFTH)


def test_what_is_not_sent_stays(house: House) -> None:
    delivery = order(house, note="At the side door", phases=[house.phases["sink"]])
    changed = change(house, delivery, item="Hinges and screws")
    assert (changed.item, changed.note, dates(changed)) == ("Hinges and screws", "At the side door", dates(delivery))
    assert plan_rows.delivery_phases(delivery.id) == [house.phases["sink"]]


def test_phases_wait_for_it_and_no_longer_when_they_are_left_out(house: House) -> None:
    sink, grout = house.phases["sink"], house.phases["grout"]
    delivery = order(house, phases=[sink, grout])
    assert set(plan_rows.delivery_phases(delivery.id)) == {sink, grout}
    change(house, delivery, phases=[grout])
    assert plan_rows.delivery_phases(delivery.id) == [grout]


def test_a_phase_that_is_not_here_can_not_wait_for_it(house: House) -> None:
    before = Delivery.select().count()
    with pytest.raises(FieldRefused) as refused:
        order_delivery(
            house.office, house.other_project,
            {"item": "Hinges", "expected_on": TENTH, "phases": [house.phases["sink"]]}, now=NOW,
        )  # fmt: skip
    assert refused.value.field == "phases"
    assert Delivery.select().count() == before


def test_when_it_came_is_in_the_record(house: House) -> None:
    delivery = order(house)
    came = record_arrival(house.office, house.project, delivery.id, delivery.version, now=NOW)
    assert came.arrived_at == NOW
    entry = newest(house.project)
    assert (entry["kind"], entry["actor"]["name"]) == ("delivery_arrived", house.office.name)
    assert entry["body"] == {"delivery": delivery.id, "item": "Hinges", "at": "2026-12-02T13:30:00Z"}


def test_it_came_at_the_wall_clock_of_the_house(house: House) -> None:
    delivery = order(house)
    came = record_arrival(
        house.office, house.project, delivery.id, delivery.version, now=NOW, at=datetime(2026, 12, 1, 16, 5)
    )
    assert came.arrived_at == at("2026-12-01T16:05")


def test_it_came_when_it_really_came(house: House) -> None:
    """A minute of another clock is forgiven, not more."""
    delivery = order(house)
    with pytest.raises(FieldRefused, match="lies in the future") as refused:
        record_arrival(
            house.office, house.project, delivery.id, delivery.version, now=NOW, at=datetime(2026, 12, 2, 7, 31, 1)
        )
    assert refused.value.field == "arrived_at"
    assert kinds(house.project) == ["delivery_ordered"]
    came = record_arrival(
        house.office, house.project, delivery.id, delivery.version, now=NOW, at=datetime(2026, 12, 2, 7, 31)
    )
    assert came.arrived_at == NOW + 60


def test_who_has_seen_an_older_one_writes_nothing(house: House) -> None:
    delivery = order(house)
    change(house, delivery, note="At the back")
    with pytest.raises(Stale):
        change(house, delivery, note="In the garage")
    with pytest.raises(Stale):
        record_arrival(house.office, house.project, delivery.id, delivery.version, now=NOW)
    with pytest.raises(Stale):
        remove_delivery(house.office, house.project, delivery.id, delivery.version, now=NOW)
    kept = Delivery.get_by_id(delivery.id)
    assert (kept.note, kept.arrived_at) == ("At the back", None)
    assert kinds(house.project) == ["delivery_ordered", "delivery_changed"]


def test_a_delivery_is_taken_off_with_its_waits(house: House) -> None:
    delivery = order(house, phases=[house.phases["sink"]])
    remove_delivery(house.office, house.project, delivery.id, delivery.version, now=NOW)
    assert Delivery.get_or_none(Delivery.id == delivery.id) is None
    assert plan_rows.delivery_phases(delivery.id) == []


def test_the_delivery_of_another_house_is_not_found(house: House) -> None:
    delivery = order(house)
    for does in (
        lambda: change_delivery(house.office, house.other_project, delivery.id, delivery.version, {"note": "x"}, NOW),
        lambda: record_arrival(house.office, house.other_project, delivery.id, delivery.version, now=NOW),
        lambda: remove_delivery(house.office, house.other_project, delivery.id, delivery.version, now=NOW),
    ):
        with pytest.raises(NotFound):
            does()


@pytest.mark.parametrize("reason", ["", "  ", "-", None])
@pytest.mark.parametrize("day", [{"expected_on": TWELFTH}, {"expected_high": TWELFTH}])
def test_an_order_does_not_come_on_another_day_without_a_reason(
    house: House, day: dict[str, date], reason: str | None
) -> None:
    delivery = order(house)
    with pytest.raises(FieldRefused, match="Say why it comes on another day") as refused:
        change(house, delivery, reason=reason, **day)
    assert refused.value.field == "reason"
    assert dates(Delivery.get_by_id(delivery.id)) == (TENTH, TENTH, TENTH)
    assert change(house, delivery, reason=reason, note="At the back door", expected_on=TENTH).reason == ""


def test_the_reason_of_another_day_goes_on_the_record(house: House) -> None:
    changed = change(house, order(house), expected_on=TWELFTH, reason="The truck broke down")
    entry = newest(house.project)
    assert changed.reason == entry["body"]["reason"] == "The truck broke down"
    assert entry["kind"] == "delivery_changed"
