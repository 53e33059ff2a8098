"""A decision on a phone and at a desk: look first, the sign in reach, little to load."""

import gzip
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.window import DESK, PHONE

MOST_BYTES, MOST_WORDS, MOST_SCREENS = 20_000, 205, 2.4
"""Of the demo's first question: gzip of page, styles and drawings; the words that are open, the firm's address at the
foot among them; screens of a phone in the widest font."""
SMALL = """[...document.querySelectorAll('a,button,summary,textarea,label.opt')].filter(one => {
  const box = one.getBoundingClientRect();
  return box.width && (box.height < 44 || box.width < 44) && !one.closest('.prose');
}).map(one => one.outerHTML)"""


@pytest.fixture
def asked(demo: dict[str, Any], window_onto: OpenWindow) -> Page:
    """The demo's first question on a phone."""
    page = window_onto(demo["base"], PHONE).page
    page.goto(f"{demo['pages'][0]}decisions/1/")
    return page


def box_of(page: Page, what: str) -> dict[str, float]:
    found = page.locator(what).first.bounding_box()
    assert found
    return {"top": found["y"], "bottom": found["y"] + found["height"], "width": found["width"]}


def test_the_first_screen_holds_the_date_a_picture_and_the_sign(asked: Page) -> None:
    assert box_of(asked, ".by1")["top"] < box_of(asked, ".dim2")["top"] < box_of(asked, ".scene")["top"]
    assert box_of(asked, ".scene")["bottom"] < 600
    sign = box_of(asked, ".foot .go")
    assert sign["top"] > 650 and sign["bottom"] <= 844  # where the thumb is


def test_it_is_short_and_light(asked: Page, demo: dict[str, Any]) -> None:
    assert asked.evaluate("document.documentElement.scrollHeight") <= MOST_SCREENS * 844
    assert len(asked.inner_text("body").split()) <= MOST_WORDS
    body = asked.request.get(f"{demo['pages'][0]}decisions/1/").body()
    assert len(gzip.compress(body, 9, mtime=0)) <= MOST_BYTES


def test_every_target_is_as_large_as_a_thumb_folds_closed_and_open(asked: Page) -> None:
    assert asked.evaluate(SMALL) == []
    asked.locator("details").evaluate_all("folds => folds.forEach(fold => fold.open = true)")
    assert asked.evaluate(SMALL) == []


def test_the_chosen_card_says_that_it_is_not_yet_approved(asked: Page) -> None:
    expect(asked.get_by_text("Your choice, not yet approved").first).to_be_hidden()
    asked.locator(".scene").nth(1).click()  # the picture is part of the target
    expect(asked.get_by_role("radio", name="Two holes")).to_be_checked()
    expect(asked.get_by_text("Your choice, not yet approved")).to_have_count(2)
    expect(asked.locator(".opt").nth(1).get_by_text("Your choice, not yet approved")).to_be_visible()
    expect(asked.locator(".opt").nth(0).get_by_text("We recommend this")).to_be_visible()


def test_what_is_a_press_away_is_closed(asked: Page) -> None:
    expect(asked.locator("summary")).to_have_text([
        "The measured drawings", *["18 checks pass: One hole, for the faucet"],
        "31 checks pass: Two holes, for faucet and soap dispenser", "If you answer later", "Help with the choice",
        "Good practice, safety, sources", "Ask us first"])  # fmt: skip
    assert asked.locator("details[open]").count() == 0


def test_cards_stand_side_by_side_where_there_is_room(demo: dict[str, Any], window_onto: OpenWindow) -> None:
    page = window_onto(demo["base"], DESK).page
    page.goto(f"{demo['pages'][0]}decisions/1/")
    tops = [card.bounding_box() for card in page.locator(".opt").all()]
    assert tops[0] and tops[1] and tops[0]["y"] == tops[1]["y"] and tops[0]["x"] < tops[1]["x"]


@pytest.mark.parametrize("width", [320, PHONE, 768, DESK])
@pytest.mark.parametrize("text", [1, 2])
def test_nothing_scrolls_sideways(demo: dict[str, Any], window_onto: OpenWindow, width: int, text: int) -> None:
    window = window_onto(demo["base"], width)
    for way in ("decisions/1/", "decisions/2/", "decisions/1/review?revision=1&option=a"):
        window.page.goto(demo["pages"][0] + way)
        window.page.evaluate(f"document.documentElement.style.fontSize = '{100 * text}%'")
        window.page.locator("details").evaluate_all("folds => folds.forEach(fold => fold.open = true)")
        assert window.overflow() <= 0, way


def test_the_second_look_shows_picture_field_and_sign_in_this_order(
    demo: dict[str, Any], window_onto: OpenWindow
) -> None:
    page = window_onto(demo["base"], PHONE).page
    page.goto(f"{demo['pages'][0]}decisions/1/review?revision=1&option=a")
    picture, field, sign = box_of(page, ".scene"), box_of(page, "#name"), box_of(page, ".go")
    assert picture["bottom"] < field["top"] < sign["top"]
    expect(page.get_by_role("main")).to_contain_text("A hole in stone can’t be closed.")
    expect(page.get_by_role("main")).to_contain_text("You can take this back until")
    expect(page.get_by_role("link", name="No, choose again")).to_have_attribute("href", "./?option=a")
