"""Approving without a mouse: in reading order, each stop seen (WCAG 2.2, 2.1.1, 2.4.3, 2.4.7), buttons large enough.

44 px for a target is WCAG 2.2, 2.5.5 (AAA): asked for where an approval can't be taken back by accident.
"""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.browser.window import PHONE

FOCUS = """() => {
  const e = document.activeElement, style = getComputedStyle(e);
  const seen = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
  return [e.type || e.tagName.toLowerCase(), (e.innerText || e.value || '').trim(), seen];
}"""


def tab(page: Page) -> tuple[str, str]:
    page.keyboard.press("Tab")
    kind, words, seen = page.evaluate(FOCUS)
    assert seen, f"nobody sees that the focus is on {kind} {words!r}"
    return kind, words


def tab_to(page: Page, kind: str, words: str = "") -> None:
    for _ in range(60):
        found = tab(page)
        if found[0] == kind and words in found[1]:
            return
    raise AssertionError(f"no {kind} {words!r} in 60 stops")


def test_an_approval_by_keyboard_alone(own: OwnHouse, window_onto: OpenWindow) -> None:
    asked = own.ask()
    page = window_onto(own.base, 1280).page
    page.goto(own.link)
    tab_to(page, "a", "Which holes do we drill")
    page.keyboard.press("Enter")
    expect(page.get_by_role("radio")).to_have_count(2)
    tab_to(page, "radio")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("radio", name="Two holes")).to_be_checked()
    assert tab(page) == ("submit", "Next: look once more")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Is this what you want?")
    tab_to(page, "text")
    page.keyboard.type("Ida Sandvik")
    tab_to(page, "submit", "approve")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Kept. Thank you, Ida.")
    assert own.decision(asked["id"])["approvals"][0]["option"] == "two"


def test_the_stops_of_the_second_step_follow_its_order(own: OwnHouse, window_onto: OpenWindow) -> None:
    own.ask()
    page = window_onto(own.base, 1280).page
    page.goto(f"{own.link}decisions/1/review?revision=1&option=one")
    tops = []
    for _ in range(5):
        tab(page)
        tops.append(page.evaluate("document.activeElement.getBoundingClientRect().top + scrollY"))
    assert tops == sorted(tops)


def test_the_first_error_of_a_refused_form_is_one_step_away(own: OwnHouse, desk_of: OpenWindow) -> None:
    page = desk_of("manager", 1280).page
    page.goto(f"{own.desk}calls/new")
    ida = page.get_by_role("group", name="Who called").get_by_label("Ida", exact=True)
    ida.check()
    page.get_by_label("What they asked").fill("   ")
    page.get_by_role("button", name="Keep the note").click()
    page.get_by_role("alert").get_by_role("link", name="What they asked").click()
    expect(page.get_by_label("What they asked")).to_be_focused()
    expect(ida).to_be_checked()


def test_what_is_pressed_with_a_thumb_is_large_enough(own: OwnHouse, window_onto: OpenWindow) -> None:
    own.ask()
    page = window_onto(own.base, PHONE).page
    for way, count in (("decisions/1/", 3), ("decisions/1/review?revision=1&option=one", 1)):
        page.goto(own.link + way)
        page.locator("details.screen").evaluate_all("folds => folds.forEach(fold => fold.open = true)")
        boxes = [button.bounding_box() for button in page.get_by_role("button").all()]
        assert len(boxes) == count
        assert all(box and box["height"] >= 44 and box["width"] >= 44 for box in boxes)
    page.goto(f"{own.link}decisions/1/")
    assert page.locator("label.opt").count() == 2
    for row in page.locator("label.opt").all():
        box = row.bounding_box()
        assert box and box["height"] >= 44  # the whole choice is the target, not only its ring


UNDER = """() => {
  const e = document.activeElement, box = e.getBoundingClientRect(), tray = document.querySelector('.tray, .foot');
  if (!tray || tray.contains(e) || getComputedStyle(tray).display === 'none') return '';
  const top = tray.getBoundingClientRect().top;
  return box.bottom > top + 1 && box.top < top && box.height < top ? e.outerHTML.slice(0, 120) : '';
}"""


@pytest.mark.parametrize("way", ["sizes/", "decisions/layouts?kind=deck"])
def test_nothing_that_has_the_focus_lies_under_what_floats_at_the_foot(
    own: OwnHouse, desk_of: OpenWindow, way: str
) -> None:
    """WCAG 2.2, 2.4.11, and more: no part of it."""
    sink = {"what": "sink", "name": "Single bowl", "source": "its sheet", "values": {"width": "30 in"}}
    own.send("POST", "/sizes", sink)
    page = desk_of("manager", PHONE).page
    page.set_viewport_size({"width": PHONE, "height": 560})
    page.goto(own.desk + way)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    hidden = []
    for _ in range(40):
        page.keyboard.press("Tab")
        hidden += filter(None, [page.evaluate(UNDER)])
    assert hidden == []
