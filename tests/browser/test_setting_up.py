"""A new project set up from nothing, on a phone as at a desk: calendar, rooms, household, the plan as one table."""

from datetime import date, timedelta

from holidays import country_holidays
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow

Way = tuple[int, bool]
LINES = [
    ("Take out the old bath", "Carpenters", "8", "", ""),
    ("Lay the floor tile", "Tile setter", "12 / 16 / 20", "1", ""),
    ("Grout and seal", "Tile setter", "3", "2 + 24", "1"),
]


def day_of_work() -> date:
    """A Wednesday some weeks from now, on which work starts since it is no holiday."""
    day = date.today() + timedelta(45)
    while day.weekday() != 2 or day in country_holidays("US"):
        day += timedelta(1)
    return day


def said(page: Page, words: str) -> None:
    expect(page.get_by_role("status")).to_contain_text(words)


def set_up(page: Page, name: str) -> None:
    page.get_by_role("link", name="Set up a new project").click()
    page.get_by_label("Name").fill(name)
    page.get_by_label("Address").fill("31 Gannet Court, Pell Harbor")
    page.get_by_label("Starts on").fill(str(day_of_work()))
    page.get_by_role("button", name="Set it up").click()
    said(page, "The project is set up.")
    page.get_by_label("Name").fill("Upstairs bath")
    page.get_by_label("Toilet").check()
    page.get_by_role("button", name="Add the room").click()
    said(page, "Upstairs bath is added.")
    page.get_by_role("link", name=name).click()


def add_person(page: Page) -> str:
    """Adds Ragna and returns her link, which is shown once."""
    page.get_by_role("link", name="Add a person").click()
    page.get_by_label("Name").fill("Ragna Lund")
    page.get_by_role("button", name="Add them").click()
    said(page, "Ragna Lund is added.")
    page.get_by_role("button", name="link").click()
    link = page.get_by_label("The link", exact=True).input_value()
    page.get_by_role("link", name="On to the project").click()
    return link


def ask(page: Page) -> None:
    page.get_by_role("link", name="Ask a decision").click()
    page.get_by_label("The question").fill("Which grout?")
    page.get_by_role("group", name="Option 1").get_by_label("What it is", exact=True).fill("Warm gray")
    page.get_by_role("button", name="Ask the household").click()
    said(page, "Decision 1 is asked.")


def fill_plan(page: Page) -> None:
    page.get_by_role("link", name="Fill in the plan").click()
    for number, (phase, crew, hours, follows, held) in enumerate(LINES, 1):
        line = f", Line {number}"
        page.get_by_label(f"Phase{line}", exact=True).fill(phase)
        page.get_by_label(f"Room{line}", exact=True).select_option(label="Upstairs bath")
        page.get_by_label(f"Crew{line}", exact=True).fill(crew)
        page.get_by_label(f"Work hours{line}", exact=True).fill(hours)
        page.get_by_label(f"Follows lines{line}", exact=True).fill(follows)
        page.get_by_label(f"Held by decisions{line}", exact=True).fill(held)
    page.get_by_role("button", name="Save the plan").click()


def test_a_project_is_set_up_and_its_page_is_there(desk_of: OpenWindow, way: Way) -> None:
    page = desk_of("manager", *way).page
    set_up(page, f"Lund house {way[0]} {way[1]}")
    link = add_person(page)
    ask(page)
    page.get_by_role("link", name="Lund house").click()
    fill_plan(page)
    said(page, "The plan is saved: 3 lines changed.")
    page.goto(link)
    text = " ".join(page.get_by_role("main").inner_text().split())
    assert "Grout and seal: held until decision 1 is approved." in text
    day = day_of_work()
    assert f"Take out the old bath: planned. By today’s plan it starts on {day:%a %b} {day.day}." in text


def test_a_loop_in_the_plan_is_refused_by_name_and_all_that_was_typed_stays(
    desk_of: OpenWindow, either_way: Way
) -> None:
    window = desk_of("manager", *either_way)
    page = window.page
    set_up(page, f"Berg house {either_way[0]}")
    page.get_by_role("link", name="Fill in the plan").click()
    for number, phase in ((1, "Lay the floor"), (2, "Grout the floor")):
        page.get_by_label(f"Phase, Line {number}", exact=True).fill(phase)
        page.get_by_label(f"Work hours, Line {number}", exact=True).fill("8")
        page.get_by_label(f"Follows lines, Line {number}", exact=True).fill(str(3 - number))
    page.get_by_role("button", name="Save the plan").click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("would wait for each other: Grout the floor → Lay the floor")
    expect(page.get_by_label("Phase, Line 2", exact=True)).to_have_value("Grout the floor")
    expect(page.get_by_label("Follows lines, Line 2", exact=True)).to_have_value("1")
    assert window.overflow() <= 0
