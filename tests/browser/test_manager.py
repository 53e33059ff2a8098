"""The manager's way, on a phone on site: what is held is refused, what is approved starts; updates, visits."""

from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import QUESTION, OwnHouse

Way = tuple[int, bool]


def phone_picture() -> bytes:
    """A picture as a phone makes it: turned on its side by a tag, with the place where it was taken."""
    picture, out = Image.new("RGB", (64, 48), "white"), BytesIO()
    picture.paste("black", (0, 0, 32, 48))
    tags = Image.Exif()
    tags[0x0112] = 6  # orientation: turn it a quarter to the right (Exif 2.3, table 3)
    tags[0x010F] = "a maker of phones"
    tags.get_ifd(0x8825)[2] = (46.0, 47.0, 0.0)  # GPS latitude
    picture.save(out, "JPEG", exif=tags)
    return out.getvalue()


def household_reads(page: Page, words: str) -> None:
    """The page, as the household reads it, says so (it is written a moment after a change)."""
    for _ in range(20):
        if words in page.get_by_role("main").inner_text():
            return
        page.wait_for_timeout(100)
        page.reload()
    expect(page.get_by_role("main")).to_contain_text(words)


def test_held_work_is_refused_naming_the_decision_and_starts_after_the_approval(
    own: OwnHouse, desk_of: OpenWindow, way: Way
) -> None:
    phase = own.add_phase("Drill the holes")
    asked = own.ask(holds=[phase])
    page = desk_of("manager", *way).page
    page.get_by_label("Find a house").fill(own.name)
    page.get_by_role("button", name="Find").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(own.name)  # the only one of that name
    page.get_by_role("link", name="Drill the holes", exact=True).click()
    expect(page.get_by_role("main")).to_contain_text(f"Decision 1, “{QUESTION}”, must be approved first.")
    page.get_by_role("link", name="Start it").click()
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("alert")).to_contain_text("Drill the holes can’t start yet: it is held until")
    expect(page.get_by_role("alert")).to_contain_text("decision 1")
    assert own.send("GET", f"/phases/{phase}")["state"] == "waiting"
    own.approve(asked["id"])
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("status").get_by_role("paragraph")).to_have_text("Drill the holes: started.")
    page.get_by_role("link", name="Finish it").click()
    expect(page.get_by_role("heading", name="Finish anyway?")).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("of at least 2 crew hours have passed.")
    page.get_by_role("button", name="Finish anyway").click()
    expect(page.get_by_role("status").get_by_role("paragraph")).to_have_text("Drill the holes: finished.")
    page.goto(own.link)
    household_reads(page, "Drill the holes: done")


def test_held_work_can_be_released_only_with_a_reason_which_stands_on_the_page(
    own: OwnHouse, desk_of: OpenWindow, either_way: Way
) -> None:
    phase = own.add_phase("Drill the holes")
    own.ask(holds=[phase])
    page = desk_of("manager", *either_way).page
    page.goto(f"{own.desk}phases/{phase}/")
    page.get_by_role("link", name="Release it").click()
    page.get_by_label("Why it may start").fill("The top is a sample board.")
    page.get_by_role("button", name="Release").click()
    page.get_by_role("link", name="Start it").click()
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("status")).to_contain_text("Drill the holes: started.")
    page.goto(own.link)
    household_reads(page, "The top is a sample board.")


def test_an_update_with_a_photo_reaches_the_page_without_its_place(
    own: OwnHouse, desk_of: OpenWindow, way: Way, tmp_path: Path
) -> None:
    picture = tmp_path / "IMG_0001.jpg"
    picture.write_bytes(phone_picture())
    page = desk_of("manager", *way).page
    page.goto(f"{own.desk}updates/new")
    page.get_by_label("What happened").fill("The top is **level**.")
    page.get_by_label("Photos", exact=True).set_input_files(picture)
    page.locator("summary", has_text="What each photo shows").click()
    page.get_by_label("What the photos show").fill("The top, from the door")
    page.get_by_role("button", name="Post it").click()
    expect(page.get_by_role("status")).to_contain_text("The update is on the page.")
    page.goto(own.link)
    household_reads(page, "The top is level.")
    page.get_by_text("News: 1").click()
    shown = page.locator("article").get_by_role("img", name="The top, from the door")
    large = page.locator("article a").get_attribute("href")
    for address in (shown.get_attribute("src"), large):
        kept = page.request.get(f"{own.link}{address}").body()
        with Image.open(BytesIO(kept)) as image:
            assert not image.getexif() and "exif" not in image.info
            assert image.size == (48, 64)  # turned upright, since the tag that said so is gone


