"""What a deck layout says of itself: why it ranks where it does, and what comes later, in the words of its numbers."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json, four_hole_json


def new_top(**changed: Any) -> list[DeckLayout]:
    return deck.layouts(deck.from_json(deck_json(faucet__holes="1", **changed)))


def old_top(**changed: Any) -> list[DeckLayout]:
    return deck.layouts(deck.from_json(four_hole_json(**changed)))


def in_order(layout: DeckLayout) -> list[str]:
    return [hole.name for hole in sorted(layout.holes, key=lambda hole: hole.x)]


def test_an_even_row_says_so_and_comes_before_one_that_runs_out_to_a_side() -> None:
    found = new_top()
    even = next(n for n, each in enumerate(found) if in_order(each) == ["filtered water", "faucet", "air gap"])
    right = next(n for n, each in enumerate(found) if in_order(each) == ["faucet", "filtered water", "air gap"])
    assert even < right
    assert found[even].reason.endswith("the row is even about the center line.")
    assert found[right].reason.endswith("the row runs out to the right.")


def test_a_lone_faucet_has_no_row_to_speak_of() -> None:
    assert new_top(accessories=[])[0].reason.endswith("one hole to drill.")


def test_the_tightest_check_is_named() -> None:
    best = new_top()[0]
    assert f"at the tightest ({best.tightest.name}, {best.tightest.about});" in best.reason


def test_in_an_old_top_the_reason_says_how_far_the_faucet_is_off_the_center_line() -> None:
    for layout in old_top():
        off = abs(layout.faucet.x - layout.deck.center_line)
        assert f"the faucet {off.text if off.mm else 'on the center line'}" in layout.reason


def test_what_is_left_out_can_take_the_place_of_a_cap_later_where_it_fits_the_hole() -> None:
    capped = next(layout for layout in old_top() if layout.caps and layout.unserved)
    assert f"No {capped.unserved[0].name}. Later it can stand where a cap is now." in capped.effects
    assert "drilling in the finished kitchen" in " ".join(new_top(accessories__1__use="other")[0].effects)


def test_without_a_cap_that_it_fits_a_hole_for_it_means_drilling() -> None:
    wide = old_top(accessories__0__hole="3 in", accessories__0__flange="4 in")
    assert all("dispenser. A hole for it later means drilling" in " ".join(layout.effects) for layout in wide)


@pytest.mark.parametrize(("place", "field"), [
    ({"center_line": "60 in"}, "place.center_line"), ({"row_from_front": "26 in"}, "place.row_from_front")])
def test_a_place_outside_the_top_is_refused(place: dict[str, str], field: str) -> None:
    with pytest.raises(DimensionError, match="lies past") as refused:
        deck.from_json(deck_json(place=place))
    assert refused.value.field == field
