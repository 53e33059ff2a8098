"""The drilling sheet, read back with pypdf: what the crew reads, and that nobody mistakes an unapproved one."""

import io
from dataclasses import replace
from functools import cache

import pytest
from pypdf import PdfReader

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Rect, Scene, SceneError
from portal.drawings.sheets.paper import Paper
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.writers.pdf import pdf
from tests.drawings.samples import approved_sheet, deck_scene


@cache
def pages(sheet: Sheet, paper: Paper = Paper.LETTER) -> list[str]:
    """The words of every page, with single spaces."""
    reader = PdfReader(io.BytesIO(pdf(sheet, deck_scene(), paper)))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


@pytest.mark.parametrize(
    "words",
    [
        "12 Alder Court, Kitchen", "Decision 4, revision 2", "Approved by Łucja Nguyễn, Thu Dec 3, 2026, 6:12 pm.",
        "Check code 3fa9-01bc-77de", "type 3fa9-01bc-77de at https://example.com/check/3fa9-01bc-77de/",
        "12-1/2 in (317.5 mm)",
        "From the back edge", "2-5/8 in of stone between A and B", "Call Ana Ruiz, 555-0142",
        "To do: Three holes: faucet in the middle",
    ],
)  # fmt: skip
def test_the_first_page_says_what_the_crew_must_know(words: str) -> None:
    assert words in pages(approved_sheet())[0]


def test_every_caution_stands_on_the_first_page_below_the_words_that_head_them() -> None:
    first = pages(approved_sheet())[0]
    heading = first.index("Keep safe")
    assert [first.find(caution, heading) > 0 for caution in approved_sheet().cautions] == [True, True]


@pytest.mark.parametrize("words", [
    "Check first", "type 3fa9-01bc-77de at https://example.com/check/", "Measure both bars", "Measure it yourself.",
    "Drill three holes.", "seen from above", "160 mm exactly.",
])  # fmt: skip
def test_what_to_check_first_and_what_no_table_says_stands_on_it(words: str) -> None:
    told = replace(
        approved_sheet(), type_at="https://example.com/check/", first=("Measure it yourself.",),
        sizes=("160 mm exactly.",), work="Drill three holes.", caption="The top seen from above.",
    )  # fmt: skip
    assert words in pages(told)[0]


def test_the_printer_is_asked_for_actual_size() -> None:
    """ISO 32000-1, 12.2, table 150 (from memory): PrintScaling None means no scaling by the viewer."""
    root = PdfReader(io.BytesIO(pdf(approved_sheet(), deck_scene()))).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_template_pages_name_what_is_to_be_done() -> None:
    for text in pages(approved_sheet())[1:]:
        assert "Full size. To do: Three holes: faucet in the middle, handle right, sprayer left" in text


def test_every_page_says_whose_it_is_and_which_page() -> None:
    got = pages(approved_sheet())
    for number, text in enumerate(got, start=1):
        assert "Decision 4, revision 2. Check code 3fa9-01bc-77de" in text
        assert f"page {number} of {len(got)}" in text


def test_an_approved_sheet_carries_no_overprint() -> None:
    assert not any("DO NOT" in text for text in pages(approved_sheet()))


@pytest.mark.parametrize("paper", Paper)
def test_a_sheet_that_nobody_approved_says_so_across_every_page(paper: Paper) -> None:
    got = pages(replace(approved_sheet(), approved_by="", approved_at=""), paper)
    assert len(got) > 1
    assert all(text.count("NOT APPROVED - DO NOT CUT OR DRILL") == 3 for text in got)
    assert "This option of this revision is not approved." in got[0]


def test_a_sheet_of_an_earlier_revision_says_so_across_every_page() -> None:
    got = pages(replace(approved_sheet(), superseded_by=3))
    assert all(text.count("SUPERSEDED BY REVISION 3 - DO NOT CUT OR DRILL") == 3 for text in got)


FAILS = (("hole to cut-out, A", "hole to cut-out, A: 1 in, at least 2 in: fails"), ("reach, A", "reach, A: short"),
         ("swing, A", "swing, A: strikes"))


def test_a_sheet_of_a_layout_that_breaks_a_rule_says_so_across_every_page_approved_or_not() -> None:
    failing = replace(approved_sheet(), fails=FAILS, despite="Offered all the same by Dana: they insist")
    got = pages(failing)
    assert len(got) > 1 and all(text.count("FAILS: hole to cut-out, A; reach, A; and 1 more") == 3 for text in got)
    assert "FAILS: hole to cut-out, A: 1 in, at least 2 in: fails" in got[0]
    assert "Offered all the same by Dana: they insist" in got[0]
    both = pages(replace(failing, approved_by="", approved_at=""))
    assert all(text.count("NOT APPROVED - DO NOT CUT OR DRILL") == 2 for text in both), "once on the bar, once across"
    assert all(text.count("FAILS: hole to cut-out, A;") == 2 for text in both)


