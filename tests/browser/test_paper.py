"""What is printed: all that is read on the screen, no forms, and on paper whom to call instead."""

from io import BytesIO
from typing import Any
from unicodedata import normalize

from pypdf import PdfReader

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question

# What only makes sense on a screen, and so does not print.
ON_SCREEN = (
    ".answer", ".screen", "form", ".live", "details:not(.pr) > :not(summary)", ".vh:not(.more)", "svg", ".tape li",
)  # fmt: skip
# What a fold holds that does not print open is named; the days of the tape have their own test (test_tape.py).


def printed(pdf: bytes) -> str:
    """Without spaces, and with letters that the font has joined (office with one ffi) taken apart."""
    text = "".join(sheet.extract_text() for sheet in PdfReader(BytesIO(pdf)).pages)
    return "".join(normalize("NFKC", text).split())


def test_the_printed_page_holds_all_its_text_and_no_forms(demo: dict[str, Any], window_onto: OpenWindow) -> None:
    window = window_onto(demo["base"])
    window.page.goto(demo["pages"][0])
    lines = window.page.evaluate(
        """screen => [...document.querySelectorAll('h1, h2, h3, p, li, figcaption, address')]
          .filter(e => !e.closest(screen) && !e.querySelector('li, p, svg'))
          .map(e => { const seen = e.cloneNode(true);
                      for (const one of seen.querySelectorAll('.vh:not(.more, .on), .asks')) one.remove();
                      return seen.textContent; })""", ", ".join(ON_SCREEN))  # fmt: skip
    assert len(lines) > 20
    on_paper = printed(window.paper())
    missing = [line for line in lines if "".join(line.split()) not in on_paper]
    assert missing == []
    assert "Toanswer,openyourlink,orcall218-555-0142" in on_paper
    assert "Tellussomething" not in on_paper


def test_the_printed_question_holds_all_options_with_boxes_and_no_form_to_fill(
    own: OwnHouse, window_onto: OpenWindow
) -> None:
    own.ask(**deck_question())
    window = window_onto(own.base)
    window.page.goto(f"{own.link}decisions/1/")
    titles = window.page.locator("label.opt .t").all_inner_texts()
    on_paper = printed(window.paper())
    assert len(titles) > 1 and all("".join(title.split()) in on_paper for title in titles)
    assert "lookoncemore" not in on_paper and "Yourquestion" not in on_paper
    assert "Atickonthisprintdoesnotcountasananswer" in on_paper
    window.page.emulate_media(media="print")
    assert window.page.locator("label.opt .scene").count() == len(titles)
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


def test_a_plan_prints_on_one_sheet_however_long_it_is(
    demo: dict[str, Any], own: OwnHouse, window_onto: OpenWindow
) -> None:
    before = None
    for number in range(45):
        after = [{"phase": before}] if before else []
        before = own.add_phase(f"Step {number} of a long plan", work_hours=40, after=after)
    window = window_onto(own.base)
    for page in (own.link, demo["pages"][0]):
        window.page.goto(f"{page}plan/")
        for paper in ("Letter", "A4"):
            pdf = window.page.pdf(format=paper, prefer_css_page_size=True)
            assert len(PdfReader(BytesIO(pdf)).pages) == 1, (paper, page)
    assert "Walkthroughtheworkwithyou" in printed(pdf)


def test_the_printed_decision_names_its_revision_and_has_no_buttons(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    window = window_onto(own.base)
    window.page.goto(f"{own.link}decisions/1/")
    for paper in ("Letter", "A4"):
        on_paper = printed(window.paper(paper))
        assert "revision1,code" in on_paper and asked["check_code"][:4] in on_paper
        assert "lookoncemore" not in on_paper and "Sendthequestion" not in on_paper


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
