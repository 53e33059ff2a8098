"""An accessory leaves the even row when that alone makes it fit: by the least, along the row, and it is said."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from tests.layouts.decks import deck_json

GAP = [{"name": "air gap", "use": "air_gap", "hole": "1-1/4 in", "flange": "1-3/4 in", "may_omit": False,
        "side": "right"}]
CLIP = {"name": "clip", "from_left": "34 in", "from_front": "21 in", "width": "1 in", "depth": "2 in"}


def row(**changed: Any) -> DeckLayout:
    """A faucet at 30 in and an air gap right of it, 4 in on where nothing is in the way, at 22 in from the front."""
    place = {"pitch": "4 in", "row_from_front": "22 in"} | changed.pop("place", {})
    (layout,) = deck.layouts(deck.from_json(deck_json(
        **{"faucet__holes": "1", "accessories": GAP, "underneath": None, "place": place} | changed)))
    return layout


def sixteenths(count: int) -> str:
    return f"{count // 16}-{count % 16}/16 in"


def at(layout: DeckLayout) -> tuple[str, str]:
    (gap,) = layout.own
    return gap.x.text, gap.off_pitch.text


def test_it_stays_where_nothing_is_in_the_way() -> None:
    assert at(row()) == ("34 in", "0 mm")
    assert "of its place in the even row" not in " ".join(row().effects)


def test_it_moves_past_a_clip_by_the_least_that_passes() -> None:
    """The clip from 34 in to 35 in, 1/2 in free and half a hole of 1-1/4 in: 32-7/8 in at most, 36-1/8 in at least. At
    32-7/8 in there is less than 2 in of stone to the faucet's hole (30 + 11/16 + 2 + 5/8), so it is the other side."""
    layout = row(underneath=[CLIP])
    assert at(layout) == ("36-1/8 in", "2-1/8 in")
    assert layout.ok and layout.key == row().key
    assert ("Air gap: 6-1/8 in right of the center line, 2-1/8 in right of its place in the even row, clear of what is "
            "in the way there.") in layout.effects


def test_the_nearer_side_is_taken_and_in_whole_marks() -> None:
    near = row(underneath=[CLIP | {"from_left": "34-17/32 in"}])
    assert at(near) == ("33-3/8 in", "-5/8 in"), "33-13/32 in would do; a rule has sixteenths"
    metric = row(top={"width": "1524 mm", "depth": "25-1/2 in", "thickness": "30 mm"},
                 underneath=[CLIP | {"from_left": "34-17/32 in"}])
    assert metric.own[0].off_pitch.mm == -16, "15.08 mm would do; a rule has millimeters"


def test_it_moves_inside_the_cabinet_where_its_slot_is_outside() -> None:
    layout = row(cabinet={"left_side": "12-3/4 in", "right_side": "45 in"}, place={"pitch": "15 in"})
    assert at(layout) == ("43-3/8 in", "-1-5/8 in") and layout.ok


def test_the_next_one_moves_on_with_it() -> None:
    items = [*GAP, {"name": "tap", "hole": "1-1/4 in", "flange": "1-3/4 in", "side": "right", "may_omit": False}]
    found = deck.layouts(deck.from_json(deck_json(
        faucet__holes="1", accessories=items, underneath=[CLIP], place={"pitch": "4 in", "row_from_front": "22 in"})))
    layout = next(layout for layout in found if layout.row[1].name == "air gap")
    assert [(hole.name, hole.x.text) for hole in layout.row] == [
        ("faucet", "30 in"), ("air gap", "36-1/8 in"), ("tap", "39-3/8 in")]
    assert layout.ok and len({layout.key for layout in found}) == len(found)


def test_a_pitch_that_is_too_narrow_is_not_mended_by_stealth() -> None:
    layout = row(place={"pitch": "2 in"})
    assert at(layout) == ("32 in", "0 mm") and not layout.ok


