"""Holes, feet, frames and fronts as they are in the shop: what can't be is refused, what fails is stopped, and what is
said to mend it mends it."""

from copy import deepcopy
from typing import Any

import pytest

from portal.layouts import pulls
from portal.layouts.length import DimensionError, Length
from portal.layouts.pulls.mending import EXACTLY
from tests.layouts.pulls.test_layout import BANK, bank, found, names, titled

PAN, TOP, SPOON, DOOR = BANK["fronts"]


def changed_by(layout: Any, data: dict[str, Any]) -> dict[str, Any]:
    """The dimensions with all that is said to mend the layout."""
    new = deepcopy(data)
    for change in layout.changes:
        *way, last = change.field.split(".")
        inner: Any = new
        for step in way:
            inner = inner[int(step)] if step.isdecimal() else inner[step]
        inner[last] = change.to.text
    return new


def test_two_fronts_on_one_place_are_refused_with_both_their_names() -> None:
    twice = [TOP, SPOON | {"from_left": "32 in"}]
    with pytest.raises(DimensionError, match="puts “spoon drawer” over “top drawer”") as refused:
        found(fronts=twice)
    assert refused.value.field == "fronts.1.from_left"
    assert found(fronts=[TOP, SPOON | {"from_left": "33 in"}]), "edges may meet"


@pytest.mark.parametrize(("rail", "fits"), [("2-15/16 in", True), ("3 in", False), ("7 in", False)])
def test_a_frame_that_its_front_has_no_room_for_is_refused(rail: str, fits: bool) -> None:
    try:
        found(fronts=[SPOON | {"rail": rail}])
        assert fits
    except DimensionError as refused:
        assert not fits and refused.field == "fronts.0.rail" and "15 in by 6 in" in refused.message


@pytest.mark.parametrize(("changed", "field", "why"), [
    ({"drill": "160 mm"}, "pull.drill", "as wide as its holes are apart"),
    ({"base": "165 mm"}, "pull.base", "as wide as its holes are apart"),
    ({"centers": None, "length": "30 mm", "drill": "31 mm"}, "pull.drill", "wider than the pull is long"),
    ({"centers": None, "length": "30 mm", "base": "31 mm"}, "pull.base", "wider than the pull is long"),
])
def test_a_drill_or_foot_that_no_pull_can_have_is_refused(changed: dict[str, Any], field: str, why: str) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        found(pull=BANK["pull"] | changed)
    assert refused.value.field == field


def test_no_hole_lies_on_the_edge_of_its_front() -> None:
    with pytest.raises(DimensionError, match="is zero") as refused:
        found(minimums={"to_edge": "0 in", "source": "x"})
    assert refused.value.field == "minimums.to_edge"


@pytest.mark.parametrize(("pull", "ok"), [
    ({"drill": "10 mm", "base": "10 mm"}, True), ({"drill": "10 mm", "base": "9.9 mm"}, False),
    ({"drill": "15 mm"}, True), ({"drill": "15.1 mm"}, False)])
def test_no_drill_is_wider_than_the_foot_of_the_pull(pull: dict[str, str], ok: bool) -> None:
    """175 mm long with holes 160 mm apart: a foot is at most 15 mm wide, also where nobody measured it."""
    assert all(("foot covers hole" in names(layout)) is not ok for layout in found(pull=BANK["pull"] | pull))


def test_the_whole_hole_stays_within_its_front() -> None:
    near = bank(minimums={"to_edge": "1 mm", "source": "x"}, drawers={"from_top": "2 mm"},
                pull=BANK["pull"] | {"drill": "5 mm"})
    top = titled(pulls.layouts(pulls.from_json(near)), "Along the upper edge")
    sentences = [check.sentence for check in top.failed if check.about == "top drawer"]
    assert sentences == ["hole within its front, top drawer: 0.5 mm past it, at least 0 mm: fails"]


def test_a_foot_half_on_the_frame_is_stopped_and_one_on_the_frame_or_on_the_panel_is_not() -> None:
    """Rail of 63.5 mm; a foot of 20 mm at 60 mm stands over the inner edge, at 53 mm on the frame, at 74 mm on the
    panel, which is 25.4 mm high."""
    for at, ok in ("60 mm", False), ("53 mm", True), ("74 mm", True), ("53.6 mm", False), ("53.5 mm", True):
        layouts = found(fronts=[SPOON], doors=None, drawers={"from_top": at}, two_over=None,
                        pull={"length": "20 mm", "projection": "20 mm"})
        assert titled(layouts, "Along the upper edge").ok, "a knob's foot is asked for, not guessed"
        layouts = found(fronts=[SPOON], doors=None, drawers={"from_top": at}, two_over=None,
                        pull={"length": "20 mm", "projection": "20 mm", "base": "20 mm"})
        flat = "foot off the inner edge of the frame" not in names(titled(layouts, "Along the upper edge"))
        assert flat is ok, at


