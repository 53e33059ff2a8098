"""Pulls on a bank of fronts: holes from named edges, lines that run through, and pulls that collide or don't fit."""

from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import pulls
from portal.layouts.length import DimensionError, Length
from portal.layouts.pulls.layout import PullsLayout
from portal.layouts.pulls.placing import PlacedPull

BANK: dict[str, Any] = {
    "fronts": [
        {"name": "pan drawer", "type": "drawer", "width": "33 in", "height": "12 in", "from_left": "0 in",
         "from_floor": "5 in", "rail": "2-1/2 in"},
        {"name": "top drawer", "type": "drawer", "width": "33 in", "height": "6 in", "from_left": "0 in",
         "from_floor": "28 in", "rail": "2-1/2 in"},
        {"name": "spoon drawer", "type": "drawer", "width": "15 in", "height": "6 in", "from_left": "33-1/8 in",
         "from_floor": "28 in", "rail": "2-1/2 in"},
        {"name": "sink door", "type": "door hinged left", "width": "15 in", "height": "22 in", "from_left": "49 in",
         "from_floor": "5 in"},
    ],
    "pull": {"name": "bar", "centers": "160 mm", "length": "175 mm", "projection": "1-3/8 in"},
    "drawers": {"from_top": "1-1/2 in"}, "doors": {"from_side": "1-1/4 in", "from_end": "2-1/2 in"},
    "two_over": "30 in", "minimums": {"to_edge": "3/4 in", "source": "the cabinet maker"},
}


def bank(**changed: Any) -> dict[str, Any]:
    return {**deepcopy(BANK), **changed}


def found(**changed: Any) -> list[PullsLayout]:
    return pulls.layouts(pulls.from_json(bank(**changed)))


def names(layout: PullsLayout) -> set[str]:
    return {check.name for check in layout.failed}


def placed(layout: PullsLayout, front: str) -> list[PlacedPull]:
    return [pull for pull in layout.pulls if pull.front.name == front]


def titled(layouts: list[PullsLayout], words: str) -> PullsLayout:
    return next(layout for layout in layouts if layout.title.startswith(words))


def test_every_height_meets_every_way_to_share_a_wide_drawer() -> None:
    titles = [layout.title for layout in found()]
    assert len(titles) == len(set(titles)) == 9
    assert len(found(two_over=None)) == 3 and len(found(two_over=None, drawers=None)) == 2


def test_two_pulls_on_wide_drawers_only_and_evenly() -> None:
    layout = titled(found(), "In the middle of each drawer; two on wide ones, each a quarter")
    left, right = placed(layout, "top drawer")
    assert (left.x.text, right.x.text) == ("8-1/4 in", "24-3/4 in")
    assert len(placed(layout, "spoon drawer")) == 1
    sixth = titled(found(), "In the middle of each drawer; two on wide ones, each a sixth")
    assert placed(sixth, "top drawer")[0].x.text == "5-1/2 in"


def test_heights_on_a_drawer_are_from_its_top_edge() -> None:
    layouts = found(two_over=None)
    heights = {words: placed(titled(layouts, words), "top drawer")[0].y.text
               for words in ("In the middle", "On the upper rail", "Along the upper edge")}
    assert heights == {"In the middle": "3 in", "On the upper rail": "1-1/4 in", "Along the upper edge": "1-1/2 in"}


@pytest.mark.parametrize(("hinges", "end", "across", "down"), [
    ("door hinged left", "top", "13-3/4 in", "2-1/2 in"), ("door hinged right", "top", "1-1/4 in", "2-1/2 in"),
    ("door hinged left", "bottom", "13-3/4 in", "19-1/2 in")])
def test_a_door_opens_away_from_its_hinges(hinges: str, end: str, across: str, down: str) -> None:
    door = {**BANK["fronts"][3], "type": hinges, "pull_end": end}
    (layout,) = found(fronts=[door], drawers=None)
    (pull,) = layout.pulls
    assert pull.upright and layout.title == "On the side that opens"
    nearest = pull.holes[0] if end == "top" else pull.holes[-1]
    assert (nearest.from_left.text, nearest.from_top.text) == (across, down)
    assert (pull.holes[1].from_top - pull.holes[0].from_top) == Length.parse("160 mm")


def test_lines_run_through_the_fronts_whose_pulls_share_a_height() -> None:
    layout = titled(found(), "In the middle")
    ((height, row),) = layout.lines
    assert height.text == "31 in" and [front.name for front in row] == ["top drawer", "spoon drawer"]
    assert "One line runs 31 in above the floor through top drawer, spoon drawer." in layout.effects


def test_more_fronts_in_line_come_first_among_what_passes() -> None:
    in_line = [sum(len(row) for _, row in layout.lines) for layout in found() if layout.ok]
    assert in_line == sorted(in_line, reverse=True)


