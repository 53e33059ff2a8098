"""What is said of seams, whole: a run of 144 by 25-1/2 in, 30 mm thick, 2650 kg per cubic meter."""

from portal.layouts.seam import words
from tests.layouts.seam.test_layout import found

BEST = found()[0]


def test_the_best_says_what_each_piece_weighs_and_what_one_sees() -> None:
    """74 x 25-1/2 in x 30 mm: 1.8796 x 0.6477 x 0.03 m x 2650 = 96.8 kg, 213.4 lb; 70 in: 91.6 kg, 201.9 lb."""
    assert BEST.effects == (
        "Piece 1: 74 in long, 214 lb (97 kg) before cut-outs.", "Piece 2: 70 in long, 202 lb (92 kg) before cut-outs.",
        "You will see the seam: about 1/16 in wide, give or take 1/64 in.",
        "You should feel no step at the front and back edge; in the middle it may be 1/32 in at most.")
    assert [piece["weight"]["kg"] for piece in BEST.to_json()["pieces"]] == [96.78, 91.55]


def test_the_checks_are_called_by_what_they_measure_and_whose_limit_it_is() -> None:
    assert [check.sentence for check in BEST.checks] == [
        "length out of the slab, piece 1: 74 in, at most 100 in: passes",
        "length out of the slab, piece 2: 70 in, at most 100 in: passes",
        "depth out of the slab, all pieces: 25-1/2 in, at most 60 in: passes",
        "seam to cut-out, seam at 74 in, sink: 4 in, at least 4 in: passes",
        "seam to cut-out, seam at 74 in, cooktop: 26 in, at least 4 in: passes",
        "seam off the dishwasher, seam at 74 in: 2 in, at least 0 in: passes"]
    assert BEST.checks[3].source == "the fabricator" and BEST.checks[5].source.endswith("drawing 17-D-1")


def test_reasons_tell_one_slab_from_the_fewest_seams_and_from_what_a_seam_keeps_away_from() -> None:
    assert BEST.reason == "Fits, and the seam keeps 4 in from the nearest cut-out."
    assert found(cutouts=None)[0].reason == "Fits, with the fewest seams that the slab allows."
    (whole,) = found(length="100 in", cutouts=None, dishwasher=None)
    assert (whole.reason, whole.effects[-1]) == ("Comes out of one slab.", "There is no seam to see.")
    assert len(whole.advice) == 1 and len(BEST.advice) == 4


def test_the_drawing_says_all_that_it_shows() -> None:
    assert words.description(BEST) == " ".join([
        "The top from above, front edge at the bottom. Depths of cut-outs are not to scale.",
        "Cut-outs from the left end: sink from 40 in to 70 in, cooktop from 100 in to 128 in.",
        "Seams from the left end: 74 in.", *BEST.effects])
    (whole,) = found(length="100 in", cutouts=None, dishwasher=None)
    assert words.description(whole).count("from the left end") == 0


def test_a_cut_out_may_end_where_the_run_ends_and_a_seam_may_not() -> None:
    ends = [{"name": "sink", "from_left": "114 in", "width": "30 in"}]
    assert found(cutouts=ends)[0].run.cutouts[0].right == found()[0].run.length
    assert BEST.run.dishwasher is not None and words.label(BEST.run.dishwasher) == "dishwasher"
    assert [(mark.name, mark.edge) for mark in BEST.marks] == [("seam 1", "left end")]


def test_seams_suggest_themselves_at_the_middle_at_slab_ends_and_beside_cut_outs() -> None:
    """Middle 72; slab 100 and 144 - 100 = 44; beside the sink 36 and 74, beside the cooktop 96 and 132 in."""
    places = sorted(one.seams[0] for one in found())
    assert [at.text for at in places] == ["36 in", "44 in", "72 in", "74 in", "96 in", "100 in", "132 in"]
