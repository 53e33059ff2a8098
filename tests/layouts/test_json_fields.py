"""Dimensions that can't be used are refused, and the refusal names the field."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json, four_hole_json


@pytest.mark.parametrize(("changed", "field", "why"), [
    ({"minimums__to_cutout": None}, "minimums.to_cutout", "is missing"),
    ({"minimums__between_holes": None}, "minimums.between_holes", "is missing"),
    ({"minimums__to_back": None}, "minimums.to_back", "is missing"),
    ({"minimums__to_edge": None}, "minimums.to_edge", "is missing"),
    ({"minimums__source": None}, "minimums.source", "is missing"),
    ({"minimums__to_cabinet_side": None}, "minimums.to_cabinet_side", "is missing"),
    ({"minimums__to_underneath": None}, "minimums.to_underneath", "is missing"),
    ({"minimums__to_cutuot": "1 in"}, "minimums.to_cutuot", "not a field"),
    ({"surprise": 1}, "surprise", "not a field"),
    ({"top": None}, "top", "is missing"), ({"top": "wide"}, "top", "must be an object"),
    ({"top__width": "60"}, "top.width", "no unit"), ({"top__width": "0 in"}, "top.width", "is zero"),
    ({"top__width": "100-1/16 ft"}, "top.width", "more than 100 ft"),
    ({"top__splash": "26 in"}, "top.splash", "as deep as the top"),
    ({"cutout__width": "50 in"}, "cutout.width", "past the right end"),
    ({"cutout__depth": "23 in"}, "cutout.depth", "past the back edge"),
    ({"cutout__corner_radius": "9 in"}, "cutout.corner_radius", "more than half"),
    ({"cabinet__right_side": "10 in"}, "cabinet.right_side", "not right of left_side"),
    ({"faucet__holes": "2"}, "faucet.holes", "must be one of: 1, 3, 1 or 3"),
    ({"faucet__outer_to_outer": None}, "faucet.outer_to_outer", "is missing"),
    ({"faucet__outer_to_outer": "8 in spread"}, "faucet.outer_to_outer", "outer to outer"),
    ({"faucet__base": "1 in"}, "faucet.base", "smaller than its hole"),
    ({"faucet__outer_least": "9 in"}, "faucet.outer_least", "more than outer_to_outer"),
    ({"faucet__outer_most": "7 in"}, "faucet.outer_most", "less than outer_to_outer"),
    ({"accessories__1__flange": "1 in"}, "accessories.1.flange", "smaller than its hole"),
    ({"accessories__1__name": "soap dispenser"}, "accessories.1.name", "there twice"),
    ({"accessories__1__name": "faucet"}, "accessories.1.name", "there twice"),
    ({"accessories__0__name": " "}, "accessories.0.name", "must be words"),
    ({"accessories__0__may_omit": "no"}, "accessories.0.may_omit", "true or false"),
    ({"accessories__0__side": "behind"}, "accessories.0.side", "must be one of"),
    ({"accessories": [{}] * 5}, "accessories", "at most 4"), ({"accessories": {}}, "accessories", "must be a list"),
    ({"measure_from": {"end": "middle"}}, "measure_from.end", "must be one of"),
    ({"place": {"pitch": "0 in"}}, "place.pitch", "is zero"),
])
def test_a_deck_is_refused_by_the_field_that_is_wrong(changed: dict[str, Any], field: str, why: str) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        deck.from_json(deck_json(**changed))
    assert refused.value.field == field


@pytest.mark.parametrize(("changed", "field", "why"), [
    ({"existing_holes__2__from_left": "61 in"}, "existing_holes.2", "outside the top"),
    ({"existing_holes__1__name": "hole 1"}, "existing_holes.1.name", "there twice"),
])
def test_an_existing_hole_is_where_the_top_is(changed: dict[str, Any], field: str, why: str) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        deck.from_json(four_hole_json(**changed))
    assert refused.value.field == field


@pytest.mark.parametrize("data", [None, [], "deck", 3])
def test_anything_but_an_object_is_refused(data: Any) -> None:
    with pytest.raises(DimensionError, match="must be an object"):
        deck.from_json(data)


def test_what_is_underneath_may_be_a_pipe_by_its_diameter() -> None:
    pipe = {"name": "vent", "from_left": "10 in", "from_front": "20 in", "diameter": "2 in"}
    (area,) = deck.from_json(deck_json(underneath=[pipe])).underneath
    assert (area.left.text, area.width.text, area.corner.text) == ("9 in", "2 in", "1 in")


def test_no_minimum_is_ever_invented() -> None:
    suggested = {each.field: each for each in deck.suggestions()}
    assert all(each.source for each in suggested.values())
    assert "no published minimum" in suggested["minimums.to_cutout"].text
