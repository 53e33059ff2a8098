"""What is said of seams, whole: a run of 144 by 25-1/2 in, 30 mm thick, 2650 kg per cubic meter."""

import pytest

from portal.layouts.seam import words
from tests.layouts.seam.test_layout import RUN, found

BEST = found()[0]


def test_the_best_says_what_each_piece_weighs_where_else_the_seam_may_be_and_what_one_sees() -> None:
    """76 x 25-1/2 in x (30 mm + 1/8 in): 1.9304 x 0.6477 x 0.033175 m x 2650 = 109.92 kg, 242.3 lb; 68 in: 98.35 kg,
    216.8 lb."""
    machine = "before cut-outs; too heavy for four people, it goes by machine."
    assert BEST.effects == (
        f"Piece 1: 76 in long, at most 243 lb (110 kg) {machine}",
        f"Piece 2: 68 in long, at most 217 lb (99 kg) {machine}",
        "The seam can be anywhere from 74 in to 76 in from the left end.",
        "You will see the seam: about 1/16 in wide, give or take 1/64 in.",
        "You should feel no step at the front and back edge; in the middle it may be 1/32 in at most.")
    assert [piece["weight"]["kg"] for piece in BEST.to_json()["pieces"]] == [109.92, 98.35]


def test_the_checks_are_called_by_what_they_measure_and_whose_limit_it_is() -> None:
    assert [check.sentence for check in BEST.checks] == [
        "length out of the slab, piece 1: 76 in, at most 100 in: passes",
        "length out of the slab, piece 2: 68 in, at most 100 in: passes",
        "seam to cut-out, seam at 76 in, sink: 6 in, at least 4 in: passes",
        "seam to cut-out, seam at 76 in, cooktop: 24 in, at least 4 in: passes",
        "seam off the dishwasher, seam at 76 in: 0 in, at least 0 in: passes",
        "depth out of the slab, all pieces: 25-1/2 in, at most 60 in: passes"]
    assert BEST.checks[2].source == "the fabricator" and BEST.checks[4].source.endswith("drawing 17-D-1")


def test_reasons_tell_one_slab_from_the_fewest_seams_and_from_what_a_seam_keeps_away_from() -> None:
    assert BEST.reason == "Fits, and the seam keeps 6 in from the nearest cut-out."
    assert found(cutouts=None)[0].reason == "Fits, with the fewest seams that the slab allows."
    (whole,) = found(length="100 in", cutouts=None, dishwasher=None)
    assert (whole.reason, whole.effects[-1]) == ("Comes out of one slab.", "There is no seam to see.")
    assert len(whole.advice) == 4 and len(BEST.advice) == 7


def test_the_drawing_says_all_that_it_shows() -> None:
    assert words.description(BEST) == " ".join([
        "The top from above, front edge at the bottom. Depths of cut-outs that are not given are not to scale.",
        "Cut-outs from the left end: sink from 40 in to 70 in, cooktop from 100 in to 128 in.",
        "Seams from the left end: 76 in.", *BEST.effects])
    (whole,) = found(length="100 in", cutouts=None, dishwasher=None)
    assert words.description(whole).count("from the left end") == 0


def test_a_cut_out_may_end_where_the_run_ends_and_a_seam_may_not() -> None:
    ends = [{"name": "sink", "from_left": "114 in", "width": "30 in"}]
    assert found(cutouts=ends)[0].run.cutouts[0].right == found()[0].run.length
    assert BEST.run.dishwasher is not None and words.label(BEST.run.dishwasher) == "dishwasher"
    assert [(mark.name, mark.edge) for mark in BEST.marks] == [("seam 1", "left end")]


def test_seams_suggest_themselves_at_the_middle_at_slab_ends_and_beside_cut_outs() -> None:
    """Middle 72; slab 100 and 144 - 100 = 44; beside the sink 36 and 74, beside the cooktop 96 and 132 in. Of the
    places that fit, 74 to 76 in, the middle and the ends."""
    places = sorted(one.seams[0] for one in found())
    assert [at.text for at in places] == [
        "36 in", "44 in", "72 in", "74 in", "75 in", "76 in", "96 in", "100 in", "132 in"]