@pytest.mark.parametrize("changed", [
    {"faucet__reach": "1 in"}, {"minimums__to_cutout": "4 in"}, {"top__thickness": "6 in"},
    {"underneath": [CLIP | {"from_left": "33 in", "width": "25 in"}]}])
def test_nothing_moves_where_that_alone_is_not_enough(changed: dict[str, Any]) -> None:
    layout = row(**({"underneath": [CLIP]} | changed))
    assert at(layout) == ("34 in", "0 mm") and not layout.ok


def test_an_even_row_comes_before_one_that_something_left() -> None:
    found = deck.layouts(deck.from_json(deck_json(
        faucet__holes="1", accessories=[GAP[0] | {"side": "either"}], underneath=[CLIP],
        place={"pitch": "4 in", "row_from_front": "22 in"})))
    assert [bool(layout.off_pitch) for layout in found] == [False, True] and found[1].ok
    assert "the air gap off the even row" in found[1].reason and "off the even row" not in found[0].reason


def test_it_never_jumps_over_the_faucet() -> None:
    """On its right no place is left, on the faucet's left there is: another layout, with another key, stands there."""
    wall = CLIP | {"from_left": "32 in", "width": "28 in"}
    assert not row(underneath=[wall]).ok
    left = row(underneath=[wall], accessories=[GAP[0] | {"side": "left"}])
    assert left.ok and left.key != row(underneath=[wall]).key


@settings(max_examples=12, deadline=None)
@given(st.integers(31 * 16, 40 * 16), st.integers(8, 40), st.integers(50, 80), st.integers(0, 16))
def test_no_mark_nearer_to_its_slot_would_do(left: int, width: int, pitch: int, below: int) -> None:
    """By trying every mark of the rule between the slot and where it went."""
    clip = CLIP | {"from_left": sixteenths(left), "width": sixteenths(width)}
    place = {"pitch": sixteenths(pitch)}
    changed: dict[str, Any] = {"underneath": [clip], "minimums__to_underneath": sixteenths(below)}
    layout = row(place=place, **changed)
    off = layout.own[0].off_pitch
    marks = int(abs(off.mm) / layout.deck.step.mm) if layout.ok else 16 * 8
    even = row(place=place, **(changed | {"underneath": None}))
    if not even.ok:
        return
    for mark in range(marks if layout.ok else marks + 1):
        for way in (-1, 1):
            inches = pitch + way * mark
            if inches > 0:
                tried = row(place={"pitch": sixteenths(inches)}, **changed)
                assert tried.own[0].off_pitch.mm or not tried.ok, (mark * way, clip)


def test_it_moves_on_by_the_slop_so_that_it_may_be_off_by_it() -> None:
    """36-1/8 in is clear of the clip; the hole may be off by 1/4 in, so it is 36-3/8 in."""
    layout = row(underneath=[CLIP], minimums__slop="1/4 in")
    assert at(layout) == ("36-3/8 in", "2-3/8 in") and layout.ok
    near = CLIP | {"from_left": "35-1/4 in"}
    assert at(row(underneath=[near])) == ("34 in", "0 mm")
    assert at(row(underneath=[near], minimums__slop="1/4 in"))[1] != "0 mm", "1/8 in is less than the slop"


def test_a_pitch_is_found_that_leaves_the_slop_to_both() -> None:
    """Half of 1-3/8 in, 2 in, half of 1-1/4 in make 3-5/16 in, and 3-1/2 in with 1/16 in for both; 4 in with 1/8 in."""
    pitches = [row(place={"pitch": None}, **slop).own[0].x.text for slop in (
        {}, {"minimums__slop": "1/16 in"}, {"minimums__slop": "1/8 in"})]
    assert pitches == ["33-1/2 in", "33-1/2 in", "34 in"]
    narrow = row(place={"pitch": "3-1/2 in"}, minimums__slop="1/8 in")
    assert [check.what.key for check in narrow.failed] == ["deck.room-to-drift"] * 2
    assert narrow.mends == ("Move the air gap 1/16 in to the right, or give the pitch 4 in.",)
