"""How many sheets each screen prints on, Letter and A4: black on white, 11 points at least for what must be read."""

import io
from collections.abc import Callable
from typing import Any

import pdfplumber
import pytest
from playwright.sync_api import Page

from tests.browser.conftest import OpenWindow
from tests.browser.window import DESK

PAPERS = ["Letter", "A4"]
LEAST_POINTS = 10.95
MEASURED = "Sans"  # the lettering of a measured drawing; its words stand under it, in the book's face


def _goes(way: str) -> Callable[[Page, str], object]:
    return lambda page, link: page.goto(link + way)


def _receipt(page: Page, link: str) -> None:
    """Of the approval that the demo's house has."""
    page.goto(f"{link}record/")
    page.locator("a.row", has_text=" approved “").first.click()
    page.get_by_role("heading", name="Kept.").wait_for()


SCREENS: dict[str, tuple[Callable[[Page, str], object], int]] = {
    "page": (_goes(""), 2),
    "decision with two options, drawn": (_goes("decisions/1/"), 2),
    "decision with two finishes": (_goes("decisions/2/"), 2),
    "review": (_goes("decisions/1/review?revision=1&option=a"), 1),
    "receipt": (_receipt, 1),
    "plan": (_goes("plan/"), 1),
}
"""Where it is, and the most sheets that it takes."""


def printed(window_onto: OpenWindow, demo: dict[str, Any], screen: str, paper: str) -> Any:
    window = window_onto(demo["base"], DESK)
    SCREENS[screen][0](window.page, demo["pages"][0])
    return pdfplumber.open(io.BytesIO(window.page.pdf(format=paper, prefer_css_page_size=True)))


def words(document: Any) -> str:
    return " ".join(" ".join(sheet.extract_text() for sheet in document.pages).split())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("screen", SCREENS)
def test_it_fits_on_its_sheets_black_on_white_in_letters_that_can_be_read(
    demo: dict[str, Any], window_onto: OpenWindow, screen: str, paper: str
) -> None:
    document = printed(window_onto, demo, screen, paper)
    assert len(document.pages) <= SCREENS[screen][1]
    letters = [letter for sheet in document.pages for letter in sheet.chars]
    assert len(letters) > 250
    small = [one for one in letters if one["size"] < LEAST_POINTS and MEASURED not in one["fontname"]]
    assert "".join(one["text"] for one in small) == ""
    assert [one["text"] for one in letters if len(set(one["non_stroking_color"])) > 1] == []  # no color but a gray


@pytest.mark.parametrize("paper", PAPERS)
def test_the_page_opens_what_fits_and_names_the_rest(
    demo: dict[str, Any], window_onto: OpenWindow, paper: str
) -> None:
    document = printed(window_onto, demo, "page", paper)
    text = words(document)
    order = ["What we need from you", "What we owe you", "Two weeks ahead", "Room by room", "All done",
             "Why the end moved", "News: 4", "Price: $48,600"]  # fmt: skip
    places = [text.find(one) for one in order]
    assert -1 not in places and places == sorted(places)
    assert "in 80 or more" in text and "The contract as signed" in text
    assert "Approved: 1" in text and "To read more, open your link." in text
    assert "To answer, open your link, or call 218-555-0142" in text
    assert "Warm gray or" in text  # what the chips show, on paper without colors
    assert f"Sheet {len(document.pages)} of {len(document.pages)}" in text
    for closed in ("In all 2 days later", "The inspector passed", "How high do the pulls", "Tell us", "The record"):
        assert closed not in text


@pytest.mark.parametrize("paper", PAPERS)
def test_a_decision_prints_its_drawings_open_and_nothing_to_press(
    demo: dict[str, Any], window_onto: OpenWindow, paper: str
) -> None:
    text = words(printed(window_onto, demo, "decision with two options, drawn", paper))
    assert "The measured drawings" in text and "96 in by 25-1/2 in" in text and "does not count as an answer" in text
    assert "look once more" not in text
    text = words(printed(window_onto, demo, "review", paper))
    assert "The measured drawing" in text and "Approved by" in text
    assert "Approve:" not in text and "No, choose again" not in text
