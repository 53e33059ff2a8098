"""What is said of a center line, whole: each number checked by hand from the window, the cabinet and the sink."""

from portal.layouts.centerline import words
from tests.layouts.centerline.test_layout import lines

# Window 45 to 81 in: center 63. Cabinet 39 to 75 in: center 57. Sink 33 in and 1/2 in of clips: its center from
# 39 + 16-1/2 + 1/2 = 56 in to 75 - 16-1/2 - 1/2 = 58 in. Counter from 15 to 100 in.
WALL = {"counter": {"left": "15 in", "right": "100 in"}, "datum": "the corner"}
NEAR, CABINET, WINDOW, BETWEEN = lines({"left": "45 in", "right": "81 in"}, **WALL)


def test_the_best_line_says_what_is_off_what_is_left_and_what_counter_it_leaves() -> None:
    assert NEAR.effects == (
        "The sink is 5 in left of the center of the window.", "The sink is 1 in right of the center of the cabinet.",
        "It leaves 2-1/2 in at the left side of the cabinet.", "It leaves 1/2 in at the right side of the cabinet.",
        "Counter beside it: 26-1/2 in on the left, 25-1/2 in on the right.")
    assert NEAR.reason == "Fits, 5 in off the window, which the eye sees first."
    assert NEAR.cannot_be_undone == "Once the top is cut, the sink and the faucet can move only by a hair."


def test_the_material_of_the_top_is_named() -> None:
    (wood, *_) = lines(None, material="wood")
    assert wood.cannot_be_undone == "Once the wood top is cut, the sink and the faucet can move only by a hair."


def test_a_line_that_does_not_fit_says_by_how_much() -> None:
    assert WINDOW.effects[0] == "The sink is on the center of the window."
    assert WINDOW.effects[3] == "It runs 4-1/2 in into the right side of the cabinet."
    assert BETWEEN.reason == ("Does not fit. Room beside the sink, right side of the cabinet: 1-1/2 in past it, "
                              "at least 1/2 in: fails, by 2 in.")
    tight = lines({"left": "39 in", "right": "75 in"}, clip_room="2 in")[0]
    assert "It leaves 1-1/2 in at the left side of the cabinet, 1/2 in too little for its clips." in tight.effects


def test_advice_says_where_the_sink_fits_and_how_far_the_centers_are_apart() -> None:
    fits, apart = CABINET.advice
    assert fits.text == "The sink fits with its center from 56 in to 58 in, measured from the corner."
    assert fits.source == "the sink maker's sheet"
    assert apart.text == ("Window and cabinet are 6 in apart. The eye goes to the window first: where the sink allows "
                          "it, it goes there.")


def test_the_drawing_says_all_that_it_shows() -> None:
    assert words.drawing(NEAR) == "Center line of the sink: As near the window as the sink can come"
    assert words.description(NEAR) == " ".join([
        "The wall from in front: window above, cabinet and sink below. Only distances along the wall are to scale.",
        "The center line is 58 in from the corner.", *NEAR.effects])
    (bare, *_) = lines(None)
    assert words.description(bare).startswith("The wall from in front: cabinet and sink below.")
    assert (words.datum(NEAR), words.datum(bare)) == ("corner", "left end of the wall")
    assert words.off_the(NEAR.off_cabinet, "cabinet") == "1 in off the cabinet"


def test_the_sheet_marks_the_sink_by_its_center_and_both_sides() -> None:
    assert [(mark.name, mark.edge, mark.at.text) for mark in NEAR.marks] == [
        ("center line of the sink", "the corner", "58 in"), ("left side of the sink", "the corner", "41-1/2 in"),
        ("right side of the sink", "the corner", "74-1/2 in")]
    assert [limit["text"] for limit in NEAR.to_json()["range"]] == ["56 in", "58 in"]
