"""What is asked of the cut-out and of the water: each can fail, ties pass, and what is not given is not checked."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.check import Check
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json, four_hole_json


def best(**changed: Any) -> DeckLayout:
    return deck.layouts(deck.from_json(deck_json(**({"faucet__holes": "1"} | changed))))[0]


def of(layout: DeckLayout, key: str) -> list[Check]:
    return [check for check in layout.checks if check.what.key == f"deck.{key}"]


# The cut-out runs from 15 to 45 in and from 3 to 19 in on a top of 25-1/2 in; its corners are 1 in.
@pytest.mark.parametrize(("key", "field", "just", "over"), [
    ("cutout-to-front", "cutout_to_front", "3 in", "3-1/16 in"),
    ("cutout-to-back", "cutout_to_back", "6-1/2 in", "6-9/16 in"),
    ("cutout-to-ends", "cutout_to_ends", "15 in", "15-1/16 in"),
    ("cutout-radius", "cutout_radius", "1 in", "1-1/16 in"),
])
def test_a_cut_out_that_just_meets_its_minimum_passes(key: str, field: str, just: str, over: str) -> None:
    assert of(best(), key) == []
    (tie,), (short,) = (of(best(**{f"minimums__{field}": value}), key) for value in (just, over))
    assert (tie.margin, tie.source) == (0, "the fabricator's sheet") and short.lacks == "1/16 in"
    assert not best(**{f"minimums__{field}": over}).ok


@pytest.mark.parametrize(("side", "just", "over"), [
    ("left_side", "15 in", "15-1/8 in"), ("right_side", "45 in", "44-7/8 in")])
def test_a_cut_out_lies_inside_the_cabinet(side: str, just: str, over: str) -> None:
    (tie,), (out,) = (of(best(**{f"cabinet__{side}": at}), "cutout-in-cabinet") for at in (just, over))
    assert tie.ok and out.lacks == "1/8 in" and out.stops
    assert of(best(cabinet=None), "cutout-in-cabinet") == []


def test_the_cut_out_of_an_old_top_is_there_already() -> None:
    found = deck.layouts(deck.from_json(four_hole_json(cabinet__left_side="16 in", minimums__cutout_to_front="9 in")))
    assert not any("cutout-" in check.what.key for check in found[0].checks)


# A row at 22 in: 3 in behind the near edge of the bowl, 19 in behind the far one.
@pytest.mark.parametrize(("reach", "failed"), [
    ("4-15/16 in", ["deck.water-near"]), ("5 in", []), ("9 in", []), ("17 in", []), ("17-1/16 in", ["deck.water-far"])])
def test_the_water_lands_between_the_near_and_the_far_edge_of_the_bowl_less_the_margin(
        reach: str, failed: list[str]) -> None:
    layout = best(faucet__reach=reach, minimums__into_bowl="2 in", place={"row_from_front": "22 in"}, accessories=None)
    assert [check.what.key for check in layout.failed] == failed
    assert of(best(), "water-near") == of(best(), "water-far") == []


def test_the_water_lands_in_the_bowl_that_it_suits_best() -> None:
    """Beside a bowl the spout is turned to it: 3 in to the side and 5 in to the front of (25, 24) is sqrt(34) in."""
    bowls = [{"from_left": "15 in", "from_front": "3 in", "width": "8 in", "depth": "17 in"},
             {"from_left": "26 in", "from_front": "10 in", "width": "19 in", "depth": "11 in"}]
    place = {"center_line": "25 in", "row_from_front": "24 in"}
    layout = best(bowls=bowls, minimums__into_bowl="2 in", place=place, accessories=None, minimums__to_back="3/4 in",
                  faucet__clearance_behind="3/4 in", top__splash=None)
    ((near,), (far,)) = of(layout, "water-near"), of(layout, "water-far")
    assert near.required == pytest.approx((3**2 + 5**2) ** 0.5 * 25.4, abs=1e-6)
    assert far.required == pytest.approx((3**2 + 12**2) ** 0.5 * 25.4, abs=1e-6)
    assert far.rule == "at most" and near.measured == far.measured == 9 * 25.4


def test_filtered_and_hot_water_land_inside_the_bowl_and_soap_only_reaches_it() -> None:
    layout = next(layout for layout in deck.layouts(deck.from_json(deck_json(minimums__into_bowl="1 in")))
                  if not layout.without)
    assert {check.about for check in of(layout, "water-near")} == {"faucet", "filtered water"}
    assert {check.about for check in of(layout, "reach")} == {"faucet", "filtered water", "soap dispenser"}


def test_a_row_is_found_that_lets_the_water_land_in_the_bowl() -> None:
    """Stone leaves 21-3/16 to 22-1/2 in; a reach of 4 in and 1 in into the bowl leave nothing past 22 in."""
    row = best(faucet__reach="4 in", minimums__into_bowl="1 in", accessories=None)
    assert row.ok and row.faucet.y.text == "21-5/8 in"
    assert best(faucet__reach="2 in", accessories=None).faucet.y.text == "21-7/8 in", "no row does"


def test_a_margin_that_leaves_nothing_of_the_bowl_is_refused() -> None:
    with pytest.raises(DimensionError, match="leaves nothing of the bowl") as refused:
        best(minimums__into_bowl="8 in")
    assert refused.value.field == "minimums.into_bowl"


@pytest.mark.parametrize(("at", "said"), [
    ({}, "on the middle of the bowl"), ({"center_line": "31-1/2 in"}, "1-1/2 in right of the middle of the bowl"),
    ({"center_line": "29-5/8 in"}, "3/8 in left of the middle of the bowl")])
def test_how_far_the_faucet_is_off_the_middle_of_the_bowl_is_said(at: dict[str, str], said: str) -> None:
    assert f"Faucet: {said}." in best(place=at, accessories=None).effects


def test_it_is_the_bowl_that_the_faucet_stands_at() -> None:
    bowls = [{"from_left": left, "from_front": "3 in", "width": width, "depth": "16 in"}
             for left, width in (("15 in", "10 in"), ("26 in", "19 in"))]
    at = {"32 in": "3-1/2 in left", "25-1/2 in": "5-1/2 in right"}
    for center, off in at.items():
        said = best(bowls=bowls, place={"center_line": center}, accessories=None).effects
        assert f"Faucet: {off} of the middle of the bowl." in said


@pytest.mark.parametrize(("part", "field", "value", "error"), [
    ("underneath__0", "from_left", "60 in", "underneath.0.from_left"),
    ("underneath__0", "from_front", "25-1/2 in", "underneath.0.from_front")])
def test_an_obstacle_typed_off_the_top_is_refused(part: str, field: str, value: str, error: str) -> None:
    with pytest.raises(DimensionError, match="lies past") as refused:
        best(**{f"{part}__{field}": value})
    assert refused.value.field == error


def test_so_is_a_pipe_and_a_bowl_and_what_is_half_under_the_top_is_not() -> None:
    pipe = {"name": "pipe", "from_left": "61 in", "from_front": "3 in", "diameter": "2 in"}
    with pytest.raises(DimensionError) as refused:
        best(underneath=[pipe])
    assert refused.value.field == "underneath.0.from_left"
    assert best(underneath=[pipe | {"from_left": "60-15/16 in"}]).ok
    bowl = {"from_left": "15 in", "from_front": "30 in", "width": "8 in", "depth": "17 in"}
    with pytest.raises(DimensionError) as refused:
        best(bowls=[bowl])
    assert refused.value.field == "bowls.0.from_front"


@pytest.mark.parametrize("changed", [
    {"cutout__from_left": "0 in", "cutout__width": "60 in"},
    {"cutout__from_front": "0 in", "cutout__depth": "25-1/2 in"}])
def test_a_cut_out_that_cuts_the_top_in_two_is_refused_and_one_open_side_is_not(changed: dict[str, str]) -> None:
    with pytest.raises(DimensionError, match="cuts the top in two") as refused:
        best(**changed, cabinet=None, underneath=None, accessories=None)
    assert refused.value.field.replace(".", "__") in changed
    apron = best(cutout__from_front="0 in", cutout__depth="19 in")
    assert apron.ok and of(apron, "cutout-to-ends") == []


def test_how_near_a_cut_out_comes_to_an_end_is_checked_or_said_to_be_unchecked() -> None:
    near = {"cutout__from_left": "1/4 in", "cabinet": None, "underneath": None, "accessories": None}
    assert "the cut-out to the ends of the top" in best(**near).not_checked
    (check,) = of(best(**near, minimums__cutout_to_ends="3 in"), "cutout-to-ends")
    assert check.lacks == "2-3/4 in" and check.stops
    mirrored = best(**near | {"cutout__from_left": "29-3/4 in"}, minimums__cutout_to_ends="3 in")
    assert of(mirrored, "cutout-to-ends")[0].lacks == "2-3/4 in"


@pytest.mark.parametrize(("bowl", "field"), [
    ({"from_left": "50 in", "from_front": "3 in", "width": "10 in", "depth": "20 in"}, "from_left"),
    ({"from_left": "0 in", "from_front": "20 in", "width": "60 in", "depth": "5 in"}, "from_left"),
    ({"from_left": "15 in", "from_front": "20 in", "width": "30 in", "depth": "5 in"}, "from_front"),
    ({"from_left": "12-15/16 in", "from_front": "3 in", "width": "10 in", "depth": "16 in"}, "from_left"),
    ({"from_left": "15 in", "from_front": "3 in", "width": "32-1/16 in", "depth": "16 in"}, "from_left"),
])
def test_a_bowl_that_does_not_lie_under_its_cut_out_is_refused(bowl: dict[str, str], field: str) -> None:
    with pytest.raises(DimensionError, match="does not lie under the cut-out") as refused:
        best(bowls=[bowl], faucet__reach="25 in", accessories=None)
    assert refused.value.field == f"bowls.0.{field}"


def test_a_bowl_may_be_a_little_wider_than_its_cut_out() -> None:
    wide = {"from_left": "13 in", "from_front": "1 in", "width": "34 in", "depth": "20 in"}
    assert best(bowls=[wide], accessories=None).ok


ALONE: dict[str, Any] = {
    "minimums__to_edge": "0 in", "cabinet": None, "underneath": [], "cutout__depth": "14 in", "faucet__base": "6 in",
    "faucet__reach": "30 in", "top__splash": "0 in", "accessories": None, "faucet__swing": None,
    "faucet__clearance_behind": None}


@pytest.mark.parametrize(("at", "margin"), [
    ("2 in", -1), ("3 in", 0), ("57 in", 0), ("58 in", -1)])
def test_a_base_does_not_reach_past_an_end_of_the_top(at: str, margin: int) -> None:
    layout = best(**ALONE, place={"center_line": at, "row_from_front": "22 in"})
    (check,) = of(layout, "flange-to-edges")
    assert check.margin == margin * 25.4 and layout.ok == (margin == 0)
    if margin:
        assert any(mend.startswith("Move the center line of the row 1 in") for mend in layout.mends)
