"""What a deck layout says of itself: why it ranks where it does, and what comes later, in the words of its numbers."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.deck import words
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json, four_hole_json

CUTOUT = ("the cut-out to the front edge", "the cut-out to the back edge", "the cut-out to the ends of the top",
          "the inside radius of the cut-out")


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


def test_a_new_top_says_what_is_drilled_where_and_what_goes_without() -> None:
    best = new_top()[0]
    assert best.effects == (
        "Drills three holes in the top.", "Faucet: on the middle of the bowl.",
        "Filtered water: 3-1/2 in left of the center line.",
        "Air gap: 3-1/2 in right of the center line.",
        "No soap dispenser. A hole for it later means drilling in the finished kitchen.")
    assert best.reason == (
        "All 38 checks pass, with 1/8 in to spare at the tightest (hole to hole, faucet and filtered water); soap "
        "dispenser left out; three holes to drill; the row is even about the center line.")
    assert best.cannot_be_undone == "A hole in stone can’t be closed again. If what stands in it goes, a cap stays."


@pytest.mark.parametrize(("material", "called"), [
    (None, "stone"), ("granite", "stone"), ("wood", "wood"), ("solid surface", "solid surface")])
def test_a_top_is_called_what_it_is_made_of(material: str | None, called: str) -> None:
    best = new_top(**({"material": material} if material else {}))[0]
    assert best.cannot_be_undone.startswith(f"A hole in {called} can’t be closed again.")
    assert any(f"the {called} for good" in each.text for each in best.advice)


def test_a_material_that_is_none_is_refused() -> None:
    with pytest.raises(DimensionError) as refused:
        new_top(material="cheese")
    assert refused.value.field == "material"


def test_an_old_top_says_which_hole_becomes_what() -> None:
    plated = next(one for one in old_top() if one.key == "deck:old:hole-2:plate:air-gap=hole-4")
    assert plated.effects[:4] == (
        "Drills nothing: the holes that are there are used.", "Faucet: on the middle of the bowl.",
        "Air gap: 8 in right of the center line.",
        "The plate of the faucet covers hole 1 and hole 3.")
    capped = next(one for one in old_top() if one.key == "deck:old:hole-2:air-gap=hole-4")
    assert capped.effects[1] == "Hole 1 and hole 3: closed with a cap that stays in sight."
    assert "two caps needed" in capped.reason and plated.cannot_be_undone == ""


def test_what_could_not_be_checked_is_said() -> None:
    bare = new_top(cabinet=None, underneath=None, minimums__to_cabinet_side=None, minimums__to_underneath=None,
                   faucet__swing=None, faucet__clearance_behind=None)[0]
    assert words.not_checked(bare) == (
        "the sides of the cabinet", "what is underneath (clips, rails, pipes)", *CUTOUT,
        "the room that the faucet needs to swing", "the clearance behind the faucet",
        "how far inside the bowl the water lands", "whether the top is too thick for the air gap")


def test_a_check_is_named_that_was_not_made_for_want_of_one_value() -> None:
    """And once the value is there, it no longer is."""
    given = {"minimums__cutout_to_front": "2 in", "minimums__cutout_to_back": "2 in", "minimums__into_bowl": "2 in",
             "minimums__cutout_to_ends": "3 in", "minimums__cutout_radius": "1/2 in",
             "accessories__2__thickest_top": "2 in"}
    assert words.not_checked(new_top(**given)[0]) == ()
    three = deck.layouts(deck.from_json(deck_json(faucet__holes="3", faucet__outer_most=None, **given)))[0]
    assert words.not_checked(three) == (
        "the room that each lever of the faucet needs", "how far apart the outer holes may be")
    bare = new_top(faucet__reach=None, accessories__1__thickest_top=None, accessories__1__reach=None)[0]
    assert words.not_checked(bare)[4:] == (
        "where the water of the faucet lands", "whether the top is too thick for the filtered water and the air gap",
        "whether the bowl is too far for the filtered water")
    old = next(layout for layout in old_top(minimums=None) if layout.caps)
    assert words.not_checked(old)[:2] == (
        "the stone around the holes that are there", "whether a cap covers hole 4")
    assert not any("cap" in each for each in words.not_checked(
        next(layout for layout in old_top(cap={"width": "2 in"}) if layout.caps)))
