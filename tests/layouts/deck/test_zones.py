"""Where new holes may drift at once: by hand, on a strip of stone where every number can be added up."""

from fractions import Fraction
from typing import Any

import pytest

from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.rules.drift import grown
from portal.layouts.deck.zones import Zone, safe_zones
from portal.layouts.length import Length
from tests.layouts.decks import deck_json, four_hole_json


def first(**changed: Any) -> Any:
    return deck.layouts(deck.from_json(deck_json(**changed)))[0]


def strip(edge: str = "1 in", web: str = "2 in", slop: str | None = None, **faucet: Any) -> DeckLayout:
    """33 by 4 in, three holes of 1-3/8 in at 12-1/2, 16-1/2 and 20-1/2 in, 2 in from the front: 1-5/16 in to front and
    back, 2-5/8 in from hole to hole."""
    (layout,) = deck.layouts(deck.from_json({
        "top": {"width": "33 in", "depth": "4 in", "thickness": "30 mm"},
        "cutout": {"from_left": "1 in", "from_front": "0 in", "width": "2 in", "depth": "1/2 in"},
        "faucet": {"holes": "3", "hole": "1-3/8 in", "base": "2 in", "outer_to_outer": "8 in", "thickest_top": "2 in"}
        | faucet,
        "minimums": {"between_holes": web, "to_cutout": "1 in", "to_back": edge, "to_edge": edge, "slop": slop,
                     "source": "an invented sheet"},
        "place": {"center_line": "16-1/2 in", "row_from_front": "2 in"}}))
    return layout


def on_the_strip(**changed: Any) -> list[Zone]:
    return list(safe_zones(strip(**changed)))


def told(zones: list[Zone]) -> list[str]:
    return [zone.circle.text for zone in zones]


WIDE = {"outer_least": "7 in", "outer_most": "9 in"}


def test_a_zone_for_each_new_hole_and_none_for_what_fails_or_is_there() -> None:
    best = first()
    assert best.ok and [zone.hole for zone in safe_zones(best)] == list(best.drilled)
    assert safe_zones(first(faucet__reach="1 in")) == ()
    assert safe_zones(deck.layouts(deck.from_json(four_hole_json()))[0]) == ()


def test_what_is_left_to_the_edges_is_the_holes_own_and_what_is_between_two_is_shared() -> None:
    assert told(on_the_strip(**WIDE)) == ["5/16 in"] * 3, "1-5/16 in less 1 in"
    assert told(on_the_strip(edge="1/2 in", **WIDE)) == ["5/16 in"] * 3, "half of 2-5/8 in less 2 in"
    assert told(on_the_strip(edge="1/2 in", web="1 in", **WIDE)) == ["1/2 in", "13/16 in", "1/2 in"], (
        "9 in less 8 in for both outer ones; the middle one to the edges")


def test_the_outer_two_stay_within_their_range_and_without_one_where_they_are() -> None:
    assert told(on_the_strip(outer_least="7-1/2 in", outer_most="8-1/2 in")) == ["1/4 in", "5/16 in", "1/4 in"]
    assert told(on_the_strip(outer_least="7-3/4 in", outer_most="9 in")) == ["1/8 in", "5/16 in", "1/8 in"]
    zones = on_the_strip()
    assert told(zones) == ["0 in", "5/16 in", "0 in"]
    assert {zones[0].outline} == {((12.5 * 25.4, 50.8),) * 3}


def test_holes_that_just_meet_their_minimum_may_not_drift() -> None:
    assert told(on_the_strip(edge="1-5/16 in", web="2-5/8 in", **WIDE)) == ["0 in"] * 3


def test_slop_is_taken_off_and_half_of_what_the_bit_is_wider() -> None:
    """Circles of 5/16 in, 7.9375 mm. A bit of 35 mm is 0.075 mm wider than 1-3/8 in; where the slop leaves nothing for
    it, it is not named."""
    zones = on_the_strip(slop="1/16 in", **WIDE)
    assert [zone.tolerance.mm for zone in zones] == [Fraction("6.35") - Fraction("0.0375")] * 3
    assert {tuple(bit.text for bit in zone.bits) for zone in zones} == {("1-3/8 in", "35 mm")}
    tie = on_the_strip(slop="5/16 in", **WIDE)
    assert {(zone.tolerance.mm, *(bit.text for bit in zone.bits)) for zone in tie} == {(0, "1-3/8 in")}


def test_no_bit_is_named_that_shows_beside_the_base_or_has_no_room_in_one_hole_of_its_size() -> None:
    assert {zone.bits for zone in on_the_strip(**WIDE, base="1-3/8 in")} == {(Length.parse("1-3/8 in"),)}
    held = on_the_strip()
    assert told(held) == ["0 in", "5/16 in", "0 in"]
    assert {zone.bits for zone in held} == {(Length.parse("1-3/8 in"),)} and held[1].tolerance.text == "5/16 in"
    assert {zone.bits for zone in on_the_strip(hole="34.8 mm", edge="33.4 mm")} == {()}, "1-3/8 in is 0.125 mm wider"


