"""Overhangs: what stone can do alone, what brackets add, knees, seats, aisles and corners, and where rules collide."""

from typing import Any

import pytest

from portal.layouts import overhang
from portal.layouts.length import DimensionError
from portal.layouts.overhang.layout import OverhangLayout

ISLAND: dict[str, Any] = {
    "length": "96 in", "width": "40 in", "thickness": "1-1/4 in", "overhang": "15 in", "span": "24 in",
    "seats": {"count": 4, "height": "36 in"},
    "brackets": {"reach": "10 in", "spacing": "32 in", "source": "their maker's sheet"},
    "aisles": [{"name": "seat side", "use": "seats, one walks past", "room": "60 in", "on_overhang_side": True},
               {"name": "range side", "use": "one cook", "room": "44 in", "edge": "1-1/2 in"}],
    "corner_radius": "1 in", "smallest_radius": "3/8 in",
}


def found(**changed: Any) -> list[OverhangLayout]:
    return overhang.layouts(overhang.from_json({**ISLAND, **changed}))


def names(layout: OverhangLayout) -> set[str]:
    return {check.name for check in layout.checks if not check.ok}


def test_what_is_wanted_stands_on_brackets_when_stone_alone_can_not() -> None:
    best, *others = found()
    assert best.ok and best.title == "15 in out, on brackets"
    assert [mark.at.text for mark in best.marks] == ["0 in", "32 in", "64 in", "96 in"] and best.brackets == 4
    assert [mark.name for mark in best.marks] == [
        "bracket 1, its left side", "bracket 2, its middle", "bracket 3, its middle", "bracket 4, its right side"]
    alone = next(each for each in others if each.title == "15 in out, with nothing under it")
    assert names(alone) == {"unsupported overhang"}
    assert alone.mends[0] == "Put 4 brackets under it that reach 5 in to 15 in past the cabinets, at most 32 in apart."


def test_the_depth_that_needs_no_brackets_is_offered_and_says_what_knees_lose() -> None:
    bare = next(each for each in found() if each.title == "10 in out, with nothing under it")
    assert names(bare) == {"knee depth"}
    assert "Knees have 10 in, and 15 in is advised for a seat at 36 in." in bare.effects


def test_without_seats_the_bare_stone_passes() -> None:
    best = found(seats=None, brackets=None, overhang="10 in", width="36 in")[0]
    assert best.ok and best.brackets == 0 and "as deep as wanted" in best.reason


def test_a_third_of_a_shorter_top_is_reckoned_on_the_shorter_top() -> None:
    answers = found(seats=None, brackets=None, width="18 in", overhang="9 in", aisles=None)
    assert {each.title: each.ok for each in answers} == {
        "4-1/2 in out, with nothing under it": True, "9 in out, with nothing under it": False}


@pytest.mark.parametrize(("changed", "name"), [
    ({"brackets": {"reach": "4 in", "spacing": "32 in"}}, "unsupported overhang"),
    ({"fixings": [{"from_left": "0 in"}, {"from_left": "96 in"}]}, "bracket to bracket"),
    ({"fixings": [{"from_left": "0 in"}, {"from_left": "96 in"}]}, "bracket to bracket, by their maker"),
    ({"brackets": {"reach": "14 in", "spacing": "32 in", "set_back": "2 in"}}, "end of bracket"),
    ({"brackets": {"reach": "16 in", "spacing": "32 in"}}, "end of bracket"),
    ({"brackets": {"reach": "10 in", "spacing": "32 in", "inset": "4 in"}, "fixings": [
        {"from_left": f"{place} in"} for place in (6, 36, 66, 92)]}, "end of the top to bracket"),
    ({"brackets": {"reach": "10 in", "spacing": "32 in", "rating": 250, "source": "its sheet"}, "material": "granite",
      "load": {"pounds": 250, "source": "the manager"}}, "edge on one bracket"),
    ({"material": "granite", "load": {"pounds": 2000, "source": "the manager"}}, "overhang of a loose top"),
    ({"span": "37 in"}, "unsupported span"),
    ({"seats": {"count": 5, "height": "36 in"}}, "width for seats"), ({"overhang": "14 in"}, "knee depth"),
    ({"corner_radius": "1/4 in"}, "corner radius"), ({"corner_radius": "21 in"}, "corner radius"),
    ({"aisles": [{"name": "a", "use": "two cooks", "room": "48 in", "edge": "1 in"}]}, "aisle"),
    ({"aisles": [{"name": "a", "use": "walkway", "room": "50 in", "on_overhang_side": True}]}, "aisle"),
])
def test_each_check_can_fail(changed: dict[str, Any], name: str) -> None:
    wanted = [each for each in found(**changed) if each.depth == each.dimensions.wanted and each.brackets]
    assert name in names(wanted[0]) and wanted[0].ok == (not wanted[0].failed)
    assert ("Does not fit" in wanted[0].reason) == bool(wanted[0].failed)
    assert name not in names(found()[0])


