"""The screens of a household as the demo starts, by what they ask of the eye, the thumb and the network.

On a Sunday, in DejaVu Serif, the widest of the faces that a device may choose.
"""

import json
from collections.abc import Iterator
from io import BytesIO
from typing import Any
from urllib.request import Request, urlopen

import pytest
from pypdf import PdfReader

from tests.browser.conftest import OpenWindow
from tests.browser.figures import bottom_of, figures_of
from tests.browser.house_through_days import HouseThroughDays, house_through_days

FIRST_SCREEN = 844
FIRST_FLIGHT = 14_600  # bytes of ten TCP segments, RFC 6928
DECISION = 20_000


@pytest.fixture(scope="module")
def sunday(tmp_path_factory: pytest.TempPathFactory) -> Iterator[HouseThroughDays]:
    with house_through_days(tmp_path_factory.mktemp("figures")) as house:
        house.at(0, "10:00")
        yield house


def test_the_page(sunday: HouseThroughDays, window_onto: OpenWindow) -> None:
    page = window_onto(sunday.said["base"]).page
    page.goto(sunday.said["pages"][0])
    found = figures_of(page)
    assert found["words"] <= 450 and found["screens"] <= 5 and found["bytes"] <= FIRST_FLIGHT, found
    assert (found["small_targets"], found["small_letters"]) == ([], [])
    assert found["all_words"] < 1_257, "as many as there were before"


def test_its_first_screen_answers_the_five_questions(sunday: HouseThroughDays, window_onto: OpenWindow) -> None:
    page = window_onto(sunday.said["base"]).page
    page.goto(sunday.said["pages"][0])
    for part in (".newest img", ".need", ".fact", ".till", ".house .rooms", "header a[href^='tel:']"):
        assert bottom_of(page, part) <= FIRST_SCREEN, part


@pytest.mark.parametrize("number", [1, 2, 5, 6])
def test_a_decision(sunday: HouseThroughDays, window_onto: OpenWindow, number: int) -> None:
    page = window_onto(sunday.said["base"]).page
    page.goto(f"{sunday.said['pages'][0]}decisions/{number}/")
    found = figures_of(page)
    assert found["bytes"] <= DECISION and found["words"] <= 220 and found["screens"] <= 2.5, found
    assert (found["small_targets"], found["small_letters"]) == ([], [])
    box = page.get_by_role("button", name="Look once more").bounding_box()
    assert box and box["y"] + box["height"] <= FIRST_SCREEN, "within the thumb's reach"


def test_it_can_be_read_after_one_request(sunday: HouseThroughDays, window_onto: OpenWindow) -> None:
    page = window_onto(sunday.said["base"], javascript=False).page
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.resource_type))
    page.goto(sunday.said["pages"][0])
    assert asked.count("document") == 1 and set(asked) <= {"document", "image"}


def test_a_full_page_prints_on_two_sheets_as_well(sunday: HouseThroughDays, window_onto: OpenWindow) -> None:
    """With two hand-overs, what is left of them, and an answer more. Changes the house, so it stands last."""
    said, link = sunday.said, sunday.said["pages"][0]
    bearer = link.split("/")[-2]
    for phase, items in ((1, ("Touch up the wall behind the door", "Seal the rim")), (2, ("Clean the window",))):
        made = sent(said, "handovers", {"phase": phase, "items": [{"item": item} for item in items]})
        if phase == 1:
            sent(said, f"handovers/{made['id']}/accept", {"name": "Maren Okafor", "seen": len(items)}, bearer)
    sent(said, "decisions/1/approvals", {"revision": 1, "option": "a", "name": "Maren Okafor"}, bearer)
    page = window_onto(said["base"], 1280).page
    page.goto(link)
    for _ in range(20):
        if page.get_by_text("Handed over: 2").count() and page.get_by_text("Approved: 2").count():
            break
        page.wait_for_timeout(250)
        page.reload()
    for paper in ("Letter", "A4"):
        document = PdfReader(BytesIO(page.pdf(format=paper, prefer_css_page_size=True)))
        text = " ".join(" ".join(sheet.extract_text() for sheet in document.pages).split())
        assert len(document.pages) == 2 and "Handed over: 2" in text and "Seal the rim" in text, paper


def sent(said: dict[str, Any], way: str, body: dict[str, Any], bearer: str = "") -> Any:
    address = f"{said['base']}/api/v1/projects/{said['project']}/{way}"
    heads = {"Authorization": f"Bearer {bearer or said['manager_token']}", "Content-Type": "application/json"}
    with urlopen(Request(address, json.dumps(body).encode(), heads), timeout=30) as answer:
        return json.load(answer)
