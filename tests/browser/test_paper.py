"""What is printed: all that is read on the screen, no forms, and on paper whom to call instead."""

from io import BytesIO
from typing import Any
from unicodedata import normalize

from pypdf import PdfReader

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question

# What only makes sense on a screen, and so does not print.
ON_SCREEN = (".answer", ".screen", "form", ".live")


def printed(pdf: bytes) -> str:
    """Without spaces, and with letters that the font has joined (office with one ffi) taken apart."""
    text = "".join(sheet.extract_text() for sheet in PdfReader(BytesIO(pdf)).pages)
    return "".join(normalize("NFKC", text).split())


def test_the_printed_page_holds_all_its_text_and_no_forms(demo: dict[str, Any], window_onto: OpenWindow) -> None:
    window = window_onto(demo["base"])
    window.page.goto(demo["pages"][0])
    lines = window.page.evaluate(
        """screen => [...document.querySelectorAll('h1, h2, h3, p, li, figcaption, address')]
          .filter(e => !e.closest(screen) && !e.matches('.paper') && !e.querySelector(screen + ', li, p'))
          .map(e => e.textContent)""", ", ".join(ON_SCREEN))  # fmt: skip
    assert len(lines) > 40
    on_paper = printed(window.paper())
    missing = [line for line in lines if "".join(line.split()) not in on_paper]
    assert missing == []
    assert "Toanswer,openthelinkthatwesentyou,orcall218-555-0142" in on_paper
    assert "Readthechoices" not in on_paper


def test_the_printed_question_holds_all_options_with_boxes_and_no_form_to_fill(
    own: OwnHouse, window_onto: OpenWindow
) -> None:
    own.ask(**deck_question())
    window = window_onto(own.base)
    window.page.goto(f"{own.link}decisions/1/")
    titles = window.page.locator("label.option strong").all_inner_texts()
    on_paper = printed(window.paper())
    assert len(titles) > 1 and all("".join(title.split()) in on_paper for title in titles)
    assert "Lookatmychoice" not in on_paper and "Yourquestion" not in on_paper
    assert "Atickonthisprintisforyourself" in on_paper
    window.page.emulate_media(media="print")
    assert window.page.locator("figure.option svg").count() == len(titles)
    for box in window.page.get_by_role("radio").all():
        assert box.is_visible() and box.evaluate("box => getComputedStyle(box).appearance") == "none"


def test_what_is_approved_prints_first_and_in_words(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    own.approve(asked["id"], "two")
    window = window_onto(own.base)
    window.page.goto(f"{own.link}decisions/1/")
    on_paper = printed(window.paper())
    assert on_paper.index("ApprovedTwoholes") < on_paper.index("NotchosenOnehole")
    assert "Werecommendthis" not in on_paper


def test_a_plan_of_a_few_weeks_prints_on_one_sheet(
    demo: dict[str, Any], own: OwnHouse, window_onto: OpenWindow
) -> None:
    """That of the demo has four or five weeks by the day on which it is told; five take a second row."""
    own.add_phase("Set the top", work_hours=40)
    window = window_onto(own.base)
    for paper in ("Letter", "A4"):
        for page, most in ((own.link, 1), (demo["pages"][0], 2)):
            window.page.goto(f"{page}plan/")
            assert len(PdfReader(BytesIO(window.paper(paper))).pages) <= most, (paper, page)


def test_the_printed_decision_names_its_revision_and_has_no_buttons(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    window = window_onto(own.base)
    window.page.goto(f"{own.link}decisions/1/")
    for paper in ("Letter", "A4"):
        on_paper = printed(window.paper(paper))
        assert "revision1,checkcode" in on_paper and asked["check_code"][:4] in on_paper
        assert "Lookatmychoice" not in on_paper and "Sendthequestion" not in on_paper


def test_the_question_to_be_signed_prints_whole_and_without_the_desk(own: OwnHouse, desk_of: OpenWindow) -> None:
    asked = own.ask()
    window = desk_of("office", 1280)
    window.page.goto(f"{own.desk}decisions/{asked['id']}/paper/print")
    for paper in ("Letter", "A4"):
        on_paper = printed(window.paper(paper))
        for words in (asked["question"], *(one["title"] for one in asked["options"]), "Signature", "218-555-0142",
                      "-".join(asked["check_code"][i:i + 4] for i in (0, 4, 8))):
            assert "".join(words.split()) in on_paper, words
        assert "Allprojects" not in on_paper and "Signout" not in on_paper