def test_what_fails_may_be_cut_only_where_somebody_answers_for_it_by_name() -> None:
    failing = replace(approved_sheet(), fails=FAILS)
    assert (failing.may_be_cut, failing.barred) == (False, "FAILS")
    answered = replace(failing, despite="Offered all the same by Dana: they insist")
    assert (answered.may_be_cut, answered.barred) == (True, "")
    assert replace(answered, superseded_by=3).barred == "NOT_APPROVED"
    notes = answered.notes()
    assert notes[0].startswith("FAILS: ") and "Offered all the same by Dana: they insist" in notes
    assert "FAILS: reach, A: short" in notes


def test_what_was_not_checked_stands_first_among_what_was() -> None:
    text = pages(replace(approved_sheet(), not_checked=("the sides of the cabinet", "the reach")))[0]
    assert "What was checked - Not checked, because not given: the sides of the cabinet; the reach." in text


def test_blanks_for_the_day_and_a_second_person_stand_with_what_was_drawn() -> None:
    found = (("Cut-out, left to right", "30 in (762 mm)"), ("Thickness of the top", "3 cm"), ("To the wall", "6 in"))
    text = pages(replace(approved_sheet(), found=found))[0]
    assert "Found on the day As drawn As found" in text and "Cut-out, left to right 30 in (762 mm)" in text
    assert "Measured by" in text and "Read back aloud by a second person" in text
    assert "Found on the day" not in pages(approved_sheet())[0]


def test_a_sheet_to_cut_by_says_dont_cut_and_has_its_second_table() -> None:
    cutting = replace(approved_sheet(), dont="Don't cut.", details=(("Thickness", "30 mm"), ("Piece 1", "142 lb")))
    text = pages(cutting)[0]
    assert "Something differs? Don't cut. Call Ana Ruiz, 555-0142." in text
    assert "What Size Thickness 30 mm Piece 1 142 lb" in text


def test_the_overprint_comes_after_everything_else_on_the_page() -> None:
    """What is drawn last lies on top: PDF paints in order (ISO 32000-1, 8.1)."""
    unapproved = replace(approved_sheet(), approved_by="", approved_at="")
    for text in pages(unapproved):
        assert text.rstrip().endswith("DO NOT CUT OR DRILL")


@pytest.mark.parametrize("paper", Paper)
def test_the_same_sheet_gives_the_same_bytes(paper: Paper) -> None:
    assert pdf(approved_sheet(), deck_scene(), paper) == pdf(approved_sheet(), deck_scene(), paper)


def test_another_revision_gives_other_bytes() -> None:
    assert pdf(approved_sheet(), deck_scene()) != pdf(replace(approved_sheet(), revision=3), deck_scene())


def test_a_long_table_and_many_cautions_run_on_to_the_next_page() -> None:
    row = approved_sheet().rows[0]
    rows = tuple((f"H{n}", *row[1:]) for n in range(60))
    text = pages(replace(approved_sheet(), rows=rows))
    assert "H0 " in text[0] and "H59 " not in text[0]
    assert any("H59 " in t for t in text[1:])
    assert all(any(caution[:30] in t for t in text) for caution in approved_sheet().cautions)


def test_a_word_longer_than_the_line_is_broken_and_not_cut_off() -> None:
    address = "https://example.com/p/" + "q7Jm2kX9bT4w" * 14
    text = pages(replace(approved_sheet(), page_url=address))[0]
    assert address in text.replace(" ", "")


def test_without_holes_there_is_no_template_and_the_sheet_says_why() -> None:
    scene = Scene("top", "a top", (Rect(Layer.EDGE, 0, 0, 900, 600),))
    (text,) = [p.extract_text() for p in PdfReader(io.BytesIO(pdf(approved_sheet(), scene))).pages]
    assert "no holes to drill here" in text


def test_holes_too_far_apart_for_a_template_are_left_to_the_numbers() -> None:
    holes = (Circle(Layer.HOLE, 0, 0, 5), Circle(Layer.HOLE, 4000, 1500, 5))
    scene = Scene("doors", "doors", (Rect(Layer.FRONT, 0, 0, 4000, 1600), *holes))
    (text,) = [p.extract_text() for p in PdfReader(io.BytesIO(pdf(approved_sheet(), scene))).pages]
    assert "too far apart" in text


@pytest.mark.parametrize("field", ["house", "room", "question", "option", "check_code", "page_url"])
def test_a_sheet_with_nothing_in_a_field_that_the_crew_needs_is_refused(field: str) -> None:
    with pytest.raises(SceneError, match=f"Sheet.{field}"):
        replace(approved_sheet(), **{field: " "})


def test_an_approver_without_a_time_is_refused() -> None:
    with pytest.raises(SceneError, match="belong together"):
        replace(approved_sheet(), approved_at="")


def test_a_row_with_a_missing_cell_is_refused() -> None:
    with pytest.raises(SceneError, match="one cell for each"):
        replace(approved_sheet(), rows=(("A", "sprayer"),))


def test_a_sheet_without_cautions_is_refused() -> None:
    with pytest.raises(SceneError, match="cautions"):
        replace(approved_sheet(), cautions=())


def test_a_file_for_the_machine_names_the_same_revision() -> None:
    notes = replace(approved_sheet(), approved_by="", approved_at="").notes()
    assert notes[0] == "NOT APPROVED - DO NOT CUT OR DRILL"
    assert "Decision 4, revision 2" in notes[1]