def test_a_photo_that_is_none_is_refused_and_what_was_typed_stays(
    own: OwnHouse, desk_of: OpenWindow, tmp_path: Path
) -> None:
    wrong = tmp_path / "notes.jpg"
    wrong.write_bytes(b"no picture")
    page = desk_of("manager", javascript=False).page
    page.goto(f"{own.desk}updates/new")
    page.get_by_label("What happened").fill("The top is level.")
    page.get_by_label("Photos", exact=True).set_input_files(wrong)
    page.get_by_role("button", name="Post it").click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("notes.jpg can’t be used as a photo")
    expect(page.get_by_label("What happened")).to_have_value("The top is level.")
    assert own.send("GET", "/updates") == []


def test_a_decision_is_asked_and_stands_on_the_page(own: OwnHouse, desk_of: OpenWindow, way: Way) -> None:
    own.add_phase("Grout the splash")
    page = desk_of("manager", *way).page
    page.goto(own.desk)
    page.get_by_role("link", name="Ask them").click()
    page.get_by_label("The question").fill("Which grout?")
    for number, title in ((1, "Warm gray"), (2, "Charcoal")):
        page.get_by_role("group", name=f"Option {number}").get_by_label("What it is", exact=True).fill(title)
    page.locator("summary", has_text="Add an option: 3").click()  # the third and further ones are folded
    third = page.get_by_role("group", name="Add an option: 3")
    third.get_by_label("What it is", exact=True).fill("None: we leave it open")
    page.get_by_role("group", name="Option 2").get_by_label("Price in dollars").fill("22.50")
    page.get_by_label("Which phase waits for it").select_option(index=1)
    page.get_by_role("button", name="Ask the household").click()
    expect(page.get_by_role("status")).to_contain_text("Decision 1 is asked.")
    page.goto(own.link)
    page.locator("#ask").get_by_role("link", name="Which grout?").click()
    expect(page.get_by_role("main")).to_contain_text("We don’t start before you answer: “Grout the splash”.")
    expect(page.get_by_role("main")).to_contain_text("$22.50 more")
    expect(page.get_by_role("radio")).to_have_count(3)


def test_a_question_of_the_household_is_answered(own: OwnHouse, desk_of: OpenWindow, either_way: Way) -> None:
    asked = own.ask()
    own.ask_back(asked["id"], "Can it come later?")
    page = desk_of("manager", *either_way).page
    page.goto(own.desk)
    page.get_by_role("link", name="Answer: Ida, “").click()
    page.get_by_label("Our answer").fill("Yes, with a visit of its own.")
    page.get_by_role("button", name="Answer").click()
    expect(page.get_by_role("status")).to_be_visible()
    page.goto(f"{own.link}decisions/1/")
    household_reads(page, "Yes, with a visit of its own.")


def test_a_visit_that_can_not_be_kept_is_said_at_once_and_can_be_moved(
    own: OwnHouse, desk_of: OpenWindow, either_way: Way
) -> None:
    first = own.add_phase("Set the top", work_hours=20)
    own.add_phase("Drill the holes", after=[{"phase": first, "wait_hours": 48}])
    page = desk_of("manager", *either_way).page
    page.goto(own.desk)
    page.get_by_role("link", name="Book a visit").click()
    page.get_by_label("For which phase").select_option(
        page.locator("#phase option", has_text="Drill the holes").get_attribute("value"))
    page.locator("summary", has_text="other hours").click()
    day = own.in_days(2)  # at any hour: the top is set by tomorrow, 8 pm; the wait ends at 8 pm of this day or later
    page.get_by_label("From", exact=True).fill(f"{day}T09:00")
    page.get_by_label("Until").fill(f"{day}T11:00")
    page.get_by_role("button", name="Book it").click()
    expect(page.get_by_role("alert")).to_contain_text("The wait after “Set the top” is not over before")
    page.get_by_role("button", name="Book it").click()
    expect(page.get_by_role("status")).to_contain_text(f"The visit is booked: {own.crew}, ")
    page.get_by_role("link", name="Move it").first.click()
    later = own.in_days(9)
    page.get_by_label("From").fill(f"{later}T09:00")
    page.get_by_label("Until").fill(f"{later}T11:00")
    page.get_by_label("Why it moves").fill("The top was late.")
    page.get_by_role("button", name="Save the visit").click()
    expect(page.get_by_role("status")).to_have_text("The visit is changed.")
    page.goto(own.link)
    household_reads(page, f"9:00 to 11:00 {own.crew}: Drill the holes")


def test_an_arrival_is_recorded_after_a_second_look(own: OwnHouse, desk_of: OpenWindow, either_way: Way) -> None:
    phase = own.add_phase("Set the top")
    own.send("POST", "/deliveries", {"item": "Stone top", "expected_on": own.in_days(2), "phases": [phase]})
    page = desk_of("manager", *either_way).page
    page.goto(own.desk)
    expect(page.get_by_role("main")).to_contain_text("It waits for what is ordered: Stone top.")
    page.get_by_label("It came: Stone top", exact=True).click()
    page.get_by_role("button", name="Yes, it came: Stone top").click()
    expect(page.get_by_role("status")).to_contain_text("Stone top: it came.")
    expect(page.get_by_role("main")).not_to_contain_text("It waits for what is ordered")
