"""What the drawing and the sheet of a top say, sentence by sentence."""

from portal.words.drawn import top_words as words


def test_the_work_counts_the_holes_and_says_what_each_is_for() -> None:
    assert words.work([("A", "filtered water", "1-3/8 in"), ("B", "the faucet", "35 mm")]) == (
        "Drill two holes: A for the filtered water, 1-3/8 in; B for the faucet, 35 mm.")
    assert words.work([]) == "Drill no hole. The table says what becomes of those that are there."


def test_a_hole_says_what_it_is_for_how_wide_and_what_becomes_of_it() -> None:
    assert words.hole_note("A", "faucet", "1-3/8 in", new=True) == "A: faucet, drill 1-3/8 in"
    assert words.hole_note("A", "faucet", "1-3/8 in", new=False) == "A: faucet, there already, 1-3/8 in"
    assert words.purpose("soap dispenser", words.USED) == "soap dispenser, there already, used"


def test_a_place_says_its_side_and_a_hole_before_the_edge_says_so() -> None:
    assert [words.to_the_side("4 in", right=right) for right in (True, False)] == ["right 4 in", "left 4 in"]
    assert words.before("1 in") == "1 in before it" and words.from_the("2 in", "left end") == "2 in from the left end"


def test_the_table_names_its_datums_and_its_checks() -> None:
    assert words.columns("left end", "back edge", zones=True)[3:] == (
        "From the middle of the cut-out", "Behind its back edge", "Check: from the left end",
        "Check: from the back edge", "May be off by")
    assert "May be off by" not in words.columns("left end", "back edge", zones=False)


def test_the_drawing_says_what_is_below_each_kind_once() -> None:
    assert words.dashed(True, ["clip", "pipe", "clip"]) == (
        "Dashed lines are what is below the top: both sides of the cabinet; clip (2 of them); pipe.")
    assert words.dashed(False, []) == ""
    assert words.caption("60 in", "25 in", "3 cm") == (
        "The top seen from above, 60 in by 25 in, 3 cm thick: front edge at the bottom, wall at the top.")


def test_the_front_edge_tells_of_the_middle_where_no_end_is_drawn() -> None:
    assert words.front_caption("") == "front edge"
    assert words.front_caption("30 in from the left end") == "middle of the cut-out, 30 in from the left end"
    assert words.center_line("31 in from the left end") == "center line of the faucet, 31 in from the left end"


def test_drift_is_said_for_all_holes_at_once_with_the_slop_that_was_entered() -> None:
    assert "all holes at once" in words.drift("") and "slop" not in words.drift("")
    assert "The slop of bit and tape, 1 mm, is taken off already." in words.drift("1 mm")
    assert words.no_drift([]) == ""
    assert words.no_drift(["the faucet", "air gap"]).startswith("No room to be off: faucet and air gap.")
