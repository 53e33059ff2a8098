"""A household of two through a week and a day, from the Sunday on which the demo begins; nobody else helps them."""

import json
import re
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import Any
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.figures import bottom_of, figures_of
from tests.browser.house_through_days import HouseThroughDays, house_through_days


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[HouseThroughDays]:
    with house_through_days(tmp_path_factory.mktemp("week")) as house:
        yield house


class Manager:
    """Dana, over the API."""

    def __init__(self, house: HouseThroughDays) -> None:
        self._said = house.said

    def __call__(self, method: str, path: str, body: Any = None) -> Any:
        headers = {"Authorization": f"Bearer {self._said['manager_token']}", "Content-Type": "application/json"}
        address = f"{self._said['base']}/api/v1/projects/{self._said['project']}{path}"
        if method == "PATCH":
            with urlopen(Request(address, headers=headers), timeout=30) as shown:
                headers["If-Match"] = shown.headers["ETag"]
        data = None if body is None else json.dumps(body).encode()
        with urlopen(Request(address, data, headers, method=method), timeout=30) as answer:
            return json.load(answer)


def shown_when(page: Page, address: str, holds: Callable[[Page], bool]) -> None:
    """Open the page until it shows the last change: publishing follows a change, it does not hold it up."""
    until = time.monotonic() + 20
    page.goto(address)
    while not holds(page):
        assert time.monotonic() < until, f"{address} does not show the change: {page.locator('main').inner_text()}"
        page.wait_for_timeout(200)
        page.reload()


def facts(page: Page) -> str:
    return " ".join(page.locator("p.fact").all_text_contents()).replace("\xa0", " ")


def answer(page: Page, name: str) -> None:
    """From the page, by the one sign of the first screen: look, choose the first, sign, approve."""
    page.locator("a.need").click()
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="Look once more").click()
    page.get_by_role("textbox").first.fill(name)
    page.get_by_role("button", name=re.compile("^Approve")).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Kept")


def test_a_week_of_two_owners(house: HouseThroughDays, window_onto: OpenWindow) -> None:
    dana = Manager(house)
    maren, jonas = (window_onto(house.said["base"]).page for _ in range(2))
    maren_home, jonas_home = house.said["pages"]

    house.at(0, "10:00")
    shown_when(maren, maren_home, lambda page: "4 questions, 1 late" in page.locator("a.need").inner_text())
    assert facts(maren).startswith("Today, Sunday: nobody")
    answer(maren, "Maren Okafor")
    expect(maren.locator("main")).to_contain_text("3 answers left")
    shown_when(jonas, jonas_home, lambda page: "3 questions" in page.locator("a.need").inner_text())
    expect(jonas.locator("#ask")).to_contain_text("Maren")

    house.at(1)
    shown_when(maren, maren_home, lambda page: facts(page).startswith("Today, Monday: Carpenters 8:00"))
    found = figures_of(maren)
    assert found["words"] <= 450 and found["screens"] <= 5, "on a day of work, too"
    assert bottom_of(maren, ".house .rooms") <= 844
    before = maren.locator(".till b").first.inner_text()
    tile = next(one for one in dana("GET", "/deliveries") if one["item"] == "Splash tile")
    days = {name: _later(tile[name], 21) for name in ("expected_low", "expected_on", "expected_high")}
    dana("PATCH", f"/deliveries/{tile['id']}", days | {"reason": "The factory was closed."})
    shown_when(maren, maren_home, lambda page: page.locator(".till b").first.inner_text() != before)
    maren.get_by_text("Why the end moved").click()
    expect(maren.locator("details[open]")).to_contain_text("The factory was closed")

    house.at(2)
    jonas.goto(f"{jonas_home}decisions/5/")
    jonas.get_by_text("Ask us first").click()
    jonas.locator("textarea").first.fill("A sliding door instead.")
    jonas.get_by_role("button", name="I want another option").click()
    shown_when(maren, maren_home, lambda page: "Jonas wants another option" in page.locator("#owe").inner_text())

    house.at(7, "18:00")
    shown_when(maren, maren_home, lambda page: "can’t come tomorrow" in facts(page))  # the painter: we owe an answer
    house.at(8)
    shown_when(maren, maren_home, lambda page: "can’t come today" in facts(page))
    expect(maren.locator("p.fact b.late").first).to_contain_text("can’t come today")
    assert "First day that works" in facts(maren)
    assert maren.locator(".tape .x").count() >= 1


def test_water_off_is_said_the_day_before_and_on_the_day(house: HouseThroughDays, window_onto: OpenWindow) -> None:
    """The floor of the bath is grouted in time, so that the vanity can be hung and the water is off for that."""
    dana = Manager(house)
    house.at(2, "12:00")
    phases = {one["name"]: one for one in dana("GET", "/phases")}
    for act in ("start", "finish"):
        dana("POST", f"/phases/{phases['Grout the floor']['id']}/{act}", {"anyway": True})
    page = window_onto(house.said["base"]).page
    house.at(8, "17:00")
    shown_when(page, house.said["pages"][0], lambda page: "no water in the hall bath" in facts(page).lower())
    expect(page.locator("#tonight")).to_contain_text("8 to")
    house.at(9)
    shown_when(page, house.said["pages"][0], lambda page: "today" in facts(page).lower())
    assert "no water in the hall bath" in facts(page).lower()


def test_a_hand_over_is_accepted_and_kept(house: HouseThroughDays, window_onto: OpenWindow) -> None:
    dana = Manager(house)
    house.at(10)
    floor = next(one for one in dana("GET", "/phases") if one["name"] == "Lay the floor tile")
    dana("POST", "/handovers", {"phase": floor["id"], "items": [{"item": "Touch up the corner"}]})
    page = window_onto(house.said["base"]).page
    card = page.locator("#ask a.card", has_text="Look it over")
    shown_when(page, house.said["pages"][1], lambda page: card.count() > 0)
    card.first.click()
    page.locator("a, button", has_text="Go on to accepting").first.click()
    page.get_by_role("textbox").last.fill("Jonas Okafor")
    page.get_by_role("button", name=re.compile("Accept")).click()
    expect(page.locator("main")).to_contain_text("Jonas Okafor")


def _later(day: str, days: int) -> str:
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()
