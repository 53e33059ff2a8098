"""Layouts of a top that is drilled already: fewest caps first, nothing drilled, plates that cover, fillers that fit."""

from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.deck.holes import State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import DimensionError
from tests.layouts.decks import FOUR_HOLES, four_hole_json


def laid_out(**changed: Any) -> list[DeckLayout]:
    return deck.layouts(deck.from_json(four_hole_json(**changed)))


def sites(layout: DeckLayout, state: State) -> list[str]:
    return [hole.site for hole in layout.in_state(state)]


def test_fewest_caps_come_first() -> None:
    found = laid_out()
    passing = [len(layout.caps) for layout in found if layout.ok]
    assert passing == sorted(passing) and passing[0] == 0 and passing[-1] > 0


def test_nothing_is_drilled_and_every_hole_has_an_end() -> None:
    for layout in laid_out():
        assert not layout.drilled
        assert sorted(hole.site for hole in layout.holes) == ["hole 1", "hole 2", "hole 3", "hole 4"]


def test_no_minimum_is_asked_for_where_nothing_is_drilled() -> None:
    found = laid_out(minimums=None)
    assert found[0].ok and not any(check.name.startswith("hole to") for check in found[0].checks)


def test_titles_tell_the_layouts_apart() -> None:
    titles = [layout.title for layout in laid_out()]
    assert len(set(titles)) == len(titles)


def test_a_plate_covers_three_holes_and_leaves_the_fourth() -> None:
    found = laid_out(faucet__holes="1", accessories=None)
    plated = next(layout for layout in found if layout.plate and layout.ok)
    assert sites(plated, State.FILLED) == ["hole 2"] and sites(plated, State.COVERED) == ["hole 1", "hole 3"]
    assert sites(plated, State.CAP) == ["hole 4"]
    assert "The plate of the faucet covers hole 1 and hole 3." in plated.effects
    assert any("older tops often have four" in each.text for each in plated.advice)
    assert found[0].plate is plated.plate, "one cap with the plate, three without"


def test_an_accessory_fills_the_fourth_hole_instead_of_a_cap() -> None:
    best = laid_out(faucet__holes="1", faucet__plate__length="10-1/4 in", accessories__0__may_omit=True)[0]
    assert not best.caps


def test_a_plate_that_ends_in_a_hole_fails() -> None:
    found = laid_out(faucet__holes="1", accessories=None, faucet__plate__length="8 in")
    assert not any(layout.plate for layout in found), "seats that fit leave the ones that don't behind"
    holes = [{**FOUR_HOLES[1], "from_left": at, "diameter": "2-1/4 in"} for at in ("30 in", "33-1/2 in")]
    failing = laid_out(faucet__holes="1", accessories=None, faucet__plate__length="8 in", existing_holes=holes)
    assert {check.name for layout in failing for check in layout.failed} >= {"plate to hole", "base covers hole"}


def test_a_three_hole_faucet_takes_holes_within_its_range() -> None:
    found = laid_out(faucet__holes="3", accessories=None)
    assert {tuple(sites(layout, State.FILLED)) for layout in found} == {
        ("hole 1", "hole 2", "hole 3"), ("hole 2", "hole 3", "hole 4")}
    wide = laid_out(faucet__holes="3", accessories=None, faucet__outer_to_outer="10 in", faucet__outer_least="9 in",
                    faucet__outer_most="11 in")
    assert all({check.name for check in layout.failed} == {"outer hole to outer hole"} for layout in wide)


def test_an_accessory_fits_a_hole_that_it_covers_and_passes_through() -> None:
    narrow = [{**hole, "diameter": "1-1/4 in"} for hole in FOUR_HOLES[:1]] + FOUR_HOLES[1:]
    for layout in laid_out(existing_holes=narrow):
        for hole in layout.holes:
            assert (hole.name, hole.site) != ("filtered water", "hole 1"), "it needs 1-3/8 in"


def test_what_must_have_a_hole_is_shown_failing_rather_than_left_out() -> None:
    found = laid_out(accessories__2__hole="1-1/2 in", faucet__holes="1")
    assert all("hole wide enough" in {check.name for check in layout.failed} for layout in found)


def test_too_few_holes_are_refused_with_what_to_do() -> None:
    with pytest.raises(DimensionError, match="too few") as refused:
        laid_out(existing_holes=FOUR_HOLES[:1], faucet__holes="1")
    assert refused.value.field == "existing_holes" and "may_omit" in refused.value.message


def test_the_seat_nearest_the_center_line_comes_first_among_equals() -> None:
    assert sites(laid_out(faucet__holes="1")[0], State.FILLED)[0] == "hole 2"


def test_a_hole_in_the_cut_out_is_refused() -> None:
    holes = [{"from_left": "26 in", "from_front": "10 in", "diameter": "1-3/8 in"}, *FOUR_HOLES[1:]]
    with pytest.raises(DimensionError, match="lies in the cut-out") as refused:
        laid_out(existing_holes=holes)
    assert refused.value.field == "existing_holes.0"
    touching = [FOUR_HOLES[0] | {"from_front": "19-11/16 in"}, *FOUR_HOLES[1:]]
    assert laid_out(existing_holes=touching)
    with pytest.raises(DimensionError, match="lies in the cut-out"):
        laid_out(existing_holes=[FOUR_HOLES[0] | {"from_front": "19-5/8 in"}, *FOUR_HOLES[1:]])


def test_two_holes_in_one_another_are_refused() -> None:
    with pytest.raises(DimensionError, match="overlaps “hole 2”") as refused:
        laid_out(existing_holes=[*FOUR_HOLES, FOUR_HOLES[1] | {"from_left": "30-1/2 in"}])
    assert refused.value.field == "existing_holes.4"
    assert laid_out(existing_holes=[*FOUR_HOLES, FOUR_HOLES[1] | {"from_left": "31-3/8 in"}]), "they touch"


def test_neither_plate_nor_cap_nor_base_reaches_past_an_end_of_the_top() -> None:
    """The middle of the plate is 5 in from the end; half a plate is 5-1/8 in, half a cap 1-1/8 in."""
    holes = [FOUR_HOLES[0] | {"from_left": at} for at in ("1 in", "5 in", "9 in")]
    found = laid_out(existing_holes=holes, faucet__holes="1", faucet__plate__length="10-1/4 in", accessories=None,
                     cabinet=None, underneath=None, cutout__from_left="2 in", cap={"width": "2-1/4 in"})
    assert [layout.faucet.site for layout in found if layout.plate] == ["hole 3"]
    capped = next(layout for layout in found if "hole 1" in sites(layout, State.CAP))
    assert [check.lacks for check in capped.failed if check.what.key == "deck.cap-to-edges"] == ["1/8 in"]
    free = laid_out(existing_holes=holes, faucet__holes="1", faucet__plate__length="10 in", accessories=None,
                    cabinet=None, underneath=None, cutout__from_left="2 in")
    assert {layout.faucet.site for layout in free if layout.plate} == {"hole 2", "hole 3"}
