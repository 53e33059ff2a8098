"""A question whose kept layout fails a new check: nothing changes by itself; desk, sheet and check page say so."""

import io
from copy import deepcopy

import pytest
from pypdf import PdfReader

from portal.store.rows import decision_rows
from portal.store.tables import Decision
from tests.drawn import TIGHT, approve_it, ask_deck
from tests.house import House
from tests.unguarded import as_asked_then
from tests.web.signed_in import Desk

FOUND = "The checks of today find: hole to hole, faucet and soap dispenser: 2-11/16 in, at least 3 in: fails"


@pytest.fixture
def asked(house: House) -> Decision:
    """Asked when the two holes kept every rule; by the checks of today they are too near each other."""
    decision = ask_deck(house)
    as_asked_then(decision.id, detail={"dimensions": deepcopy(TIGHT)})
    return decision


def text_of(desk: Desk, way: str) -> str:
    return " ".join(desk.open(way).says.replace("\u00a0", " ").split()).replace(" ,", ",")


def sheet_of(desk: Desk, house: House, asked: Decision, option: str) -> str:
    data = desk.client.get(f"/desk/projects/{house.project}/decisions/{asked.id}/sheet.pdf?option={option}").data
    return " ".join(PdfReader(io.BytesIO(data)).pages[0].extract_text().split())


def test_the_desk_says_so_at_the_decision_and_in_its_list(manager: Desk, house: House, asked: Decision) -> None:
    one = text_of(manager, f"/desk/projects/{house.project}/decisions/{asked.id}/")
    assert f"“Two holes”: {FOUND}" in one and "“One hole, for the faucet”: The checks" not in one
    assert f"“Two holes”: {FOUND}" in text_of(manager, f"/desk/projects/{house.project}/")
    row = decision_rows.revision(asked.id, 1)
    assert row.options[1]["detail"]["layout"]["ok"] is True and Decision.get_by_id(asked.id).state == "asked"


def test_sheet_and_check_page_say_so(manager: Desk, house: House, asked: Decision) -> None:
    assert FOUND in sheet_of(manager, house, asked, "b")
    assert "checks of today" not in sheet_of(manager, house, asked, "a")
    approve_it(house, asked, "b")
    said = text_of(manager, f"/check/{decision_rows.revision(asked.id, 1).check_code}/")
    assert FOUND in said and "Approved, but call the office first" in said
    assert FOUND in sheet_of(manager, house, asked, "b")


def test_where_nothing_is_found_nothing_is_said(manager: Desk, house: House) -> None:
    decision = ask_deck(house)
    for way in (f"/desk/projects/{house.project}/decisions/{decision.id}/", f"/desk/projects/{house.project}/"):
        assert "checks of today" not in text_of(manager, way)
    assert "checks of today" not in sheet_of(manager, house, decision, "b")
