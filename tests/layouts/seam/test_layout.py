"""Seams: where the pieces may meet, whether they come out of the slab, and what someone has to lift."""

from itertools import pairwise
from typing import Any

import pytest

from portal.layouts import seam
from portal.layouts.length import DimensionError, Length
from portal.layouts.seam.layout import SeamLayout

RUN: dict[str, Any] = {
    "length": "144 in", "depth": "25-1/2 in", "thickness": "30 mm", "density": 2650,
    "slab": {"length": "100 in", "depth": "60 in"},
    "cutouts": [{"name": "sink", "from_left": "40 in", "width": "30 in"},
                {"name": "cooktop", "from_left": "100 in", "width": "28 in"}],
    "dishwasher": {"from_left": "76 in", "width": "24 in"},
    "minimums": {"to_cutout": "4 in", "source": "the fabricator"},
}


def found(**changed: Any) -> list[SeamLayout]:
    return seam.layouts(seam.from_json({**RUN, **changed}))


def names(layout: SeamLayout) -> set[str]:
    return {check.name for check in layout.checks if not check.ok}


def test_a_seam_that_passes_comes_first_and_keeps_the_furthest_from_every_cut_out() -> None:
    """74 in is 4 in from the sink, 76 in is 6 in from it and where the dishwasher begins."""
    best = found()[0]
    assert best.ok and [at.text for at in best.seams] == ["76 in"]
    assert "keeps 6 in from the nearest cut-out" in best.reason
    assert [mark.to_json()["at"]["text"] for mark in best.marks] == ["76 in"]


def test_each_check_can_fail() -> None:
    failing = {name for layout in found() for name in names(layout)}
    assert failing == {"length out of the slab", "seam to cut-out", "seam off the dishwasher"}
    assert all("depth out of the slab" in names(layout) for layout in found(depth="61 in"))


def test_a_top_that_fits_a_slab_has_no_seam_unless_one_is_proposed() -> None:
    (whole,) = found(length="100 in", cutouts=None, dishwasher=None)
    assert whole.title == "One piece, no seam" and whole.ok and not whole.seams
    best, proposed = found(length="100 in", cutouts=None, dishwasher=None, proposed=[{"from_left": "50 in"}])
    assert not best.seams and proposed.title == "A seam 50 in from the left end"


def test_a_very_long_top_has_two_seams() -> None:
    best = found(length="230 in", cutouts=None, dishwasher=None)[0]
    assert len(best.seams) == 2 and best.ok and best.title.startswith("Seams ")
    assert all(piece.length <= best.run.slab_length for piece in best.pieces)


def test_three_seams_stand_where_they_keep_the_furthest_from_every_cut_out() -> None:
    """Between the cut-outs lie 50 to 70, 98 to 110 and 125 to 140 in: 6 in are kept at 104 in alone, and not more."""
    cutouts = [{"name": f"cut-out {left}", "from_left": f"{left} in", "width": f"{right - left} in"}
               for left, right in ((20, 50), (70, 98), (110, 125), (140, 145))]
    best = found(length="170 in", slab={"length": "60 in", "depth": "60 in"}, cutouts=cutouts, dishwasher=None,
                 minimums={"to_cutout": "4 in", "piece": "12 in", "source": "f"})[0]
    assert best.ok and len(best.seams) == 3 and best.seams[1].text == "104 in"
    assert best.from_cutouts == Length.parse("6 in")


def test_pieces_make_up_the_run() -> None:
    for layout in found():
        assert sum(piece.length.mm for piece in layout.pieces) == layout.run.length.mm
        assert all(one.right == other.left for one, other in pairwise(layout.pieces))


def test_the_fabricators_distance_is_kept_exactly() -> None:
    edge = next(layout for layout in found() if layout.seams == (Length.parse("74 in"),))
    assert [check.margin for check in edge.checks if "sink" in check.about] == [0.0]


def test_every_layout_says_what_a_piece_weighs_and_how_it_is_lifted() -> None:
    best = found()[0]
    # 76 in x 25-1/2 in x (30 mm + 1/8 in) of 2650 kg per cubic meter: 1.9304 x 0.6477 x 0.033175 x 2650 = 109.92 kg
    assert float(best.pieces[0].weight.kg) == pytest.approx(109.921, abs=0.001)
    assert best.to_json()["pieces"][0]["weight"] == {"text": "243 lb (110 kg)", "kg": 109.92}
    assert best.effects[0].startswith("Piece 1: 76 in long, at most 243 lb (110 kg) before cut-outs; too heavy for")
    assert any("on edge" in each.text for each in best.advice)


def test_a_light_piece_is_carried_by_hand_and_the_answer_says_by_how_many() -> None:
    """Solid surface of 1/2 in at most 1900 kg per cubic meter, 40 x 25-1/2 in: 1.016 x 0.6477 x 0.0127 x 1900 kg."""
    best = found(length="80 in", material="solid surface", density=None, thickness="1/2 in", cutouts=None,
                 dishwasher=None, slab={"length": "40 in", "depth": "30 in"})[0]
    assert float(best.pieces[0].weight.kg) == pytest.approx(15.879, abs=0.001)
    assert [piece["people"] for piece in best.to_json()["pieces"]] == [1, 1]
    assert best.effects[0].endswith("at most 36 lb (16 kg) before cut-outs; one person carries it.")


@pytest.mark.parametrize(("changed", "field"), [
    ({"density": "2650"}, "density"), ({"density": 3}, "density"), ({"density": None}, "material"),
    ({"material": "brick"}, "material"), ({"thicker_by": "some"}, "thicker_by"),
    ({"minimums": {"to_cutout": "4 in", "strip": "x", "source": "x"}}, "minimums.strip"),
    ({"minimums": {"source": "x"}}, "minimums.to_cutout"),
    ({"slab": {"length": "100 in"}}, "slab.depth"), ({"length": "400 in"}, "length"),
    ({"cutouts": [{"name": "sink", "from_left": "130 in", "width": "30 in"}]}, "cutouts.0.width"),
    ({"proposed": [{"from_left": "144 in"}]}, "proposed.0.from_left"),
    ({"slab": {"length": "100 in", "depth": "60 in", "color": "x"}}, "slab.color")])
def test_a_wrong_field_is_named(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        found(**changed)
    assert refused.value.field == field