def test_a_knob_stays_within_its_door_on_all_sides() -> None:
    knob = {"length": "2 in", "projection": "1 in"}
    (one,) = found(fronts=[DOOR], drawers=None, pull=knob, doors={"from_side": "7/8 in", "from_end": "4 in"})
    assert names(one) == {"pull within its front"}
    assert one.mends == ("Put the pulls at least 1 in from the side of the door that opens.",)


def test_what_was_not_given_is_named_as_not_checked() -> None:
    assert found()[0].not_checked == (
        "whether the holes stay within their fronts and under the pull, as wide as they are drilled",
        "whether the foot of the pull sits flat on frame or panel",
        "drawers that open past each other at an inside corner")
    corner = {"one": "top drawer", "other": "sink door", "one_gap": "3 in", "other_gap": "3 in"}
    whole = found(pull=BANK["pull"] | {"drill": "5 mm", "base": "12 mm"}, inside_corners=[corner])[0]
    assert whole.not_checked == ()
    drilled = found(pull=BANK["pull"] | {"drill": "5 mm"})[0]
    assert "whether the foot of the pull covers its holes" in drilled.not_checked


@pytest.mark.parametrize(("changed", "key", "mends"), [
    ({"drawers": {"from_top": "1/2 in"}}, "pulls:top",
     ["Put the pulls at least 3/4 in below the upper edge of the drawers."]),
    ({"drawers": {"from_top": "5-1/2 in"}}, "pulls:top",
     ["Put the pulls at most 5-1/4 in below the upper edge of the drawers."]),
    ({"doors": {"from_side": "1/2 in", "from_end": "1/2 in"}}, "pulls:middle",
     ["Put the pulls at least 3/4 in from the side of the door that opens.",
      "Put the nearest hole at least 3/4 in from the end of the door."]),
    ({"pull": BANK["pull"] | {"centers": "14 in", "length": "16 in"}}, "pulls:middle",
     ["Take a pull with its holes at most 13-1/2 in apart.", "Take a pull at most 15 in long."]),
    ({"pull": BANK["pull"] | {"centers": "6-5/16 in"}}, "pulls:middle", ["Take a pull with its holes 160 mm apart."]),
    ({"pull": BANK["pull"] | {"drill": "20 mm"}}, "pulls:middle",
     ["Drill at most 15 mm wide, or take a pull with a wider foot."]),
    ({"inside_corners": [{"one": "top drawer", "other": "sink door", "one_gap": "1 in", "other_gap": "3 in"}]},
     "pulls:middle", ["Leave at least 1-3/8 in beside top drawer, with a filler at the inside corner."]),
])
def test_what_mends_a_bank_is_said_and_mends_it(changed: dict[str, Any], key: str, mends: list[str]) -> None:
    data = bank(**changed)
    failing = next(layout for layout in pulls.layouts(pulls.from_json(data)) if layout.key == key)
    assert not failing.ok and list(failing.mends) == mends
    again = next(one for one in pulls.layouts(pulls.from_json(changed_by(failing, data))) if one.key == key)
    assert again.ok


def test_where_nothing_mends_it_each_check_says_by_how_much() -> None:
    low = found(fronts=[SPOON | {"height": "1 in", "rail": None}], drawers=None)[0]
    assert low.changes == () and low.mends == ("Hole to edge, spoon drawer: 1/4 in more.",)


def test_a_mend_that_is_shown_rounded_is_rounded_to_the_safe_side() -> None:
    data = bank(fronts=[DOOR], drawers=None, minimums={"to_edge": "19.3 mm", "source": "x"},
                doors={"from_side": "1/2 in", "from_end": "4 in"})
    (one,) = pulls.layouts(pulls.from_json(data))
    (change,) = one.changes
    assert change.rule != EXACTLY and change.to >= Length.parse("19.3 mm")
    assert one.mends[0].startswith(f"Put the pulls at least {change.to.text} from")