@pytest.mark.parametrize(("slop", "changed", "short"), [
    ("5/16 in", WIDE, []), ("11/32 in", WIDE, ["the faucet, left", "the faucet, middle", "the faucet, right"]),
    ("1/4 in", {"outer_least": "7-3/4 in", "outer_most": "9 in"}, ["the faucet, left", "the faucet, right"]),
    ("1/16 in", {}, ["the faucet, left", "the faucet, right"])])
def test_a_circle_smaller_than_the_slop_breaks_a_rule(slop: str, changed: dict[str, str], short: list[str]) -> None:
    layout = strip(slop=slop, **changed)
    assert [check.about for check in layout.failed] == short
    assert {check.what.key for check in layout.failed} <= {"deck.room-to-drift"}
    assert bool(short) != bool(safe_zones(layout))
    told_once = [check for check in layout.checks if check.what.key == "deck.room-to-drift"]
    assert len(told_once) == (len(short) or 1) and told_once[0].source == "an invented sheet"


def test_without_a_slop_nothing_is_held_against_it() -> None:
    assert strip().ok and not any(check.what.key == "deck.room-to-drift" for check in strip().checks)


def test_a_range_that_nobody_gave_is_asked_for_where_the_slop_has_none() -> None:
    assert strip(slop="1/16 in").mends[0] == (
        "The faucet, left: give the least and the most from outer hole to outer hole that its sheet allows.")


TWO_IN_THE_WAY: dict[str, Any] = {
    "minimums__slop": "1/4 in", "underneath": [
        {"name": "clip", "from_left": "33-1/2 in", "from_front": "20 in", "width": "1-1/2 in", "depth": "4 in"},
        {"name": "pipe", "from_left": "24 in", "from_front": "22 in", "diameter": "3 in"}]}


def test_every_layout_that_passes_has_room_for_the_slop_of_every_hole_and_for_every_bit_that_is_named() -> None:
    """Between clip and pipe: before, each of 38 layouts that passed had a hole that may not be off at all."""
    found = deck.layouts(deck.from_json(deck_json(**TWO_IN_THE_WAY)))
    passing = [layout for layout in found if layout.ok]
    assert any(layout.off_pitch for layout in passing)
    quarter = Length.parse("1/4 in")
    for layout in passing:
        for zone in safe_zones(layout):
            wider = max(bit - zone.hole.diameter for bit in zone.bits)
            assert zone.circle - quarter - wider / 2 == zone.tolerance and zone.tolerance.mm >= 0
        beside = min(check.margin for check in layout.checks if check.what.key == "deck.hole-to-underneath")
        assert beside >= 25.4 / 4, layout.key


def test_two_zones_are_parted_by_a_straight_line_that_leaves_what_must_be_between_them() -> None:
    """Between the middles 4 in; 3-3/8 in must be: each may come 5/16 in nearer. Away from it the end of the top stops
    the left one, 4 in and 1-11/16 in less."""
    left, middle, _ = on_the_strip(**WIDE)
    sides = [(min(x for x, _ in zone.outline) / 25.4, max(x for x, _ in zone.outline) / 25.4)
             for zone in (left, middle)]
    assert sides[0][1] == pytest.approx(12.5 + 5 / 16) and sides[1] == pytest.approx((16.5 - 5 / 16, 16.5 + 5 / 16))
    assert [min(y for _, y in middle.outline), max(y for _, y in middle.outline)] == pytest.approx(
        [25.4 * (2 - 5 / 16), 25.4 * (2 + 5 / 16)])
    assert sides[0][0] > 12.5 - 1, "no further from the right one than 9 in"


@pytest.mark.parametrize(("own", "slack", "radii"), [
    ([10, 1], {}, [10, 1]), ([10, 1], {(0, 1): 6}, [5, 1]), ([10, 9], {(0, 1): 6}, [3, 3]),
    ([9, 9, 9], {(0, 1): 2, (1, 2): 6}, [1, 1, 5]), ([9, 9, 9], {(0, 1): 6, (1, 2): 6, (0, 2): 20}, [3, 3, 3]),
    ([9, 2, 9], {(0, 1): 6, (1, 2): 8}, [4, 2, 6]), ([0, 5], {(0, 1): 3}, [0, 3]), ([-1, 4], {}, [0, 4]),
])
def test_circles_grow_alike_until_they_can_not_and_then_the_others(
        own: list[float], slack: dict[tuple[int, int], float], radii: list[float]) -> None:
    assert grown(own, slack) == radii
