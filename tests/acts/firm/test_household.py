"""Who is of the household, and may approve, is in the record: a decision for all may be settled by a change of it."""

from typing import Any

import pytest

from portal.acts.firm.projects import add_person, change_person, remove_person
from portal.acts.keeping.verifying import verify_project
from portal.acts.visiting.deliveries import record_arrival
from portal.pages.evidence.entry_words import entry_words
from portal.record.log.heads import Signer
from portal.store.engine.database import execute
from portal.store.rows import record_rows
from portal.store.tables import Delivery, Person
from tests.acts.kept import entries
from tests.house import NOW, House

BERIT = {"name": "Berit Okafor", "phone": "218-555-0177", "email": "berit@example.org"}


def told(house: House) -> list[dict[str, Any]]:
    return entries(house.project)


def words(house: House) -> list[str]:
    return [entry_words(entry, "America/Chicago") for entry in told(house)]


def change(house: House, person: int, **values: object) -> None:
    change_person(house.office, house.project, person, Person.get_by_id(person).version, values, NOW)


def test_who_is_added_and_removed_is_told_with_what_they_may(house: House) -> None:
    berit = add_person(house.office, house.project, dict(BERIT), NOW)
    remove_person(house.office, house.project, berit.id, berit.version, NOW)
    added, removed = told(house)
    assert added["kind"] == removed["kind"] == "household_changed"
    known = {"person": berit.id, "name": "Berit Okafor", "role": "homeowner", "may_approve": True}
    assert (added["body"], removed["body"]) == ({"did": "added", **known}, {"did": "removed", **known})
    assert words(house) == ["added Berit Okafor, who may approve", "removed Berit Okafor from the household"]


def test_neither_phone_nor_address_is_ever_in_the_record(house: House) -> None:
    berit = add_person(house.office, house.project, dict(BERIT), NOW)
    change(house, berit.id, phone="218-555-0178", may_approve=False)
    kept = b"".join(text for _, _, text in record_rows.every(house.project))
    assert len(told(house)) == 2 and b"555-0" not in kept and b"example" not in kept


def test_a_change_that_answers_do_not_depend_on_makes_no_entry(house: House) -> None:
    change(house, house.co_owner.id, phone="218-555-0179", email="jonas.okafor@example.org")
    assert told(house) == []


@pytest.mark.parametrize(("values", "said"), [
    ({"may_approve": False}, "changed what Jonas Okafor may do: Jonas Okafor may read and ask, but not approve"),
    ({"role": "designer"},
     "changed what Jonas Okafor may do: Jonas Okafor as the designer may propose, but not approve"),
    ({"name": "Jonas Berg"}, "changed the name of Jonas Okafor to Jonas Berg"),
    ({"name": "Jonas Berg", "may_approve": False},
     ("changed the name of Jonas Okafor to Jonas Berg; "
      "changed what Jonas Berg may do: Jonas Berg may read and ask, but not approve")),
])
def test_a_change_is_told_with_what_was_before(house: House, values: dict[str, Any], said: str) -> None:
    change(house, house.co_owner.id, **values)
    (entry,) = told(house)
    before = {"name": "Jonas Okafor", "role": "homeowner", "may_approve": True}
    assert entry["body"] == {"did": "changed", "person": house.co_owner.id, **before, **values, "before": before}
    assert words(house) == [said]


@pytest.mark.parametrize(("sql", "found"), [
    ("UPDATE person SET may_approve = FALSE WHERE name = 'Berit Okafor'", "Berit Okafor of the household is not as"),
    ("UPDATE person SET role = 'designer' WHERE name = 'Berit Okafor'", "Berit Okafor of the household is not as"),
    ("UPDATE person SET name = 'Nobody' WHERE name = 'Berit Okafor'", "Nobody of the household is not as"),
    ("DELETE FROM person WHERE name = 'Berit Okafor'", "Berit Okafor was added to the household"),
    ("UPDATE person SET phone = '218-555-0180'", ""),
])
def test_a_household_changed_past_the_product_is_found(house: House, sql: str, found: str) -> None:
    """The house's own people were laid down without entries, as by an earlier version: that is no fault."""
    execute("UPDATE project SET contract_cents = NULL")  # laid down without its entry
    add_person(house.office, house.other_project, dict(BERIT), NOW)
    assert verify_project(house.other_project, Signer(bytes(32))).ok
    execute(sql)
    verdict = verify_project(house.other_project, Signer(bytes(32)))
    assert found in str(verdict.first_fault) if found else verdict.ok, verdict


def test_the_arrival_of_an_item_that_a_phase_waits_for_is_told(house: House) -> None:
    item = Delivery.get_by_id(house.deliveries["stone"])
    record_arrival(house.manager, house.project, item.id, item.version, now=NOW)
    (entry,) = told(house)
    assert entry["kind"] == "delivery_arrived"
    assert entry["body"] == {"delivery": item.id, "item": item.item, "at": "2026-12-02T13:30:00Z"}
    assert words(house) == [f"noted that “{item.item}” came"]
