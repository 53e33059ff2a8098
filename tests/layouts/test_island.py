"""Knees and aisles as the planning guidelines have them (NKBA Kitchen Planning Guidelines)."""

import pytest

from portal.layouts.island import AISLES, KNEES, Seats, read_aisle, read_seats
from portal.layouts.json_fields import read
from portal.layouts.length import DimensionError, Length


@pytest.mark.parametrize(("height", "wide", "deep"), [
    ("30 in", "24 in", "18 in"), ("36 in", "24 in", "15 in"), ("42 in", "24 in", "12 in")])
def test_a_seat_is_24_in_wide_and_the_less_deep_the_higher_it_is(height: str, wide: str, deep: str) -> None:
    assert (KNEES[height].width.text, KNEES[height].depth.text) == (wide, deep)
    assert Seats(2, height).depth.text == deep and len(KNEES) == 3


def test_aisles_are_as_wide_as_their_use_asks_for() -> None:
    assert {use: least.text for use, least in AISLES.items()} == {
        "one cook": "42 in", "two cooks": "48 in", "walkway": "36 in", "seats, nobody passes": "32 in",
        "seats, one edges past": "36 in", "seats, one walks past": "44 in"}


def test_the_top_takes_from_an_aisle_what_it_reaches_into_it() -> None:
    across = read({"name": "range", "use": "one cook", "room": "44 in", "edge": "1-1/2 in"}, read_aisle)
    before = read({"name": "seats", "use": "walkway", "room": "60 in", "on_overhang_side": True}, read_aisle)
    out = Length.parse("15 in")
    assert (across.at_overhang, across.left(out).text) == (False, "42-1/2 in")
    assert (before.at_overhang, before.left(out).text) == (True, "45 in")
    assert not across.far and read({
        "name": "far", "use": "walkway", "room": "60 in", "edge": "1 in", "on_far_side": True}, read_aisle).far


@pytest.mark.parametrize(("changed", "field"), [
    ({"edge": "1 in", "on_overhang_side": True}, "edge"), ({"on_overhang_side": True, "on_far_side": True},
                                                           "on_far_side"), ({}, "edge"), ({"room": "0 in"}, "room")])
def test_an_aisle_is_on_one_side_and_its_edge_is_measured(changed: dict[str, object], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        read({"name": "one", "use": "walkway", "room": "60 in"} | changed, read_aisle)
    assert refused.value.field == field


@pytest.mark.parametrize("count", [0, 13, 2.5, True, "2"])
def test_seats_are_1_to_12(count: object) -> None:
    assert read({"count": 1, "height": "36 in"}, read_seats).count == 1
    assert read({"count": 12, "height": "36 in"}, read_seats).count == 12
    with pytest.raises(DimensionError, match="whole number from 1 to 12"):
        read({"count": count, "height": "36 in"}, read_seats)