def test_a_guideline_is_said_and_stops_nothing() -> None:
    tight = found(overhang="14 in", brackets={"reach": "10 in", "spacing": "32 in"})
    short = next(each for each in tight if each.depth == each.dimensions.wanted and each.brackets)
    assert short.ok and [check.name for check in short.noted] == ["knee depth"]
    assert short.reason.endswith("Knee depth, at 36 in: 14 in, at least 15 in: not as advised, by 1 in.")


def test_thin_stone_has_no_published_limit_and_needs_support_throughout() -> None:
    answers = found(thickness="1/2 in")
    assert not any(each.ok for each in answers if not each.brackets)
    assert any("No limit is published" in each.text for each in answers[0].advice)


def test_every_layout_warns_of_sitting_on_it() -> None:
    assert all(any("sits or stands" in each.text for each in layout.advice) for layout in found())


@pytest.mark.parametrize(("changed", "field"), [
    ({"overhang": "40 in"}, "overhang"), ({"seats": {"count": 0, "height": "36 in"}}, "seats.count"),
    ({"seats": {"count": 2, "height": "35 in"}}, "seats.height"), ({"smallest_radius": None}, "smallest_radius"),
    ({"aisles": [{"name": "a", "use": "one cook", "room": "50 in"}]}, "aisles.0.edge"),
    ({"aisles": [{"name": "a", "use": "walkway", "room": "9 in", "edge": "1 in", "on_overhang_side": True}]},
     "aisles.0.edge"),
    ({"aisles": [{"name": "a", "use": "walkway", "room": "9 in", "on_overhang_side": True, "on_far_side": True}]},
     "aisles.0.on_far_side"),
    ({"brackets": {"reach": "5 in"}, "material": "quartz"}, "brackets.spacing"),
    ({"brackets": {"reach": "5 in"}, "fragile": True}, "brackets.spacing"),
    ({"brackets": {"reach": "5 in"}, "thickness": "1/2 in"}, "brackets.spacing"),
    ({"brackets": {"reach": "5 in", "rating": 300}}, "brackets.source"),
    ({"brackets": {"reach": "5 in", "inset": "48 in"}}, "brackets.inset"),
    ({"limits": {"span": "1/16 in", "source": "x"}}, "limits.span"), ({"limits": {"alone": "6 in"}}, "limits.source"),
    ({"load": {"pounds": 250}}, "load.source"), ({"load": {"pounds": 0, "source": "x"}}, "load.pounds"),
    ({"fixings": [{"from_left": "97 in"}]}, "fixings.0.from_left"), ({"material": "brick"}, "material"),
    ({"brackets": {"reach": "5 in", "spacing": "1/16 in"}}, "brackets.spacing"), ({"thickness": None}, "thickness")])
def test_a_wrong_field_is_named(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        found(**changed)
    assert refused.value.field == field


def test_the_answer_carries_brackets_and_depth() -> None:
    answer = found()[0].to_json()
    assert answer["brackets"] == 4 and answer["overhang"]["text"] == "15 in"
    assert {each.source for each in overhang.suggestions()} >= {"NKBA Kitchen Planning Guidelines"}
