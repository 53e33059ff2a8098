"""A phone on a bad line: what did not arrive is kept in the form and counts once when it is sent again."""

import re
from typing import Any

from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.browser.places import second_step
from tests.browser.window import step_back

Way = tuple[int, bool]
APPROVE = re.compile("approve", re.I)


def press_in_vain(page: Page, button: re.Pattern[str]) -> None:
    """Presses it and waits for the browser's own page, which says that nothing was reached."""
    page.get_by_role("button", name=button).click(no_wait_after=True)
    page.locator("body.neterror").wait_for(state="attached")


def losing_answers(route: Route) -> None:
    """What was sent arrives; what comes back does not."""
    route.fetch(max_redirects=0)
    route.abort("connectionreset")


def test_an_approval_sent_into_a_dead_network_is_sent_again_and_counts_once(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    window = window_onto(own.base, *either_way)
    page = window.page
    second_step(page, own.link)
    page.get_by_label("type your full name").fill("Ida Sandvik")
    window.context.set_offline(True)
    press_in_vain(page, APPROVE)
    assert own.decision(asked["id"])["approvals"] == []
    window.context.set_offline(False)
    step_back(page)
    page.get_by_label("type your full name").fill("Ida Sandvik")
    page.get_by_role("button", name=APPROVE).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Kept. Thank you, Ida.")
    assert len(own.decision(asked["id"])["approvals"]) == 1


def test_an_approval_whose_answer_was_lost_is_kept_and_sending_it_again_shows_it(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    page = window_onto(own.base, *either_way).page
    second_step(page, own.link)
    page.get_by_label("type your full name").fill("Ida Sandvik")

    page.route("**/approve", losing_answers)
    press_in_vain(page, APPROVE)
    page.unroute("**/approve")
    assert len(own.decision(asked["id"])["approvals"]) == 1
    step_back(page)
    expect(page.get_by_role("main")).to_contain_text("was approved by Ida Sandvik")
    assert len(own.decision(asked["id"])["approvals"]) == 1


def test_a_question_whose_answer_was_lost_is_asked_once(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    page = window_onto(own.base).page
    page.goto(f"{own.link}decisions/1/")
    page.get_by_text("Ask us first").click()
    page.get_by_label("Your question").fill("How wide is it?")
    page.route("**/ask", losing_answers)
    press_in_vain(page, re.compile("Send the question"))
    page.unroute("**/ask")
    page.reload()  # the browser sends the very same form again
    expect(page.get_by_role("heading", level=1)).to_have_text("Your question is on its way")
    assert [one["text"] for one in own.decision(asked["id"])["questions_back"]] == ["How wide is it?"]


def test_a_slow_line_shows_the_words_before_the_pictures(demo: dict[str, Any], window_onto: OpenWindow) -> None:
    page = window_onto(demo["base"]).page
    page.route("**/photos/**", lambda route: None)  # no picture ever comes
    page.goto(demo["pages"][0], wait_until="commit")
    expect(page.get_by_role("heading", name="Two weeks ahead")).to_be_visible()
    expect(page.locator("a.need")).to_contain_text("1 late")
    assert len(page.inner_text("main")) > 1500
