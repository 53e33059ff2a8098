"""Who reads prices is as an owner said last: changed past the product, verify names it."""

from typing import Any

import pytest

from portal.acts.firm.projects import add_person
from portal.acts.household.prices import hide_prices, show_prices
from portal.acts.keeping.verifying import verify_project
from portal.record.log.heads import Signer
from portal.record.verdict import Verdict
from portal.store.engine.database import execute
from portal.store.tables import Person
from tests.acts.kept import newest
from tests.demo_house import DemoHouse
from tests.house import NOW


@pytest.fixture
def pia(demo: DemoHouse) -> Person:
    return add_person(demo.told.manager, demo.project, {"name": "Pia Lindqvist", "role": "designer"}, NOW)


def said(demo: DemoHouse, pia: Person, shown: bool) -> None:
    (show_prices if shown else hide_prices)(demo.told.household[0], demo.project, pia.id, now=NOW)


def verified(demo: DemoHouse) -> Verdict:
    return verify_project(demo.project, Signer(demo.settings.record_key))


def put(pia: Person, may: Any) -> None:
    execute("UPDATE person SET reads_prices = ? WHERE id = ?", may, pia.id)


@pytest.mark.parametrize("shown", [True, False])
def test_what_an_owner_says_is_one_entry_and_said_again_none(demo: DemoHouse, pia: Person, shown: bool) -> None:
    said(demo, pia, True)
    if not shown:
        said(demo, pia, False)
    entry = newest(demo.project)
    assert entry["kind"] == ("prices_shown" if shown else "prices_hidden")
    assert (entry["body"]["person"], entry["body"]["name"]) == (pia.id, "Pia Lindqvist")
    said(demo, pia, shown)
    assert newest(demo.project) == entry
    assert Person.get_by_id(pia.id).reads_prices is shown and verified(demo).ok


def test_a_yes_that_no_owner_gave_is_found(demo: DemoHouse, pia: Person) -> None:
    put(pia, True)
    assert "Pia Lindqvist may read prices by the tables, but no owner has said so" in str(verified(demo).first_fault)


def test_a_yes_that_was_taken_away_past_the_product_is_found(demo: DemoHouse, pia: Person) -> None:
    said(demo, pia, True)
    assert verified(demo).ok
    put(pia, False)
    assert f"Person {pia.id} was let read prices, as the record tells" in str(verified(demo).first_fault)


def test_a_yes_that_came_back_past_the_product_is_found(demo: DemoHouse, pia: Person) -> None:
    said(demo, pia, True)
    said(demo, pia, False)
    assert verified(demo).ok
    put(pia, True)
    assert "Pia Lindqvist may read prices by the tables" in str(verified(demo).first_fault)
