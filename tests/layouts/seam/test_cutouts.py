"""What is left around cut-outs, against shapely's rectangles; and two cut-outs on one place, refused."""

from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from portal.layouts import seam
from portal.layouts.length import DimensionError, Length
from portal.layouts.seam.cutouts import strips
from tests.layouts.seam.test_layout import RUN, found

SINK = {"name": "sink", "from_left": "40 in", "width": "30 in", "from_front": "3 in", "depth": "18 in"}
COOKTOP = {"name": "cooktop", "from_left": "100 in", "width": "28 in", "from_front": "2-1/2 in", "depth": "21 in"}


def left_around(*cutouts: dict[str, str]) -> dict[str, str]:
    run = seam.from_json({**RUN, "cutouts": list(cutouts)})
    return {" to ".join(each.sides): each.wide.text for each in strips(run.cutouts, run.length, run.depth)}


def test_each_strip_is_what_lies_between_two_edges() -> None:
    """The run is 144 by 25-1/2 in: behind the sink 25.5 - 3 - 18 = 4.5 in, behind the cooktop 25.5 - 2.5 - 21 = 2 in;
    between them 100 - 70 = 30 in."""
    assert left_around(SINK, COOKTOP) == {
        "sink to left end": "40 in", "sink to right end": "74 in", "sink to front edge": "3 in",
        "sink to back edge": "4-1/2 in", "cooktop to left end": "100 in", "cooktop to right end": "16 in",
        "cooktop to front edge": "2-1/2 in", "cooktop to back edge": "2 in", "sink to cooktop": "30 in"}


def test_between_cut_outs_only_neighbours_have_a_strip() -> None:
    """Sink and outlet have the cooktop between them: 90 in of which 28 in are cut out are no strip."""
    outlet = {"name": "outlet", "from_left": "136 in", "width": "4 in", "from_front": "10 in", "depth": "4 in"}
    between = {name for name in left_around(SINK, COOKTOP, outlet) if not name.endswith(("end", "edge"))}
    assert between == {"sink to cooktop", "cooktop to outlet"}


def test_where_a_cut_out_runs_out_or_its_place_is_not_given_no_strip_is_told() -> None:
    apron = SINK | {"from_front": "0 in", "depth": "20 in"}
    assert "sink to front edge" not in left_around(apron) and left_around(apron)["sink to back edge"] == "5-1/2 in"
    flat = {name: SINK[name] for name in ("name", "from_left", "width")}
    assert left_around(flat) == {"sink to left end": "40 in", "sink to right end": "74 in"}
    assert left_around(flat | {"from_front": "3 in"})["sink to front edge"] == "3 in"


@settings(max_examples=100)
@given(st.integers(0, 2**32))
def test_what_lies_between_two_cut_outs_is_what_shapely_measures(seed: int) -> None:
    chance = Random(seed)
    sizes = [{"name": name, "from_left": f"{chance.randint(0, 100)} in", "width": f"{chance.randint(1, 44)} in",
              "from_front": f"{chance.randint(0, 15)} in", "depth": f"{chance.randint(1, 10)} in"} for name in "ab"]
    one, other = (box(*edges(each)) for each in sizes)
    run = {**RUN, "cutouts": sizes}
    if one.intersects(other):
        why = "lies over" if one.intersection(other).area else "touches"
        with pytest.raises(DimensionError, match=f"{why} “a”") as refused:
            seam.from_json(run)
        assert refused.value.field == "cutouts.1.from_left"
        return
    read = seam.from_json(run)
    between = [each.wide.mm for each in strips(read.cutouts, read.length, read.depth) if each.sides == ("a", "b")]
    assert [pytest.approx(one.distance(other) * 25.4, abs=1e-5)] == [float(mm) for mm in between]


def edges(cutout: dict[str, str]) -> tuple[float, float, float, float]:
    left, wide, front, deep = (float(cutout[name].removesuffix(" in"))
                               for name in ("from_left", "width", "from_front", "depth"))
    return left, front, left + wide, front + deep


def test_cut_outs_whose_depth_is_not_given_may_not_even_lie_one_behind_the_other() -> None:
    behind = {"name": "outlet", "from_left": "50 in", "width": "5 in", "from_front": "22 in", "depth": "2 in"}
    assert left_around(SINK, behind)["sink to outlet"] == "1 in"
    for less in (behind, {**SINK}):
        unknown = {name: value for name, value in less.items() if name not in ("from_front", "depth")}
        with pytest.raises(DimensionError, match="check both, and how deep they are"):
            seam.from_json({**RUN, "cutouts": [unknown, behind if less is not behind else SINK]})


