"""The levers of a faucet with three holes: each has its own room, beside the spout and what stands next to it."""

from typing import Any

from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from tests.layouts.decks import deck_json


def three(**changed: Any) -> DeckLayout:
    found = deck.layouts(deck.from_json(deck_json(**{"faucet__holes": "3", **changed})))
    return max(found, key=lambda layout: len(layout.holes))


def rooms(layout: DeckLayout) -> dict[str, float]:
    return {check.about: round(check.measured / 25.4, 6) for check in layout.checks
            if check.what.key == "deck.lever-swing"}


def test_each_lever_has_its_own_room_beside_everything_else() -> None:
    """Outer to outer 8 in, so 4 in from lever to spout; bases 2 in; the first accessory one pitch beside the lever."""
    layout = three(faucet__lever_swing="3 in", accessories=[
        {"name": "tap", "hole": "1 in", "flange": "2 in", "side": "right"}], place={"pitch": "5 in"})
    assert rooms(layout) == {
        "faucet, left beside faucet, middle": 3, "faucet, left beside faucet, right": 7,
        "faucet, right beside faucet, middle": 3, "faucet, right beside faucet, left": 7,
        "faucet, left beside tap": 12, "faucet, right beside tap": 4}
    assert layout.ok


def test_a_lever_that_strikes_the_spout_or_its_neighbour_fails() -> None:
    tap = [{"name": "tap", "hole": "1 in", "flange": "2 in", "side": "right"}]
    narrow = three(faucet__lever_swing="3-1/16 in", accessories=tap, place={"pitch": "4 in"})
    assert {check.about for check in narrow.failed} == {
        "faucet, left beside faucet, middle", "faucet, right beside faucet, middle", "faucet, right beside tap"}


def test_a_pitch_is_found_that_leaves_the_lever_its_room() -> None:
    """3 in for the lever and half a flange of 2-1/8 in is 4-1/16 in, up to the next half inch."""
    layout = three(faucet__lever_swing="3 in")
    own = sorted(float(hole.x.mm) / 25.4 for hole in layout.own)
    assert 34 + 4.5 in own or 26 - 4.5 in own
    assert not [check for check in layout.failed if check.what.key == "deck.lever-swing"]


def test_one_hole_and_no_room_that_is_given_are_not_checked() -> None:
    assert rooms(three()) == {}
    assert rooms(three(faucet__holes="1", faucet__lever_swing="3 in")) == {}


def test_the_clearance_behind_is_asked_of_each_of_three() -> None:
    behind = [check.about for check in three().checks if check.what.key == "deck.clearance-behind"]
    assert behind == ["faucet, left", "faucet, middle", "faucet, right"]


def test_the_range_of_the_sheet_is_held_in_a_new_top_too() -> None:
    range_ = [(check.rule, check.required) for check in three().checks if check.what.key == "deck.outer-to-outer"]
    assert range_ == [("at least", 190.5), ("at most", 215.9)]
    open_ = three(faucet__outer_least=None, faucet__outer_most=None)
    assert not [check for check in open_.checks if check.what.key == "deck.outer-to-outer"]
