"""Where new holes may drift at once."""

from typing import Any

from portal.layouts import deck
from portal.layouts.deck.zones import safe_zones
from tests.layouts.decks import deck_json, four_hole_json


def first(**changed: Any) -> Any:
    return deck.layouts(deck.from_json(deck_json(**changed)))[0]


def test_a_zone_for_each_new_hole_and_none_for_what_fails_or_is_there() -> None:
    best = first()
    assert best.ok and [zone.hole for zone in safe_zones(best)] == list(best.drilled)
    assert safe_zones(first(faucet__reach="1 in")) == ()
    assert safe_zones(deck.layouts(deck.from_json(four_hole_json()))[0]) == ()


def test_slop_is_taken_off_and_never_below_nothing() -> None:
    bare, off = safe_zones(first())[0].tolerance, safe_zones(first(minimums__slop="1/32 in"))[0].tolerance
    assert (bare - off).text == "1/32 in"
    assert safe_zones(first(minimums__slop="5 in"))[0].tolerance.mm == 0


def test_the_planned_place_is_inside() -> None:
    for zone in safe_zones(first()):
        x, y = float(zone.hole.x.mm), float(zone.hole.y.mm)
        assert min(px for px, _ in zone.outline) < x < max(px for px, _ in zone.outline)
        assert min(py for _, py in zone.outline) < y < max(py for _, py in zone.outline)
