"""The household tells us something on a phone, and reads the answer; what is for the crew is seen at the desk and
erased; a visit that does not suit is said and stands at the desk."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.browser.test_manager import phone_picture

WAYS = pytest.mark.parametrize("javascript", [True, False])


def at_the_desk(page: Page, own: OwnHouse) -> None:
    page.goto(own.desk)
    expect(page.get_by_role("heading", level=1)).to_have_text(own.name)


@WAYS
def test_somebody_tells_us_with_a_photo_and_reads_the_answer(
    own: OwnHouse, window_onto: OpenWindow, desk_of: OpenWindow, javascript: bool
) -> None:
    page = window_onto(own.base, 390, javascript).page
    page.goto(own.link)
    form = page.locator(".tell form")
    form.get_by_label("Your words").fill("The tap drips.")
    assert form.get_by_label("Room").input_value() == "", "the whole house"
    photo = form.get_by_label("Photo")
    photo.focus()
    expect(photo).to_be_focused()
    photo.set_input_files({"name": "tap.jpg", "mimeType": "image/jpeg", "buffer": phone_picture()})
    form.get_by_role("button", name="Send").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("We have it")
    expect(page.get_by_role("main")).to_contain_text("“The tap drips.”")
    assert page.locator("main img").evaluate("image => image.decode().then(() => image.naturalWidth)") > 0
    desk = desk_of("office").page
    at_the_desk(desk, own)
    desk.get_by_role("link", name="Answer: Ida, message").click()
    desk.get_by_label("Our answer").fill("Sam comes on Friday.")
    desk.get_by_role("button", name="Answer").click()
    expect(desk.get_by_role("status")).to_contain_text("The answer goes to Ida Sandvik")
    page.get_by_role("navigation", name="Back").get_by_role("link").click()
    expect(page.get_by_role("main")).to_contain_text("answered on")
    expect(page.get_by_role("main")).to_contain_text("“Sam comes on Friday.”")


def test_what_is_for_the_crew_is_written_seen_and_erased(
    own: OwnHouse, window_onto: OpenWindow, desk_of: OpenWindow
) -> None:
    page = window_onto(own.base, 390, False).page
    page.goto(own.link)
    page.get_by_role("link", name="For the crew").click()
    page.get_by_label("Alarm").fill("4711, then the green key")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_label("Alarm")).to_have_value("4711, then the green key")
    desk = desk_of("office").page
    at_the_desk(desk, own)
    expect(desk.get_by_role("main")).to_contain_text("Alarm: 4711, then the green key.")
    page.get_by_role("button", name="Erase all of it").click()
    expect(page.get_by_label("Alarm")).to_have_value("")
    at_the_desk(desk, own)
    expect(desk.get_by_role("main")).to_contain_text("Nothing was written for the crew.")


def test_a_visit_that_does_not_suit_is_said_on_the_phone(
    own: OwnHouse, window_onto: OpenWindow, desk_of: OpenWindow
) -> None:
    day = own.in_days(3)
    visit = {"crew": own.crew, "purpose": "Template", "starts_at": f"{day}T09:00:00", "ends_at": f"{day}T11:00:00"}
    own.send("POST", "/visits", visit)
    page = window_onto(own.base, 390, False).page
    page.goto(own.link)
    page.get_by_role("link", name="Our visits").click()
    page.get_by_label("Why, or what day is better").fill("We are away")
    page.get_by_role("button", name="It does not suit").click()
    expect(page.get_by_role("main")).to_contain_text("It does not suit Ida Sandvik: “We are away”")
    desk = desk_of("office").page
    at_the_desk(desk, own)
    expect(desk.get_by_role("main")).to_contain_text("does not suit Ida")
    expect(desk.get_by_role("main")).to_contain_text("“We are away”")
