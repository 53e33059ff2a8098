"""A new project set up from nothing, on a phone as at a desk: calendar, rooms, household, the plan as one table."""

from datetime import date, timedelta

from holidays import country_holidays
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow

Way = tuple[int, bool]
LINES = [
    ("Take out the old bath", "Carpenters", "8", "", "", ""),
    ("Lay the floor tile", "Tile setter", "12", "Take out the old bath", "", ""),
    ("Grout and seal", "Tile setter", "3", "Lay the floor tile", "24", "Which grout?"),
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
    page.get_by_role("link", name="Set up a house").click()
    page.get_by_label("Name").fill(name)
    page.get_by_label("Address").fill("31 Gannet Court, Pell Harbor")
    page.get_by_label("Starts on").fill(str(day_of_work()))
    page.get_by_role("button", name="Set it up").click()
    said(page, "The house is set up.")
    page.get_by_label("Name").fill("Upstairs bath")
    page.get_by_label("Toilet").check()
    page.get_by_role("button", name="Add the room").click()
    said(page, "Upstairs bath is added.")
    page.get_by_role("link", name=name, exact=True).click()


def add_person(page: Page) -> str:
    """Adds Ragna and returns her link, which is shown once."""
    page.get_by_role("link", name="phones, links").click()
    page.get_by_role("link", name="Add a person").click()
    page.get_by_label("Name").fill("Ragna Lund")
    page.get_by_role("button", name="Add them").click()
    said(page, "Ragna Lund is added.")
    page.get_by_role("button", name="link").click()
    link = page.locator("#link").inner_text()
    page.get_by_role("link", name="On to the house").click()
    return link


def ask(page: Page) -> None:
    page.get_by_role("link", name="Ask them").click()
    page.get_by_label("The question").fill("Which grout?")
    page.get_by_role("group", name="Option 1").get_by_label("What it is", exact=True).fill("Warm gray")
    page.get_by_role("button", name="Ask the household").click()
    said(page, "Decision 1 is asked.")


def fill_plan(page: Page, wide: bool) -> None:
    page.goto(f"{page.url.rstrip('/')}/plan")
    if wide:
        fill_table(page)
    else:
        add_one_by_one(page)


def add_one_by_one(page: Page) -> None:
    """As on a phone: each phase on a form of its own."""
    for phase, crew, hours, after, wait, held in LINES:
        page.get_by_role("link", name="Add a phase").click()
        page.get_by_label("Phase").fill(phase)
        page.get_by_label("Room").select_option(label="Upstairs bath")
        page.get_by_label("Crew", exact=True).fill(crew)
        page.get_by_label("Work, crew hours").fill(hours)
        if after:
            page.get_by_label("It comes after").select_option(label=f"{after} (Upstairs bath)")
            page.get_by_label("wait, hours").first.fill(wait)
        if held:
            page.locator("summary", has_text="Questions that hold it").click()
            page.get_by_label(held).check()
        page.get_by_role("button", name="Add the phase").click()
        looked = page.get_by_role("heading", name="What it does")
        looked.or_(page.get_by_text(f"{phase} is on the plan.")).wait_for()  # the desk's script keeps it first
        if looked.is_visible():
            page.get_by_role("button", name="Add the phase").click()
        said(page, f"{phase} is on the plan.")


def fill_table(page: Page) -> None:
    for number, (phase, crew, hours, after, wait, held) in enumerate(LINES, 1):
        line = f", New line {number}"
        page.get_by_label(f"Phase{line}", exact=True).fill(phase)
        page.get_by_label(f"Room{line}", exact=True).select_option(label="Upstairs bath")
        page.get_by_label(f"Crew{line}", exact=True).fill(crew)
        page.get_by_label(f"Work hours{line}", exact=True).fill(hours)
        page.get_by_label(f"Comes after{line}", exact=True).fill(after)
        page.get_by_label(f"Then wait, hours{line}", exact=True).fill(wait)
        if held:
            page.locator("summary", has_text=line).last.click()
            page.get_by_role("group", name=f"Held by{line}").get_by_label(held).check()
    page.get_by_role("button", name="Save the plan").click()
    said(page, "The plan is saved: 3 lines changed. By this plan, all is done on")


def test_a_project_is_set_up_and_its_page_is_there(desk_of: OpenWindow, way: Way) -> None:
    page = desk_of("manager", *way).page
    set_up(page, f"Lund house {way[0]} {way[1]}")
    link = add_person(page)
    ask(page)
    page.locator(".mast .back").click()
    fill_plan(page, way[0] >= 1024)
    page.goto(link)
    main, day = page.get_by_role("main"), day_of_work()
    expect(main).to_contain_text("Grout and seal: waits for your answer")
    expect(main).to_contain_text(f"Take out the old bath: starts {day:%a %b} {day.day}")


def test_a_loop_in_the_plan_is_refused_by_name_and_all_that_was_typed_stays(desk_of: OpenWindow) -> None:
    window = desk_of("manager", 1280, True)
    page = window.page
    set_up(page, "Berg house")
    page.goto(f"{page.url.rstrip('/')}/plan")
    names = ("Lay the floor", "Grout the floor")
    for number, phase in enumerate(names, 1):
        page.get_by_label(f"Phase, New line {number}", exact=True).fill(phase)
        page.get_by_label(f"Work hours, New line {number}", exact=True).fill("8")
        page.get_by_label(f"Comes after, New line {number}", exact=True).fill(names[2 - number])
    page.get_by_role("button", name="Save the plan").click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("would wait for each other: Grout the floor → Lay the floor")
    expect(page.get_by_label("Phase, New line 2", exact=True)).to_have_value("Grout the floor")
    expect(page.get_by_label("Comes after, New line 2", exact=True)).to_have_value("Lay the floor")
    assert window.overflow() <= 0
