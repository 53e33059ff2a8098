"""Kept sizes over the API: the firm's, a house's, what is usual, and a part of some dimensions that names one."""

from typing import Any

import pytest

from portal.demo.dimensions import DECK
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

TOP = {"what": "top", "name": "Window wall", "source": "Sam, Nov 3", "values": {
    "length": "96 in", "depth": "25-1/2 in", "thickness": "3 cm", "splash": "1/2 in"}}  # fmt: skip


@pytest.fixture(params=["firm", "house"])
def path(request: pytest.FixtureRequest, house: House) -> str:
    return "sizes" if request.param == "firm" else f"projects/{house.project}/sizes"


def test_a_size_is_made_read_changed_as_it_was_seen_and_removed(manager: ApiClient, path: str) -> None:
    made = manager.post(path, TOP)
    assert made.status_code == 201
    where = made.headers["Location"].removeprefix("/api/v1/")
    assert where.startswith(f"{path}/")
    read = manager.get(where)
    assert read.get_json() == TOP | {"id": made.get_json()["id"]} and read.headers["ETag"] == '"1"'
    assert manager.get(path).get_json() == [read.get_json()]
    refused(manager.patch(where, {"name": "Wall"}), 428)
    changed = manager.patch(where, {"values": {"length": "8 ft"}}, If_Match='"1"')
    assert changed.get_json()["values"] == {"length": "8 ft"} and changed.headers["ETag"] == '"2"'
    refused(manager.patch(where, {"name": "Wall"}, If_Match='"1"'), 412)
    refused(manager.send("DELETE", where), 428)
    assert manager.send("DELETE", where, If_Match='"2"').status_code == 204
    refused(manager.get(where), 404)


@pytest.mark.parametrize(("changed", "field"), [
    ({"values": {"length": "1-3"}}, "values.length"), ({"values": {"width": "1 in"}}, "values.width"),
    ({"values": ["96 in"]}, "values"), ({"what": "wall"}, "what"), ({"name": " "}, "name"),
    ({"source": None}, "source"), ({"color": "gray"}, "color"),
])  # fmt: skip
def test_what_can_not_be_read_is_named_and_nothing_is_kept(
    manager: ApiClient, path: str, changed: dict[str, Any], field: str
) -> None:
    refused(manager.post(path, TOP | changed), 422, field)
    assert manager.get(path).get_json() == []


def test_all_values_that_can_not_be_read_are_named_at_once(manager: ApiClient, path: str) -> None:
    values = {"length": "1-3", "depth": "wide", "thickness": "3 cm", "width": "1 in"}
    problem = refused(manager.post(path, TOP | {"values": values}), 422, "values.length")
    assert [one["field"] for one in problem["errors"]] == ["values.length", "values.depth", "values.width"]


def test_the_office_keeps_a_houses_and_reads_the_firms(office: ApiClient, house: House) -> None:
    assert office.post(f"projects/{house.project}/sizes", TOP).status_code == 201
    refused(office.post("sizes", TOP), 403)
    assert office.get("sizes").get_json() == []


def test_a_houses_size_is_neither_the_firms_nor_another_houses(manager: ApiClient, house: House) -> None:
    size = manager.post(f"projects/{house.project}/sizes", TOP).get_json()["id"]
    refused(manager.get(f"sizes/{size}"), 404)
    refused(manager.get(f"projects/{house.other_project}/sizes/{size}"), 404)
    refused(manager.send("DELETE", f"sizes/{size}", If_Match='"1"'), 404)


def test_what_is_usual_names_its_source(office: ApiClient) -> None:
    usual = {one["key"]: one for one in office.get("sizes/usual").get_json()}
    assert usual["soap"]["values"]["hole"] == "1-1/4 in" and usual["soap"]["source"] == "trade guides"
    assert "hole" not in usual["hot_water"]["values"] and usual["hot_water"]["source"] == ""


def test_layouts_of_what_is_kept_are_those_of_what_it_holds(manager: ApiClient, house: House) -> None:
    firms = manager.post("sizes", TOP).get_json()["id"]
    houses = manager.post(f"projects/{house.project}/sizes", TOP).get_json()["id"]
    plain = manager.post("layouts/deck?drawings=false", DECK).get_json()
    for path, size in (("layouts/deck?drawings=false", firms),
                       (f"layouts/deck?drawings=false&project={house.project}", houses)):
        assert manager.post(path, DECK | {"top": {"kept": size}}).get_json() == plain
    problem = refused(manager.post("layouts/deck", DECK | {"top": {"kept": houses}}), 422, "top.kept")
    assert "is nothing that is kept for this house or by the firm" in str(problem["errors"])
    refused(manager.post("layouts/deck?project=x", DECK), 422, "project")


def test_what_a_kept_size_leaves_empty_is_still_asked(manager: ApiClient) -> None:
    thin = manager.post("sizes", TOP | {"values": {"length": "96 in"}}).get_json()["id"]
    problem = refused(manager.post("layouts/deck", DECK | {"top": {"kept": thin}}), 422)
    assert {error["field"] for error in problem["errors"]} == {"top.depth", "top.thickness"}


def test_a_question_may_name_what_is_kept(manager: ApiClient, house: House) -> None:
    size = manager.post(f"projects/{house.project}/sizes", TOP).get_json()["id"]
    asked = manager.post(f"projects/{house.project}/decisions", {
        "question": "Which holes?", "kind": "deck", "detail": {"dimensions": DECK | {"top": {"kept": size}}},
        "options": [{"title": "One", "detail": {"layout": "One hole for the faucet, and no other"}}],
    })  # fmt: skip
    assert asked.status_code == 201 and asked.get_json()["detail"] == {"dimensions": DECK}


def test_the_description_says_where_something_may_be_picked(sending_as: As) -> None:
    schemas = sending_as(None).client.get("/api/v1/openapi.json").get_json()["components"]["schemas"]
    top = schemas["DeckDimensionsTop"]
    assert "kept" in top["properties"] and "width" not in top.get("required", [])
    assert "kept" not in schemas["DeckDimensionsPlace"]["properties"]
    assert schemas["DeckDimensionsAccessories"]["properties"]["kept"]["type"] == ["integer", "string", "array", "null"]
