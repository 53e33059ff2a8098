"""What is said to make a layout pass does make it pass: each way is applied, and the layout is made anew."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import deck
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.mends import Way, ways
from portal.layouts.deck.rules.checks import Checker
from portal.layouts.deck.rules.measures import of_places
from tests.layouts.decks import FOUR_HOLES, deck_json, four_hole_json

SOAP = [{"name": "soap dispenser", "use": "soap", "hole": "1-1/4 in", "flange": "2 in", "side": "right",
         "may_omit": False}]
CLIP = {"name": "clip", "from_left": "34 in", "from_front": "21 in", "width": "1 in", "depth": "2 in"}


def one(**changed: Any) -> DeckLayout:
    (layout,) = deck.layouts(deck.from_json(deck_json(
        **{"faucet__holes": "1", "accessories": SOAP, "underneath": None,
           "place": {"pitch": "4 in", "row_from_front": "22 in"}} | changed)))
    return layout


def applied(layout: DeckLayout, way: Way) -> list[str]:
    """The checks that still fail, of those that depend on places."""
    found = layout.deck
    if way.pitch is not None:
        return failing(again(replace(found, pitch=way.pitch), layout.key))
    if way.shallower is not None:
        cutout = replace(found.cutout, depth=found.cutout.depth - way.shallower)
        return failing(again(replace(found, cutout=cutout, bowls=(cutout,)), layout.key))
    (first, *_) = way.moves
    if first.name is None and first.right.mm:
        return failing(again(replace(found, center_line=found.center_line + first.right), layout.key))
    if first.name is None:
        return failing(again(replace(found, row=layout.faucet.y + first.back), layout.key))
    offs = {move.name: move.right for move in way.moves}
    things = tuple(
        replace(thing, holes=tuple(replace(hole, x=hole.x + offs[thing.name]) for hole in thing.holes))
        if thing.name in offs else thing for thing in layout.things)
    return [check.sentence for check in Checker(found).all(things) if of_places(check) and not check.ok]


def again(found: Deck, key: str) -> DeckLayout:
    return next(layout for layout in deck.layouts(found) if layout.key == key)


def failing(layout: DeckLayout) -> list[str]:
    return [check.sentence for check in layout.failed if of_places(check)]


def test_a_pitch_that_is_too_narrow_moves_the_accessory_or_gets_wider() -> None:
    """Half a hole of 1-3/8 in, 2 in of stone, half a hole of 1-1/4 in: 3-5/16 in."""
    layout = one(place={"pitch": "3 in", "row_from_front": "22 in"})
    assert layout.mends == ("Move the soap dispenser 5/16 in to the right, or give the pitch 3-1/2 in.",)
    assert [applied(layout, way) for way in ways(layout)] == [[], []]


def test_what_is_in_the_way_of_the_faucet_moves_the_center_line_or_the_row() -> None:
    """From the corner of the clip, 3/4 in to the left and 1/4 in behind, 1-3/16 in to the center: 7/16 in to the right,
    or sqrt(1-3/16 squared - 3/4 squared) - 1/4 = 0.671 in to the front."""
    clip = CLIP | {"from_left": "28-3/4 in", "width": "1/2 in", "from_front": "22-1/4 in"}
    layout = one(underneath=[clip], minimums__to_back="1-1/4 in", faucet__clearance_behind=None)
    assert layout.mends == (
        "Move the center line of the row 7/16 in to the right, or move the row 11/16 in to the front.",)
    assert [applied(layout, way) for way in ways(layout)] == [[], []]


def test_two_that_must_move_are_named_together() -> None:
    items = [*SOAP, SOAP[0] | {"name": "air gap", "use": "air_gap", "side": "left"}]
    layout = one(accessories=items, place={"pitch": "3 in", "row_from_front": "22 in"})
    (said,) = layout.mends
    assert said == ("Move the air gap 5/16 in to the left and the soap dispenser 5/16 in to the right, or give the "
                    "pitch 3-1/2 in.")
    assert all(applied(layout, way) == [] for way in ways(layout))


@pytest.mark.parametrize(("changed", "mend", "applied_"), [
    ({"top__thickness": "3 in"}, "Faucet: one that takes a top of 3 in.", {"faucet__thickest_top": "3 in"}),
    ({"minimums__cutout_to_front": "3-1/4 in"},
     "Move the cut-out 1/4 in to the back, or make it so much shallower.", {"cutout__from_front": "3-1/4 in"}),
    ({"minimums__cutout_to_back": "7 in"},
     "Move the cut-out 1/2 in to the front, or make it so much shallower.", {"cutout__from_front": "2-1/2 in"}),
    ({"cutout__from_left": "14 in", "minimums__cutout_to_ends": "14-1/2 in"}, "Move the cut-out 1/2 in to the right.",
     {"cutout__from_left": "14-1/2 in"}),
    ({"minimums__cutout_to_ends": "16 in"},
     "A cut-out of at most 28 in in width, between 16 in and 44 in from the left end.",
     {"cutout__width": "28 in", "cutout__from_left": "16 in"}),
    ({"cabinet": {"left_side": "16 in", "right_side": "43 in"}},
     "A cut-out of at most 27 in in width, between 16 in and 43 in from the left end.",
     {"cutout__width": "27 in", "cutout__from_left": "16 in"}),
    ({"minimums__cutout_radius": "1-1/2 in"}, "Corners of the cut-out of at least 1-1/2 in.",
     {"cutout__corner_radius": "1-1/2 in"}),
    ({"cabinet__left_side": "15-3/8 in"}, "Move the cut-out 3/8 in to the right.", {"cutout__from_left": "15-3/8 in"}),
    ({"cabinet__right_side": "44-1/2 in"}, "Move the cut-out 1/2 in to the left.", {"cutout__from_left": "14-1/2 in"}),
    ({"cabinet__left_side": "16 in", "cabinet__right_side": "45-1/2 in"},
     "A cut-out of at most 29-1/2 in in width, between 16 in and 45-1/2 in from the left end.",
     {"cutout__width": "29-1/2 in", "cutout__from_left": "16 in"}),
])
def test_what_must_change_is_said_by_how_much_and_changed_it_passes(
        changed: dict[str, Any], mend: str, applied_: dict[str, Any]) -> None:
    before = one(**changed)
    assert mend in before.mends
    after = one(**(changed | applied_))
    gone = {check.what.key for check in before.failed} - {check.what.key for check in after.failed}
    assert len(gone) == 1 and mend not in after.mends


def test_a_reach_that_no_place_mends_is_said_as_a_reach() -> None:
    """The row at 22 in, the bowl's near edge at 19 in; no nearer row has stone enough."""
    short = one(faucet__reach="1 in", accessories=None)
    assert short.mends == ("Faucet: a reach of at least 3 in.",)
    assert one(faucet__reach="3 in", accessories=None).mends == ()
    long = one(faucet__reach="18 in", accessories=None, minimums__into_bowl="2 in")
    assert "Faucet: a reach of at most 17 in." in long.mends
    assert one(faucet__reach="17 in", accessories=None, minimums__into_bowl="2 in").mends == ()


