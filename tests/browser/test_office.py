"""The office, a caller on the line: finds the house in one step, reads the caller the very page, notes the call."""

from typing import Any

from playwright.sync_api import expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.browser.window import step_back

Way = tuple[int, bool]


def test_a_house_is_found_by_part_of_a_name_a_street_or_a_phone_number(desk_of: OpenWindow) -> None:
    page = desk_of("office", 1280).page
    for words in ("okaf", "tamarack", "555-0161", "0161", "(218) 555 0162", "maren"):
        page.goto("/desk/")
        page.get_by_label("Find a house").fill(words)
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", level=1)).to_have_text("Okafor house")


def test_nothing_found_says_what_to_try(desk_of: OpenWindow) -> None:
    page = desk_of("office", javascript=False).page
    page.get_by_label("Find a house").fill("nobody of that name")
    page.get_by_role("button", name="Find").click()
    expect(page.get_by_role("main")).to_contain_text("Nothing matches.")
    expect(page.get_by_label("Find a house")).to_have_value("nobody of that name")


def test_the_office_reads_the_same_page_and_notes_the_call(
    own: OwnHouse, desk_of: OpenWindow, window_onto: OpenWindow, either_way: Way
) -> None:
    own.ask(holds=[own.add_phase("Drill the holes")])
    page, household = desk_of("office", *either_way).page, window_onto(own.base).page
    page.get_by_label("Find a house").fill(own.name)
    page.get_by_role("button", name="Find").click()
    page.get_by_role("link", name="Their page", exact=True).click()
    household.goto(own.link)
    expect(page.get_by_role("heading", level=1)).to_have_text(own.name)
    assert page.inner_text("body") == household.inner_text("body")
    step_back(page)
    page.get_by_role("link", name="Note the call").click()
    page.get_by_role("group", name="Who called").get_by_label("Ida", exact=True).check()
    page.get_by_label("What they asked").fill("Can we have two holes?")
    page.get_by_label("What they were told").fill("Your own link leads to decision 1.")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.get_by_role("status")).to_have_text("The call is noted.")
    page.get_by_role("link", name="Updates, calls, messages").click()
    page.get_by_role("link", name="All call notes").click()
    expect(page.get_by_role("main")).to_contain_text("Asked: Can we have two holes?")
    household.reload()
    # A spoken answer never counts.
    expect(household.get_by_role("main")).to_contain_text("Drill the holes: waits for your answer")
    assert "Can we have two holes?" not in household.content()


def test_the_office_may_not_start_work(own: OwnHouse, desk_of: OpenWindow) -> None:
    phase = own.add_phase("Drill the holes")
    page = desk_of("office", 1280).page
    page.goto(f"{own.desk}phases/{phase}/")
    expect(page.get_by_role("main")).to_contain_text("The project manager starts, stops and finishes phases.")
    answer = page.goto(f"{own.desk}phases/{phase}/start")
    assert answer and answer.status == 403


def test_a_link_that_was_lost_is_made_anew(own: OwnHouse, desk_of: OpenWindow) -> None:
    page, old = desk_of("office", javascript=False).page, own.link
    page.goto(f"{own.desk}people/")
    page.get_by_role("link", name="New link for Ida Sandvik").click()
    page.get_by_role("button", name="link").click()
    new = page.locator("#link").inner_text()
    assert page.request.get(old).status == 404
    assert page.request.get(new).status == 200


def test_a_caller_is_answered_from_the_first_screen(demo: dict[str, Any], desk_of: OpenWindow) -> None:
    """At a desk each answer stands in sight; on a phone the caller's answers come right after what runs."""
    window = desk_of("office", 1280)
    window.page.goto(f"/desk/projects/{demo['project']}/")
    last = window.page.locator(".say > div").last.bounding_box()
    assert last and last["y"] + last["height"] <= 900
    phone = desk_of("office", 390, False)
    phone.page.goto(f"/desk/projects/{demo['project']}/")
    first = phone.page.locator("#caller").bounding_box()
    assert first and first["y"] <= 844
