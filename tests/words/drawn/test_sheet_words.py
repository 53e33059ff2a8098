"""What every printed sheet says to the crew, sentence by sentence."""

import pytest

from portal.words.drawn import sheet_words as said


def test_over_the_page_stands_why_it_must_not_be_used() -> None:
    assert said.NOT_APPROVED == "NOT APPROVED - DO NOT CUT OR DRILL"
    assert said.superseded(3) == "SUPERSEDED BY REVISION 3 - DO NOT CUT OR DRILL"
    assert said.approved("Maren Okafor", "Thursday, 6:12 pm") == "Approved by Maren Okafor, Thursday, 6:12 pm."
    assert said.NOT_YET == "This option of this revision is not approved."


def test_what_fails_stands_over_the_page_by_the_names_of_its_rules_once_each() -> None:
    assert said.fails(["hole to hole", "hole to hole"]) == "FAILS: hole to hole"
    assert said.fails(["a", "b", "a", "c", "d"]) == "FAILS: a; b; and 2 more"
    assert said.fails_in_full("hole to hole, A: 1 in, at least 2 in: fails").startswith("FAILS: hole to hole, A: 1 in")
    assert said.despite("Dana", "they insist") == "Offered all the same by Dana: they insist"
    assert said.not_checked(["the cabinet", "the reach"]) == "Not checked, because not given: the cabinet; the reach."


def test_what_stands_in_brackets_has_its_own_line() -> None:
    assert said.unbroken("1 in (25.4 mm)") == "1 in\n(25.4 mm)" and said.unbroken("35 mm") == "35 mm"


def test_the_heading_says_whose_house_which_question_and_what_is_to_be_done() -> None:
    assert said.sheet_name("12 Alder Court", "Kitchen", 4, 2, "3fa9-01bc") == (
        "12 Alder Court, Kitchen. Decision 4, revision 2. Check code 3fa9-01bc")
    assert said.place("12 Alder Court", "Kitchen") == "12 Alder Court, Kitchen"
    assert said.asked(4, 2, "Which holes?") == "Decision 4, revision 2: Which holes?"
    assert (said.to_do("Two holes"), said.code("3fa9")) == ("To do: Two holes", "Check code 3fa9")


def test_what_to_check_first_ends_with_whom_to_call() -> None:
    assert said.still_approved("3fa9", "example.com") == (
        "Still approved? Scan the square code, or type 3fa9 at example.com")
    assert said.if_it_differs("Ana, 555-0142") == "Something differs? Don't drill. Call Ana, 555-0142."
    assert said.if_it_differs("") == "Something differs? Don't drill."
    assert said.BARS.endswith("100 mm and 4 in.") and (said.BAR_ALONG, said.BAR_UP) == ("100 mm", "4 in")
    assert (said.CHECK_FIRST, said.KEEP_SAFE, said.WHAT_WAS_CHECKED) == (
        "Check first", "Keep safe", "What was checked")
    assert said.page_of(2, 5) == "page 2 of 5"


@pytest.mark.parametrize(("source", "whose"), [
    ("given with the dimensions", "the makers' sheets, as entered"), ("geometry", "the sizes themselves"),
    ("the fabricator", "the fabricator")])
def test_checks_say_whose_limits_they_are(source: str, whose: str) -> None:
    assert said.limits_failed("hole to hole: fails", source) == f"Hole to hole: fails (limit: {whose})."
    assert said.limits_passed(["one", "two"], source) == f"Passes, by the limits of {whose}: one; two."


def test_a_template_says_for_which_fronts_it_is() -> None:
    assert [said.fronts(letters) for letters in ((), ("A",), ("A", "B", "D"))] == ["", "front A", "fronts A, B and D"]
    assert said.full_size("", "Two holes") == "Full size. To do: Two holes"
    assert said.full_size("front A", "Two holes") == "Full size, front A. To do: Two holes"
    assert said.front_edges("front A") == (
        "top edge of front A", "bottom edge of front A", "left side of front A", "right side of front A",
        "middle of front A")


def test_without_a_template_the_reason_is_said() -> None:
    assert said.too_many(40) == (
        "Not full size, and no full-size template: it would take more than 40 sheets. Measure each hole.")
    assert said.none_for(["front A", "front B"]) == "There is none for front A and front B: measure each hole."
    assert "too far apart" in said.TOO_FAR and "no holes to drill" in said.NO_HOLES
    assert said.FOLLOWS == "Not full size here. The full-size template follows."


def test_pages_of_a_template_say_which_they_are_and_how_they_are_laid() -> None:
    assert said.which_page(1, 2, 3, 4) == (
        "Row 1 of 2, column 3 of 4. Cut on the gray cut line, and lay the marks of the same name on each other.")
    assert said.WHOLE_TEMPLATE == "This page is the whole template." and said.UP_TO_WALL.startswith(f"{said.UP}: ")
    assert said.lay_on(["left end", said.marked_first("center line")]) == (
        "Lay each line on the real one: left end; center line (mark it first).")
    assert said.any_of(["left end", "right end"]) == "left end or the right end"
    assert said.no_edge("J1") == "cut line J1, not an edge" and said.cut_line("J1") == "cut line J1"


def test_a_hole_says_once_that_it_is_drilled() -> None:
    assert said.drill("hole 2") == "hole 2: drill" and said.drill("A: faucet, drill 35 mm") == "A: faucet, drill 35 mm"


def test_every_line_that_an_old_drawing_can_have_a_name_for_has_one() -> None:
    assert said.LINES["underneath"] == "below the top" and said.LINES["clearance"] == "line that is no edge"
    assert set(said.LINES) == {"wall", "edge", "cut-out", "cabinet", "underneath", "center line", "front", "pull",
                               "clearance", "datum"}  # fmt: skip
    assert said.MARK_COLUMNS == ("Mark", "Measured from", "Distance")