def test_both_kinds_are_said_where_both_fail() -> None:
    layout = one(place={"pitch": "3 in", "row_from_front": "22 in"}, top__thickness="3 in")
    assert layout.mends[0].startswith("Move the soap dispenser")
    assert layout.mends[1] == "Faucet: one that takes a top of 3 in."


def test_what_nothing_mends_says_by_how_much_it_fails() -> None:
    wall = one(minimums__to_cutout="22 in")
    assert ways(wall) == () and any("more." in mend for mend in wall.mends)


@pytest.mark.parametrize("slop", [{}, {"minimums__slop": "1/16 in"}])
def test_a_cut_out_that_leaves_no_row_behind_it_is_made_shallower_by_the_least(slop: dict[str, str]) -> None:
    """Its back is at 25 in. A hole of 1-3/8 in needs 2-3/16 in to it; 2-1/4 in behind it are free before 24-3/4 in."""
    for layout in deck.layouts(deck.from_json(deck_json(cutout__depth="22 in", **slop))):
        (way,) = ways(layout)
        assert way.shallower and applied(layout, way) == []
        less = "4-13/16 in" if slop else "4-11/16 in"
        assert layout.mends == (f"Make the cut-out {less} shallower.",)
        assert applied(layout, replace(way, shallower=way.shallower - layout.deck.step)) != []


def test_a_row_that_was_given_too_near_the_cut_out_moves_or_the_cut_out_is_made_shallower() -> None:
    wall = one(minimums__to_cutout="6 in")
    assert wall.mends == ("Make the cut-out 3-11/16 in shallower.",)
    assert [applied(wall, way) for way in ways(wall)] == [[]]


def old(**changed: Any) -> DeckLayout:
    return deck.layouts(deck.from_json(four_hole_json(**{"faucet__holes": "1", "accessories": None} | changed)))[0]


@pytest.mark.parametrize(("changed", "mend", "applied_"), [
    ({"cap": {"width": "1-1/4 in"}}, "Cap covers hole, cap over hole 4: 1/8 in more.", {"cap": {"width": "1-3/8 in"}}),
    ({"faucet__hole": "1-1/2 in"}, "Hole wide enough, faucet in hole 2: 1/8 in more.",
     {"existing_holes": [{**hole, "diameter": "1-1/2 in"} for hole in FOUR_HOLES]}),
    ({"faucet__reach": "2 in"}, "Faucet: a reach of at least 3 in.", {"faucet__reach": "3 in"}),
])
def test_an_old_top_says_by_how_much_and_changed_it_passes(
        changed: dict[str, Any], mend: str, applied_: dict[str, Any]) -> None:
    assert mend in old(**changed).mends
    assert old(**(changed | applied_)).mends == ()


def test_what_passes_needs_no_mending() -> None:
    assert one().mends == () and ways(one()) == ()


@settings(max_examples=6, deadline=None)
@given(st.integers(20, 80), st.integers(20 * 16, 25 * 16), st.integers(28 * 16, 37 * 16), st.integers(16 * 18, 16 * 23),
       st.integers(4, 40))
def test_every_way_that_is_offered_makes_it_pass(pitch: int, row: int, left: int, front: int, size: int) -> None:
    """In sixteenths of an inch, whatever is in the way."""
    def inches(count: int) -> str:
        return f"{count // 16}-{count % 16}/16 in"

    clip = CLIP | {"from_left": inches(left), "from_front": inches(front), "width": inches(size)}
    found = deck.from_json(deck_json(
        accessories=[*SOAP, SOAP[0] | {"name": "tap", "use": "other", "side": "either"}], underneath=[clip],
        place={"pitch": inches(pitch), "row_from_front": inches(row)}))
    for layout in deck.layouts(found):
        for way in ways(layout):
            assert applied(layout, way) == [], (layout.key, way)