def test_what_was_not_given_is_said_as_plainly_as_what_passes() -> None:
    assert BEST.not_checked == (
        "what the top is made of (natural stone is taken)",
        "how much is left before and behind the sink",
        "how much is left before and behind the cooktop",
        "how round the corners of the sink are", "how round the corners of the cooktop are",
        "how wide the strips around cut-outs must be", "how short a piece may be")
    least = RUN["minimums"] | {"strip": "2 in", "piece": "12 in", "cutout_radius": "3/8 in"}
    deep = [{**each, "from_front": "3 in", "depth": "18 in", "corner_radius": "1/2 in"} for each in RUN["cutouts"]]
    whole = found(material="granite", density=None, cutouts=deep, minimums=least)[0]
    assert whole.not_checked == ()
    assert "The sink: 3 in is left before it and 4-1/2 in is left behind it." in whole.effects
    quartz = found(material="quartz", density=None, cutouts=deep, minimums=least, dishwasher=None)[0]
    assert quartz.not_checked == ("how much thicker than nominal the slab is", "whether a dishwasher stands below")


def test_what_was_reckoned_with_is_said_with_its_source() -> None:
    said = {each.text: each.source for each in found(material="granite", density=None)[0].advice}
    assert said["Weights are reckoned at 3300 kg per cubic meter, with no cut-out taken off."].startswith("least: ASTM")
    assert said["Weights are reckoned 1/8 in thicker than nominal: slabs differ."].startswith("MIA")
    assert not any("memory" in source for source in said.values())
    ground = found(material="granite", density=None, thicker_by="0 in")[0]
    assert not any("thicker" in text for text in (*ground.not_checked, *(each.text for each in ground.advice)))
    light = [each.text for each in found(material="granite", density=2000)[0].advice]
    assert "2000 kg per cubic meter is less than granite has: 2560 or more. Look at its sheet again." in light


@pytest.mark.parametrize(("material", "cut", "edge", "seen"), [
    ("marble", "The shop cuts the stone", True, "You will see the seam"),
    ("quartz", "The shop cuts the quartz", True, "its maker’s sheet says"),
    ("wood", "The shop cuts the wood", False, "its maker’s sheet says")])
def test_words_and_expectations_are_those_of_the_material(material: str, cut: str, edge: bool, seen: str) -> None:
    best = found(material=material, density=None)[0]
    assert best.cannot_be_undone.startswith(cut) and seen in " ".join(best.effects)
    assert any("on edge" in each.text for each in best.advice) == edge
    assert any("1/16 in" in each.text for each in best.advice) == (material == "marble")


def test_where_the_fewest_do_not_fit_one_more_piece_does_and_says_why() -> None:
    """A cut-out from 40 to 84 in of 124 in; slab 90 in: one seam lies from 34 to 90 in, less 36 to 88 in where the
    cut-out is too near. Kept 8 in off it, less 32 to 92 in: nothing is left."""
    wide = [{"name": "range", "from_left": "40 in", "width": "44 in"}]
    one = found(length="124 in", slab={"length": "90 in", "depth": "60 in"}, cutouts=wide, dishwasher=None)[0]
    assert [at.text for at in one.seams] in (["34 in"], ["90 in"])
    assert one.effects[2] == "The seam can be anywhere from 34 in to 36 in or from 88 in to 90 in from the left end."
    two = found(length="124 in", slab={"length": "90 in", "depth": "60 in"}, cutouts=wide, dishwasher=None,
                minimums={"to_cutout": "8 in", "source": "the fabricator"})[0]
    assert len(two.seams) == 2 and two.ok and two.reason.endswith("With one seam nothing fits.")
    assert two.effects[3] == (
        "Seam 1 can be anywhere from 17 in to 32 in from the left end, one at a time: the other then stays.")
    assert [at.text for at in two.seams][1] == "107 in", "so 17 in at least, for a piece of 90 in"


def test_a_place_of_one_point_is_exact_and_a_place_that_no_rule_shows_is_never_widened() -> None:
    """Slab 72 in, run 144 in: at 72 in alone. Slab 1830 mm, 72.05 in: from 71.95 to 72.05 in, and 72 in is within."""
    assert found(cutouts=None, slab={"length": "72 in", "depth": "60 in"}, dishwasher=None)[0].effects[2] == (
        "The seam can be at 72 in from the left end.")
    odd = found(cutouts=None, length="144 in", slab={"length": "1830 mm", "depth": "60 in"}, dishwasher=None)[0]
    assert odd.effects[2] == "The seam can be at 72 in from the left end."
    fine = found(cutouts=None, length="1000 mm", slab={"length": "500.03 mm", "depth": "60 in"}, dishwasher=None)[0]
    assert fine.effects[2] == "The seam can be at 500 mm from the left end."
    finer = found(cutouts=None, length="1000.1 mm", slab={"length": "500.06 mm", "depth": "60 in"}, dishwasher=None)[0]
    assert finer.effects[2] == "The seam can be anywhere from 500.04 mm to 500.06 mm from the left end."
