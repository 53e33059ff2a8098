"""The homeowner's way: reads the page, chooses, confirms with a name, keeps the copy; or asks first."""

import re

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import QUESTION, OwnHouse
from tests.browser.window import step_back

Way = tuple[int, bool]
NAME = "Ida Sandvik"


def open_decision(page: Page, link: str) -> None:
    """From the page to the one decision that is asked."""
    page.goto(link)
    page.locator("#ask").get_by_role("link", name=QUESTION).click()
    expect(page.get_by_role("heading", level=1)).to_have_text(QUESTION)


def choose(page: Page, title: str = "One hole, for the faucet") -> None:
    """From the decision to the second step."""
    page.get_by_role("radio", name=title).check()
    page.get_by_role("button", name="Look once more").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Is this what you want?")


def confirm(page: Page, name: str = NAME) -> None:
    page.get_by_label("type your full name").fill(name)
    approve_button(page).click()


def approve_button(page: Page) -> Locator:
    return page.get_by_role("button", name=re.compile("approve", re.I))


def test_an_approval_in_two_steps_is_kept_and_stands_on_the_page(
    own: OwnHouse, window_onto: OpenWindow, way: Way
) -> None:
    asked = own.ask(holds=[own.add_phase("Drill the holes")])
    page = window_onto(own.base, *way).page
    page.goto(own.link)
    expect(page.get_by_role("main")).to_contain_text("Drill the holes: waits for your answer")
    open_decision(page, own.link)
    choose(page, "Two holes")
    expect(page.get_by_role("main")).to_contain_text("$45 more")
    assert own.decision(asked["id"])["state"] == "asked"
    confirm(page)
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Kept. Thank you, {NAME.split()[0]}.")
    code = page.locator(".block code").inner_text()
    assert asked["check_code"].startswith(code.replace("-", ""))
    expect(page.locator(".block")).to_contain_text("Drill the holes")
    page.get_by_role("link", name=own.name).first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(own.name)
    text = page.get_by_role("main").inner_text()
    assert "Nothing from you. Thank you." in text
    assert "Approved: Two holes, for the faucet and a soap dispenser" in text and "held until" not in text
    page.get_by_text("Approved: 1").click()
    expect(page.get_by_role("main")).to_contain_text(code)


