"""Where the row and its pitch are found, by hand from the least distances, and rounded as one marks them."""

import pytest

from portal.layouts import deck
from portal.layouts.deck.places import accessory_at, faucet_at, pitch, row
from portal.layouts.length import Length
from tests.layouts.decks import deck_json

# From the front: cut-out to 19 in, and 1-1/2 in of stone and half a hole of 1-3/8 in: 21-3/16 in at least. The face is
# at 24-3/4 in, and 2-1/4 in must be free behind: 22-1/2 in at most. Between: 21.84 in, 554.83 mm.


@pytest.mark.parametrize(("width", "found"), [("60 in", "21-7/8 in"), ("1524 mm", "555 mm")])
def test_a_row_is_in_the_middle_of_what_is_free_up_to_the_next_mark_of_the_rule(width: str, found: str) -> None:
    assert row(deck.from_json(deck_json(top__width=width))) == Length.parse(found)


def test_a_row_that_is_given_stays_and_one_that_can_not_be_is_the_middle_all_the_same() -> None:
    assert row(deck.from_json(deck_json(place={"row_from_front": "22 in"}))).text == "22 in"
    tight = deck.from_json(deck_json(minimums__to_back="4 in"))  # at least 21-3/16, at most 20-13/16 in
    assert row(tight).text == "21 in"


def test_a_row_is_not_rounded_past_the_last_place_that_is_free() -> None:
    """At least 21-3/16 in, at most 24-3/4 - 3-17/32 = 21-7/32 in: the middle, 21-13/64 in, would round up past it."""
    narrow = deck.from_json(deck_json(faucet__clearance_behind="3-17/32 in"))
    assert row(narrow).text == "21-13/64 in"


@pytest.mark.parametrize(("width", "found"), [("60 in", "3-1/2 in"), ("1524 mm", "90 mm")])
def test_a_pitch_keeps_every_two_apart_up_to_the_next_half_inch_or_centimeter(width: str, found: str) -> None:
    """Two holes of 1-3/8 in with 2 in between: 3-3/8 in, 85.7 mm, more than swing (3-1/16 in) and flanges ask for."""
    assert pitch(deck.from_json(deck_json(top__width=width))) == Length.parse(found)


def test_a_pitch_follows_what_asks_for_the_most() -> None:
    assert pitch(deck.from_json(deck_json(place={"pitch": "5 in"}))).text == "5 in"
    assert pitch(deck.from_json(deck_json(faucet__swing="4 in"))).text == "5-1/2 in"  # 4 + 1-1/16, up
    assert pitch(deck.from_json(deck_json(accessories__0__flange="8 in"))).text == "6 in"  # 2 + 4
    assert pitch(deck.from_json(deck_json(accessories=None))).text == "1/2 in"


def test_things_stand_at_even_slots_on_both_sides_of_the_faucet() -> None:
    found = deck.from_json(deck_json())
    y, step = row(found), pitch(found)
    three = faucet_at(found, 3, y)
    assert [(hole.name, hole.x.text) for hole in three.holes] == [
        ("faucet, left", "26 in"), ("faucet, middle", "30 in"), ("faucet, right", "34 in")]
    beside = [accessory_at(found, found.accessories[0], slot, 3, step, y).holes[0].x.text for slot in (-2, -1, 1, 2)]
    assert beside == ["19 in", "22-1/2 in", "37-1/2 in", "41 in"]
    alone = [accessory_at(found, found.accessories[0], slot, 1, step, y).holes[0].x.text for slot in (-1, 1)]
    assert alone == ["26-1/2 in", "33-1/2 in"]
    assert {hole.y for hole in three.holes} == {y} and three.spots[three.middle].name == "faucet, middle"