@pytest.mark.parametrize(("changed", "field"), [
    ({"from_front": "8 in"}, "depth"), ({"depth": "23 in"}, "depth"), ({"from_front": "26 in", "depth": None},
     "from_front"), ({"from_front": None, "depth": "26 in"}, "depth"), ({"depth": "0 in"}, "depth")])
def test_a_cut_out_past_the_back_edge_is_refused(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        seam.from_json({**RUN, "cutouts": [SINK | changed]})
    assert refused.value.field == f"cutouts.0.{field}"


def test_a_strip_that_is_narrower_than_the_shop_allows_stops_and_says_by_how_much() -> None:
    least = RUN["minimums"] | {"strip": "2-1/2 in"}
    best = found(cutouts=[SINK, COOKTOP], minimums=least)[0]
    assert [check.sentence for check in best.failed] == [
        "strip beside a cut-out, cooktop to back edge: 2 in, at least 2-1/2 in: fails"]
    assert best.mends == ("Strip beside a cut-out, cooktop to back edge: 1/2 in more.",)
    moved = COOKTOP | {"from_front": "2-1/2 in", "depth": "20-1/2 in"}
    assert found(cutouts=[SINK, moved], minimums=least)[0].ok
    assert all(Length.parse("2-1/2 in") <= each.wide for each in found(cutouts=[SINK, moved])[0].strips)


WIDE = {**RUN, "dishwasher": None, "slab": {"length": "150 in", "depth": "60 in"},
        "minimums": {"to_cutout": "4 in", "strip": "2 in", "source": "f"}}


@pytest.mark.parametrize(("cutouts", "field", "why"), [
    ([{"name": "range", "from_left": "60 in", "width": "20 in", "from_front": "0 in", "depth": "25-1/2 in"}],
     "cutouts.0.depth", "cuts the top in two"),
    ([{"name": "range", "from_left": "60 in", "width": "20 in", "depth": "25-1/2 in"}], "cutouts.0.depth",
     "cuts the top in two"),
    ([{"name": "slot", "from_left": "0 in", "width": "144 in", "from_front": "8 in", "depth": "4 in"}],
     "cutouts.0.width", "cuts the top in two"),
    ([{"name": "sink", "from_left": "20 in", "width": "30 in"},
      {"name": "cooktop", "from_left": "50 in", "width": "30 in"}], "cutouts.1.from_left", "touches “sink”"),
    ([SINK, {"name": "vent", "from_left": "50 in", "width": "5 in", "from_front": "21 in", "depth": "4-1/2 in"}],
     "cutouts.1.from_left", "touches “sink”")])
def test_cut_outs_that_leave_nothing_between_them_or_beside_them_are_refused(
    cutouts: list[dict[str, str]], field: str, why: str
) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        seam.from_json({**WIDE, "cutouts": cutouts})
    assert refused.value.field == field


@pytest.mark.parametrize("open_at", [
    {"from_front": "0 in", "depth": "20 in"}, {"from_front": "8 in", "depth": "17-1/2 in"},
    {"from_left": "0 in"}, {"from_left": "114 in"}, {"from_left": "0 in", "from_front": "0 in", "depth": "20 in"}])
def test_a_cut_out_may_run_out_at_one_edge_or_at_a_corner(open_at: dict[str, str]) -> None:
    assert seam.layouts(seam.from_json({**WIDE, "cutouts": [SINK | open_at]}))[0].ok


def test_corners_are_no_sharper_than_the_shop_cuts_them() -> None:
    least = RUN["minimums"] | {"cutout_radius": "3/8 in"}
    sharp = found(cutouts=[SINK | {"corner_radius": "1/4 in"}, COOKTOP], minimums=least)[0]
    assert [check.sentence for check in sharp.failed] == [
        "inside radius of the cut-out, sink: 1/4 in, at least 3/8 in: fails"]
    assert sharp.mends == ("Inside radius of the cut-out, sink: 1/8 in more.",)
    assert "how round the corners of the cooktop are" in sharp.not_checked
    assert found(cutouts=[SINK | {"corner_radius": "3/8 in"}], minimums=least)[0].ok
    unsaid = found(cutouts=[SINK | {"corner_radius": "0 in"}])[0]
    assert unsaid.ok and "how round the corners of cut-outs must be" in unsaid.not_checked


@pytest.mark.parametrize("size", [SINK, {"name": "sink", "from_left": "40 in", "width": "18 in"}])
def test_a_corner_that_is_rounder_than_half_a_side_is_refused(size: dict[str, str]) -> None:
    assert seam.from_json({**RUN, "cutouts": [size | {"corner_radius": "9 in"}]})
    with pytest.raises(DimensionError, match="more than half") as refused:
        seam.from_json({**RUN, "cutouts": [size | {"corner_radius": "9-1/8 in"}]})
    assert refused.value.field == "cutouts.0.corner_radius"
