"""Layouts over the API: dimensions as they are written on the job in; positions, checks and drawing out."""

from typing import Any
from xml.etree import ElementTree

import pytest

from portal.layouts.kinds import KINDS, lay_out
from tests.api.conftest import As
from tests.layouts.decks import deck_json, four_hole_json
from tests.layouts.test_faults import INDEPENDENT, mistyped, told
from tests.layouts.test_kinds import EXAMPLES
from tests.served import ApiClient, refused


def one_of(kind: str) -> dict[str, Any]:
    return next(data for name, data in EXAMPLES if name == kind)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_answers_with_ranked_layouts_checks_and_drawings(manager: ApiClient, kind: str) -> None:
    answer = manager.post(f"layouts/{kind}", one_of(kind)).get_json()
    expected = [layout.to_json() for layout in lay_out(kind, one_of(kind))]
    assert answer["kind"] == kind and answer["total"] == len(expected)
    for rank, (got, layout) in enumerate(zip(answer["layouts"], expected, strict=False), start=1):
        drawing = ElementTree.fromstring(got.pop("drawing"))
        assert drawing.get("role") == "img"
        assert got == layout | {"rank": rank}
    assert answer["suggestions"]


def test_a_hole_is_given_from_two_edges_in_words_and_mm(manager: ApiClient) -> None:
    best = manager.post("layouts/deck", deck_json()).get_json()["layouts"][0]
    (first, *_) = best["holes"]
    assert first["diameter"] == {"text": "1-3/8 in", "mm": 34.925}
    assert first["from_left_end"]["mm"] == pytest.approx(30 * 25.4)
    assert first["from_front_edge"]["text"].endswith(" in")


def test_only_so_many_are_sent_and_the_rest_counted(manager: ApiClient) -> None:
    answer = manager.post("layouts/deck?most=3&drawings=false", deck_json()).get_json()
    assert len(answer["layouts"]) == 3 < answer["total"]
    assert "drawing" not in answer["layouts"][0]
    refused(manager.post("layouts/deck?most=0", deck_json()), 422, "most")


def test_an_old_top_uses_its_holes_and_is_advised_of_the_fourth(manager: ApiClient) -> None:
    best = manager.post("layouts/deck", four_hole_json()).get_json()["layouts"][0]
    assert {hole["state"] for hole in best["holes"]} <= {"filled", "covered", "cap"}
    assert any("older tops often have four" in advice["text"] for advice in best["advice"])


def test_a_hole_for_soap_in_a_new_top_is_not_recommended(manager: ApiClient) -> None:
    best = manager.post("layouts/deck", deck_json()).get_json()["layouts"][0]
    assert any("not recommended in a new top" in advice["text"] for advice in best["advice"])


@pytest.mark.parametrize(("changed", "field"), [
    ({"faucet__hole": "1-3"}, "faucet.hole"), ({"faucet__hole": "35"}, "faucet.hole"),
    ({"faucet__hole": 35}, "faucet.hole"), ({"faucet__hole": "-1 in"}, "faucet.hole"),
    ({"faucet__outer_to_outer": "8 in spread"}, "faucet.outer_to_outer"),
    ({"top__width": "0 in"}, "top.width"), ({"top__width": None}, "top.width"), ({"top": None}, "top"),
    ({"top": []}, "top"), ({"top": "60 in"}, "top"), ({"accessories": {"name": "soap"}}, "accessories"),
    ({"minimums__between_holes": None}, "minimums.between_holes"), ({"minimums__source": None}, "minimums.source"),
    ({"accessories__1__flange": "1 in"}, "accessories.1.flange"), ({"accessories__0__colour": "red"},
     "accessories.0.colour"), ({"cutout__width": "50 in"}, "cutout.width"), ({"faucet__holes": "2"}, "faucet.holes"),
    ({"moon": "full"}, "moon"),
])  # fmt: skip
def test_what_can_not_be_used_is_named_with_its_path(manager: ApiClient, changed: dict[str, Any], field: str) -> None:
    problem = refused(manager.post("layouts/deck", deck_json(**changed)), 422, field)
    assert problem["errors"][0]["pointer"] == "#/" + field.replace(".", "/")


@pytest.mark.parametrize(("kind", "data", "wrong"), INDEPENDENT)
def test_all_that_is_wrong_is_told_in_one_answer(
    manager: ApiClient, kind: str, data: dict[str, Any], wrong: dict[str, Any]
) -> None:
    problem = refused(manager.post(f"layouts/{kind}", mistyped(data, wrong)), 422)
    assert {one["field"]: one["detail"] for one in problem["errors"]} == told(kind, data, wrong)
    assert all(one["pointer"] == "#/" + one["field"].replace(".", "/") for one in problem["errors"])


def test_a_fault_of_a_thing_and_one_of_its_fields_are_both_told(manager: ApiClient) -> None:
    holes = [{"from_left": "61 in", "from_front": "22 in", "diameter": "1 in", "name": " "}]
    problem = refused(manager.post("layouts/deck", deck_json(existing_holes=holes)), 422, "existing_holes.0.name")
    assert {one["field"] for one in problem["errors"]} == {"existing_holes.0", "existing_holes.0.name"}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("body", [{}, [], "deck", 7, None])
def test_a_body_without_dimensions_is_refused(manager: ApiClient, kind: str, body: Any) -> None:
    response = manager.post(f"layouts/{kind}", body)
    assert response.status_code in (400, 415, 422)
    refused(response, response.status_code)


def test_it_is_for_staff(sending_as: As) -> None:
    assert sending_as("office").post("layouts/deck", deck_json()).status_code == 200
    refused(sending_as("homeowner").post("layouts/deck", deck_json()), 403)
    refused(sending_as(None).post("layouts/deck", deck_json()), 401)


@pytest.mark.parametrize("kind", KINDS)
def test_the_blanks_of_a_kind_are_its_description(manager: ApiClient, kind: str) -> None:
    spec = manager.get("openapi.json").get_json()
    body = spec["paths"][f"/api/v1/layouts/{kind}"]["post"]["requestBody"]["content"]["application/json"]["schema"]
    described = spec["components"]["schemas"][body["$ref"].rsplit("/", 1)[1]]
    assert described["additionalProperties"] is False
    assert set(one_of(kind)) <= set(described["properties"])
    assert set(described["required"]) <= set(one_of(kind))


def test_a_blank_that_is_null_is_told_as_one_that_is_missing(manager: ApiClient) -> None:
    deck = deck_json()
    deck["minimums"]["between_holes"] = None
    problem = refused(manager.post("layouts/deck", deck), 422, "minimums.between_holes")
    assert "is missing" in problem["errors"][0]["detail"] and "maker's sheet" in problem["errors"][0]["detail"]