@pytest.mark.parametrize(("changed", "name"), [
    ({"minimums": {"to_edge": "2 in", "source": "x"}}, "hole to edge"),
    ({"pull": {**BANK["pull"], "length": "16 in"}}, "pull within its front"),
    ({"pull": {**BANK["pull"], "length": "14 in", "centers": "12 in"}, "two_over": "14 in"}, "pull to pull"),
    ({"pull": {**BANK["pull"], "centers": "6-5/16 in"}}, "metric pull by its inch name"),
    ({"inside_corners": [{"one": "top drawer", "other": "sink door", "one_gap": "1 in", "other_gap": "3 in"}]},
     "drawer past pull"),
])
def test_each_check_can_fail(changed: dict[str, Any], name: str) -> None:
    assert any(name in names(layout) and "Does not fit" in layout.reason for layout in found(**changed))
    assert found()[0].ok


def test_a_filler_as_wide_as_the_pull_sticks_out_is_enough() -> None:
    corner = {"one": "top drawer", "other": "sink door", "one_gap": "1-3/8 in", "other_gap": "1-3/8 in"}
    best = found(inside_corners=[corner])[0]
    assert best.ok and [check.margin for check in best.checks if check.name == "drawer past pull"] == [0.0, 0.0]


def test_an_inch_size_passes_when_the_sheet_gives_inches() -> None:
    best = found(pull={**BANK["pull"], "centers": "6-5/16 in", "inch_sheet": True})[0]
    assert best.ok


def test_a_knob_has_one_hole() -> None:
    best = found(pull={"length": "1-1/4 in", "projection": "1 in"})[0]
    assert {len(pull.holes) for pull in best.pulls} == {1}
    assert best.to_json()["pulls"][0]["holes"][0]["from_left_edge"]["text"]


def test_advice_hints_at_a_third_and_warns_of_the_inch_name() -> None:
    texts = [each.text for each in found()[0].advice]
    assert "Drill 160 mm, not 6-5/16 in: the inch name is off by 0.3375 mm." in texts
    assert any(text.startswith("top drawer: a pull about a third") and "8 in or 12 in" in text for text in texts)


@pytest.mark.parametrize(("changed", "field"), [
    ({"fronts": []}, "fronts"), ({"fronts": [BANK["fronts"][0]] * 2}, "fronts.1.name"), ({"doors": None}, "doors"),
    ({"pull": {**BANK["pull"], "length": "100 mm"}}, "pull.length"), ({"pull": {"length": "1 in"}}, "pull.projection"),
    ({"minimums": {"source": "x"}}, "minimums.to_edge"), ({"drawers": {"from_top": "0 in"}}, "drawers.from_top"),
    ({"drawers": {"from_top": "1 in", "from_side": "1 in"}}, "drawers.from_side"), ({"two_over": "30"}, "two_over"),
    ({"inside_corners": [{"one": "top drawer", "other": "top drawer", "one_gap": "1 in", "other_gap": "1 in"}]},
     "inside_corners.0.other"),
    ({"inside_corners": [{"one": "top drawer", "other": "nobody", "one_gap": "1 in", "other_gap": "1 in"}]},
     "inside_corners.0.other")])
def test_a_wrong_field_is_named(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        found(**changed)
    assert refused.value.field == field


@settings(max_examples=40, deadline=None)
@given(st.integers(130, 1200), st.integers(32, 400), st.sampled_from([None, "quarter", "sixth"]))
def test_margins_and_centers_always_make_up_the_width(width: int, centers: int, share: str | None) -> None:
    """Left margin + right margin + c = W for one pull; two pulls mirror each other about W/2 (arithmetic)."""
    data = bank(fronts=[{**BANK["fronts"][0], "width": f"{width} mm"}], doors=None, two_over="1 mm" if share else None,
                pull={"centers": f"{centers} mm", "length": f"{centers + 10} mm", "projection": "30 mm"})
    for layout in pulls.layouts(pulls.from_json(data)):
        holes = sorted(hole.from_left for pull in layout.pulls for hole in pull.holes)
        assert all(one + other == Length.of_mm(width) for one, other in zip(holes, reversed(holes), strict=True))


def test_holes_are_numbered_through_a_front_that_has_two_pulls() -> None:
    layout = titled(found(), "In the middle of each drawer; two on wide ones, each a quarter")
    marks = [mark.name for mark in layout.marks if mark.name.startswith("top drawer")]
    assert marks == [f"top drawer, hole {number}" for number in (1, 1, 2, 2, 3, 3, 4, 4)]
    assert len({(mark.name, mark.edge) for mark in layout.marks}) == len(layout.marks)


def test_the_reason_tells_the_layouts_apart_by_the_numbers_that_rank_them() -> None:
    one, two = (titled(found(), f"In the middle of each drawer{more}") for more in ("", "; two"))
    assert one.reason == "Fits; 2 fronts share a line; pulls at 3 heights; 8 holes to drill."
    assert two.reason == "Fits; 2 fronts share a line; pulls at 3 heights; 12 holes to drill."
    assert found().index(one) < found().index(two)


def test_a_hint_about_sizes_names_each_once() -> None:
    fronts = [{**BANK["fronts"][0], "width": "30 in"}]
    hints = [each.text for each in found(fronts=fronts)[0].advice if "third of its width" in each.text]
    assert hints == ["pan drawer: a pull about a third of its width is 7 in or 8 in or 12 in; a hint, not a rule."]
