"""Twenty calls of an office day, each answered in the first view of the house at a desk: nothing scrolled, nothing
opened."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse, own_house
from tests.browser.test_pages import check_for_a_thumb, check_readable_large, check_sound
from tests.browser.window import DESK

HEIGHT = 900
HOUSEHOLD = [
    ("Who comes today, and when?", "Who comes?", r"(Today|Tomorrow|[A-Z][a-z]+ [A-Z][a-z]+ \d+)\b.*( to |nobody)"),
    ("Can they come, or is something in their way?", "Who comes?", r"can come|can’t come|nobody"),
    ("Must one of us be home?", "Must we be home?", r"\d to |No, no visit"),
    ("What works tonight?", "What works?", r"(Tonight|Today)"),
    ("What do you need from us, and by when?", "What do you need?", r"(By|Late since) .*: “"),
    ("You owe me an answer.", "Our question?", r"Our answer is due|wrote on"),
    ("When is it done? What did you promise?", "When done?", r"Done .*Promised "),
    ("Why does it end on another day now?", "What moved it?", r"In all|Nothing has moved|The end is"),
    ("What does it cost by now?", "The price?", r"Price: \$.* For .* only\."),
    ("I have lost my link. Please send it again.", "{person}", r"(New|Send the) link"),
]
OTHERS = [
    ("A neighbor: who works there, and how do I reach them?", "{now}", r"now.*218-555-01\d\d"),
    ("A neighbor: whom do I call about the driveway?", "{person}", r"218-555-01\d\d"),
    ("A neighbor: has it got any further?", "What is new?", r": \w"),
    ("The plumber: when am I due?", "{next}", r"(tomorrow|today|[A-Z][a-z]+ \d+)"),
    ("The household, for a neighbor: what is the plumber’s number?", "{next}", r"218-555-01\d\d"),
    ("The crew, at the door: how do we get in?", "Keys and pets", r"Keys: .*pot"),
    ("The crew: is there a dog?", "Keys and pets", r"Pets: A cat"),
    ("The tile shop: when do you expect our tile?", "Has it come?", r"expected"),
    ("The designer: what did they choose?", "Our choices?", r" for “"),
    ("The designer: which questions wait for them?", "What do you need?", r"“.+”"),
]
LATE = ("What does it cost if we answer later?", "What do you need?", r"Late since .*”.*(costs one|no day|moves the)")

# What of each part of the page stands above the fold: its lines of text, by the question, the name or the part.
_SEEN = """height => {
  const found = {}
  const parts = [...document.querySelectorAll('.say > div, .numbers li, #crew')]
  for (const part of parts) {
    const walk = document.createTreeWalker(part, NodeFilter.SHOW_TEXT)
    let said = ''
    for (let text = walk.nextNode(); text; text = walk.nextNode()) {
      const range = document.createRange()
      range.selectNodeContents(text)
      const boxes = [...range.getClientRects()].filter(one => one.width)
      const seen = boxes.length && boxes.every(one => one.top >= 0 && one.bottom <= height)
      if (seen && text.parentElement.checkVisibility()) said += ' ' + text.data
    }
    const name = part.id === 'crew' ? 'Keys and pets' : part.firstElementChild.textContent.trim()
    found[name] = said.replace(/\\s+/g, ' ').trim()
  }
  return found
}"""


def first_view(page: Page, project: int, way: str = "") -> dict[str, str]:
    page.set_viewport_size({"width": DESK, "height": HEIGHT})
    page.goto(f"/desk/projects/{project}/{way}")
    found: dict[str, str] = page.evaluate(_SEEN, HEIGHT)
    return found


def unanswered(seen: dict[str, str], calls: list[tuple[str, str, str]], **names: str) -> list[str]:
    missing = []
    for call, part, words in calls:
        if not re.search(words, seen.get(part.format(**names), "")):
            missing.append(f"{call} {seen.get(part.format(**names))!r}")
    return missing


@pytest.fixture
def late(demo: dict[str, Any]) -> OwnHouse:
    """A house of which everything is known, with a question that is late."""
    house = own_house(demo, promised_on="2031-01-10", contract_cents=4_200_000)
    bearer = house.link.split("/")[-2]
    first = house.add_phase("Set the cabinets", work_hours=90, takes=[{"service": "noise"}])
    house.send("POST", f"/phases/{first}/start", {"at": f"{house.in_days(-3)}T08:00:00-06:00"})
    rests = {"service": "sink", "until": "done"}
    top = house.add_phase("Set the top", crew=f"Plumber {house.project}", after=[{"phase": first, "wait_hours": 0}],
                          takes=[rests, {"service": "at_home", "words": "We ask about the sink."}])
    house.keep_crew()
    house.keep_crew(f"Plumber {house.project}")
    for day, phase, crew in ((0, first, house.crew), (6, top, f"Plumber {house.project}")):
        house.send("POST", "/visits", {"crew": crew, "purpose": "Go on", "phase": phase,
                                       "starts_at": f"{house.in_days(day)}T00:00:00",
                                       "ends_at": f"{house.in_days(day)}T23:59:00"})
    house.send("POST", "/deliveries", {"item": "Splash tile", "expected_on": house.in_days(3), "phases": [top]})
    house.ask("Which grout color?", kind="grout", holds=[top], lead_days=9)
    house.ask_back(house.ask("Which white?", kind="paint")["id"], "Can the ceiling stay?")
    house.approve(house.ask("Which pulls?", kind="pulls")["id"])
    house.send("POST", "/updates", {"text": "Half the cabinets stand."})
    house.send("PUT", "/crew_notes", {"keys": "Under the blue pot.", "pets": "A cat."}, bearer)
    return house


def test_twenty_calls_about_the_demos_house(demo: dict[str, Any], desk_of: OpenWindow) -> None:
    seen = first_view(desk_of("office", DESK).page, demo["project"])
    names = {"person": "Maren", "now": "Carpenters", "next": "Plumber"}
    assert len(HOUSEHOLD + OTHERS) == 20
    assert unanswered(seen, HOUSEHOLD + OTHERS, **names) == [], seen


def test_twenty_calls_and_what_a_late_answer_costs(late: OwnHouse, desk_of: OpenWindow) -> None:
    window = desk_of("office", DESK)
    names = {"person": "Ida", "now": late.crew, "next": f"Plumber {late.project}"}
    seen = first_view(window.page, late.project)
    assert unanswered(seen, [*HOUSEHOLD, *OTHERS, LATE], **names) == [], seen
    window.shot("calls-late")


def test_the_answers_stand_beside_the_form_that_notes_the_call(late: OwnHouse, desk_of: OpenWindow) -> None:
    """At a desk in the same view as what is typed; on a phone below it, and a press leads there."""
    page = desk_of("office", DESK).page
    seen = first_view(page, late.project, "calls/new")
    told = [one for one in [*HOUSEHOLD, *OTHERS, LATE] if one[1].endswith("?")]
    assert len(told) == 14 and unanswered(seen, told) == [], seen
    keep = page.get_by_role("button", name="Keep the note").bounding_box()
    assert keep and keep["y"] + keep["height"] <= HEIGHT
    phone = desk_of("office", javascript=False)
    phone.page.goto(f"{late.desk}calls/new")
    phone.page.get_by_role("link", name="What to tell them").click()
    box = phone.page.locator(".say").bounding_box()
    assert box and 0 <= box["y"] < 844 and phone.overflow() <= 0


def test_what_the_office_sees_is_sound_on_a_phone_and_at_a_desk(late: OwnHouse, desk_of: OpenWindow) -> None:
    window = desk_of("office", DESK)
    for way in ("", "calls/new"):
        window.page.goto(f"{late.desk}{way}")
        check_for_a_thumb(window)
        check_readable_large(window)
        window.page.set_viewport_size({"width": DESK, "height": HEIGHT})
        check_sound(window)


def test_numbers_and_keys_keep_to_a_fold_on_site(demo: dict[str, Any], desk_of: OpenWindow) -> None:
    """Who stands in the house is not alone; what to tell a caller is beside the note, a press away."""
    page = desk_of("manager", javascript=False).page
    page.goto(f"/desk/projects/{demo['project']}/")
    for part in (".say", ".numbers", "#crew .prose"):
        expect(page.locator(part).first).to_be_hidden()
    page.get_by_role("navigation", name="At hand").get_by_role("link", name="Note a call").click()
    expect(page.locator(".say")).to_be_visible()