def test_a_question_back_stands_on_the_page_until_it_is_answered(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    page = window_onto(own.base, *either_way).page
    open_decision(page, own.link)
    page.get_by_text("Ask us first").click()
    page.get_by_label("Your question").fill("Can the dispenser come later?")
    page.get_by_role("button", name="Send the question").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your question is on its way")
    page.get_by_role("link", name="Back to your page").click()
    expect(page.get_by_role("main")).to_contain_text("“Can the dispenser come later?”")
    question = own.decision(asked["id"])["questions_back"][0]["id"]
    answer = {"answer": "Yes, with a visit of its own."}
    own.send("POST", f"/decisions/{asked['id']}/questions/{question}/answer", answer)
    open_decision(page, own.link)
    expect(page.get_by_role("main")).to_contain_text("Yes, with a visit of its own.")


def test_a_wrong_link_says_whom_to_call_and_nothing_else(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    page = window_onto(own.base, *either_way).page
    cut_off = own.link.rstrip("/")[:-1]
    answer = page.goto(f"{cut_off}/")
    assert answer and answer.status == 404
    expect(page.get_by_role("heading", level=1)).to_have_text("This link opens nothing")
    assert "218-555-0142" in page.inner_text("body")
    assert own.name not in page.content()


def test_a_revoked_link_opens_nothing_and_the_new_one_does(own: OwnHouse, window_onto: OpenWindow) -> None:
    page, old = window_onto(own.base).page, own.link
    person = own.send("GET", "/people")[0]["id"]
    new = own.send("POST", f"/people/{person}/link")["link"]
    assert page.goto(old).status == 404  # type: ignore[union-attr]
    assert page.goto(new).status == 200  # type: ignore[union-attr]


def test_a_double_click_on_approve_counts_once(own: OwnHouse, window_onto: OpenWindow, either_way: Way) -> None:
    asked = own.ask()
    page = window_onto(own.base, *either_way).page
    open_decision(page, own.link)
    choose(page)
    page.get_by_label("type your full name").fill(NAME)
    approve_button(page).dblclick(no_wait_after=True)
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Kept. Thank you, {NAME.split()[0]}.")
    assert len(own.decision(asked["id"])["approvals"]) == 1
    page.goto(f"{own.link}record/")
    expect(page.get_by_role("listitem").filter(has_text="approved “One hole, for the faucet”")).to_have_count(1)


def test_going_back_after_approving_shows_that_it_is_approved(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    page = window_onto(own.base, *either_way).page
    open_decision(page, own.link)
    choose(page)
    page.get_by_role("link", name="What you agree to").click()
    step_back(page, leaving="On a screen or on paper")
    confirm(page)
    step_back(page, leaving=f"Kept. Thank you, {NAME.split()[0]}.")
    expect(page.get_by_role("main")).to_contain_text(f"was approved by {NAME}")
    assert page.get_by_role("radio").count() == 0
    assert len(own.decision(asked["id"])["approvals"]) == 1


def test_another_choice_in_an_old_tab_is_refused_in_words(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    window = window_onto(own.base, *either_way)
    page, old_tab = window.page, window.context.new_page()
    for tab, title in ((page, "One hole"), (old_tab, "Two holes")):
        open_decision(tab, own.link)
        choose(tab, title)
    confirm(page)
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Kept. Thank you, {NAME.split()[0]}.")
    confirm(old_tab)
    expect(old_tab.get_by_role("alert")).to_contain_text("You have approved “One hole, for the faucet” already")
    assert [one["option"] for one in own.decision(asked["id"])["approvals"]] == ["one"]


def test_a_question_changed_meanwhile_is_shown_anew_and_the_old_answer_does_not_count(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask()
    page = window_onto(own.base, *either_way).page
    open_decision(page, own.link)
    choose(page)
    again = {"question": f"{QUESTION} The faucet is another one now.", "reason": "Another faucet"}
    own.send("POST", f"/decisions/{asked['id']}/revisions", again)
    confirm(page)
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_contain_text("The faucet is another one now.")
    assert page.get_by_role("radio", checked=True).count() == 0
    assert own.decision(asked["id"])["approvals"] == []


def test_without_a_name_nothing_counts_and_the_choice_is_kept(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    page = window_onto(own.base, javascript=False).page
    open_decision(page, own.link)
    choose(page, "Two holes")
    page.get_by_label("type your full name").fill("   ")
    approve_button(page).click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("Two holes, for the faucet and a soap dispenser")
    assert own.decision(asked["id"])["approvals"] == []


def test_both_of_the_household_may_be_needed(own: OwnHouse, window_onto: OpenWindow) -> None:
    other = own.add_person("Sverre Sandvik")
    asked = own.ask(approvers="all")
    mine, theirs = window_onto(own.base).page, window_onto(own.base).page
    open_decision(mine, own.link)
    choose(mine)
    confirm(mine)
    expect(mine.get_by_role("main")).to_contain_text("Sverre")
    assert own.decision(asked["id"])["state"] != "approved"
    open_decision(theirs, other)
    choose(theirs)
    confirm(theirs, "Sverre Sandvik")
    expect(theirs.get_by_role("heading", level=1)).to_have_text("Kept. Thank you, Sverre.")
    assert own.decision(asked["id"])["state"] == "approved"


def test_an_approval_can_be_taken_back_until_the_work_starts(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask(holds=[own.add_phase("Drill the holes")])
    own.approve(asked["id"])
    page = window_onto(own.base, javascript=False).page
    page.goto(f"{own.link}decisions/1/")
    page.get_by_role("link", name="Take my approval back").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Take your approval back?")
    page.get_by_label("Why?").fill("We think again")
    page.get_by_role("button", name="Take my approval back").click()
    expect(page.get_by_role("main")).to_contain_text("You took your approval of")
    expect(page.get_by_role("button", name="Look once more")).to_be_visible()
    assert own.decision(asked["id"])["state"] == "asked"
