"""What is there already: its distances are said and stop nothing; the caps on what stays open are checked."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.deck.holes import State
from portal.layouts.deck.layout import DeckLayout
from tests.layouts.decks import FOUR_HOLES, four_hole_json


def laid_out(**changed: Any) -> list[DeckLayout]:
    return deck.layouts(deck.from_json(four_hole_json(**{"faucet__holes": "1", "accessories": None, **changed})))


def seated(found: list[DeckLayout], site: str) -> DeckLayout:
    return next(layout for layout in found if layout.faucet.site == site and not layout.plate)


def measured(layout: DeckLayout, key: str) -> dict[str, float]:
    return {check.about: round(check.measured / 25.4, 6) for check in layout.checks if check.what.key == f"deck.{key}"}


# Holes of 1-3/8 in at 26, 30, 34 and 38 in, their centers 22 in from the front edge.
@pytest.mark.parametrize(("key", "field", "limit", "number"), [
    ("there-to-hole", "between_holes", "2-11/16 in", 3), ("there-to-cutout", "to_cutout", "2-3/8 in", 4),
    ("there-to-back", "to_back", "2-7/8 in", 4), ("there-to-edges", "to_edge", "22 in", 4),
    ("there-to-cabinet", "to_cabinet_side", "8-5/8 in", 1), ("there-to-underneath", "to_underneath", "2-1/2 in", 1)])
def test_holes_that_are_there_and_nearer_than_is_asked_are_said_not_blamed(
        key: str, field: str, limit: str, number: int) -> None:
    found = laid_out(**{f"minimums__{field}": limit})
    for layout in found:
        assert [check.what.key for check in layout.noted] == [f"deck.{key}"] * number
        assert not any(check.what.key.startswith("deck.there") for check in layout.failed)
    said = [each for each in found[0].advice if "there already" in each.text]
    assert len(said) == number and said[0].source == "the fabricator's sheet"
    assert found[0].ok and not laid_out()[0].noted


def test_all_holes_that_are_there_are_measured_whatever_becomes_of_them() -> None:
    layout = laid_out()[0]
    assert len(measured(layout, "there-to-hole")) == 6 and len(measured(layout, "there-to-edges")) == 4
    assert measured(layout, "there-to-hole")["hole 1 and hole 2"] == 4 - 1.375
    assert not measured(laid_out(minimums=None)[0], "there-to-hole"), "nobody says how much is asked"


def test_what_is_there_does_not_count_as_the_tightest() -> None:
    best = laid_out(minimums__between_holes="3-1/2 in")[0]
    assert best.tightest.stops and best.spare.mm >= 0 and "checks pass, with" in best.reason


@pytest.mark.parametrize(("key", "just", "over"), [
    ("cap-covers", "1-3/8 in", "1-11/32 in"), ("cap-to-cap", "4 in", "4-1/32 in"),
    ("cap-to-flange", "6 in", "6-1/32 in"), ("cap-to-cutout", "6 in", "6-1/32 in"),
    ("cap-to-wall", "5-1/2 in", "5-17/32 in")])
def test_a_cap_that_just_fits_passes_and_a_little_less_room_fails(key: str, just: str, over: str) -> None:
    """From hole to hole 4 in, to a base of 2 in 3 in, to the cut-out 3 in, to the face of the splash 2-3/4 in."""
    fits, fails = (seated(laid_out(cap={"width": width}), "hole 2") for width in (just, over))
    assert f"deck.{key}" not in {check.what.key for check in fits.failed}
    assert f"deck.{key}" in {check.what.key for check in fails.failed}


def test_a_cap_lies_free_of_the_plate() -> None:
    holes = [{**hole, "from_left": at} for hole, at in zip(FOUR_HOLES, ("26 in", "30 in", "34 in", "36-3/4 in"),
                                                           strict=True)]
    plated = [next(layout for layout in laid_out(existing_holes=holes, cap={"width": width})
                   if layout.plate and layout.faucet.site == "hole 2") for width in ("3-1/4 in", "3-5/16 in")]
    keys = [[check.what.key for check in layout.failed] for layout in plated]
    assert keys == [[], ["deck.cap-to-plate"]], "the plate ends 1-5/8 in before the center of the fourth hole"


def test_a_cap_is_drawn_with_its_width_and_not_checked_without() -> None:
    for layout in laid_out(cap={"width": "2-1/4 in"}):
        assert {hole.flange.text for hole in layout.holes if hole.state is State.CAP and hole.flange} == {"2-1/4 in"}
    assert not any("cap-" in check.what.key for check in laid_out()[0].checks)
