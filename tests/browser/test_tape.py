"""The tape and the span as a browser lays them out: upright, folded, lying; words at their marks; nothing cut."""

from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse

LONG = "Vandersloot-Abernathy and Krzyżanowska, restorers of old stairs and floors"
DAYS = "[...document.querySelectorAll('.tape .day')].map(e => e.getBoundingClientRect()).map(r => [r.x, r.y])"
LARGE = "document.documentElement.style.fontSize = '200%'"
WIDER = "(e => e.scrollWidth - e.clientWidth)(document.querySelector('.tape'))"
OUT_OF_DAY = """[...document.querySelectorAll('.tape li')].flatMap(li => [...li.querySelectorAll('p')]
  .filter(p => p.getBoundingClientRect().right > li.getBoundingClientRect().right + 1).map(p => p.textContent))"""
OVER_EACH_OTHER = """[...document.querySelectorAll('.tape li')].flatMap(li => {
  const [day, ...some] = [li.querySelector('.day'), ...li.querySelectorAll('p')].map(e => e.getBoundingClientRect());
  return some.filter(p => p.left < day.right && p.right > day.left && p.top < day.bottom - 1 && p.bottom > day.top + 1)
    .map(() => li.textContent)})"""


@pytest.fixture
def busy(own: OwnHouse) -> OwnHouse:
    """Five crews on one day, a visit over three days, long names, a held visit, a delivery, an answer."""
    held = own.add_phase("Drill the holes")
    own.ask(holds=[held])
    for hour in range(5):
        _book(own, 4, f"{8 + hour:02}:00", 4, f"{12 + hour:02}:00", f"{LONG} {hour}")
    _book(own, 6, "08:00", 8, "16:30", own.crew)
    visit = {"crew": f"{own.crew} b", "purpose": "Drill the holes", "phase": held}
    day = own.in_days(9)
    own.send("POST", "/visits", visit | {"starts_at": f"{day}T09:00:00", "ends_at": f"{day}T11:00:00"})
    own.send("POST", "/deliveries", {"item": "Stone top", "expected_on": own.in_days(3)})
    return own


def _book(own: OwnHouse, first: int, begins: str, last: int, ends: str, crew: str) -> None:
    times = {"starts_at": f"{own.in_days(first)}T{begins}:00", "ends_at": f"{own.in_days(last)}T{ends}:00"}
    own.send("POST", "/visits", {"crew": crew, "purpose": "Take the banister down and bring it away"} | times)


def _days(page: Page) -> list[tuple[int, int]]:
    return [(round(x), round(y)) for x, y in page.evaluate(DAYS)]


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_of_the_tape_is_cut_or_lies_over_its_days(window_onto: OpenWindow, busy: OwnHouse, width: int) -> None:
    window = window_onto(busy.base, width)
    window.page.goto(busy.link)
    assert window.overflow() <= 0
    for _ in range(2):
        assert window.page.evaluate(WIDER) <= 0
        assert (window.page.evaluate(OUT_OF_DAY), window.page.evaluate(OVER_EACH_OTHER)) == ([], [])
        window.page.evaluate(LARGE)


def test_it_stands_on_phones_folds_on_tablets_and_lies_on_desks(window_onto: OpenWindow, busy: OwnHouse) -> None:
    window = window_onto(busy.base)
    window.page.goto(busy.link)
    upright = _days(window.page)
    assert len({x for x, _ in upright}) == 1 and upright == sorted(upright)
    window.page.set_viewport_size({"width": 768, "height": 800})
    assert len({x for x, _ in _days(window.page)}) == 2
    window.page.set_viewport_size({"width": 1280, "height": 800})
    lying = _days(window.page)
    assert len({y for _, y in lying}) == 1 and lying == sorted(lying) and len(lying) == len(upright)


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_the_words_of_the_span_stand_at_the_flag(window_onto: OpenWindow, demo: dict[str, Any], width: int) -> None:
    """Without a style of its own in any element, which the policy would forbid."""
    window = window_onto(demo["base"], width)
    window.page.goto(demo["pages"][0])
    flag, words = (
        window.page.locator(of).bounding_box() for of in ('.span path[d$="25V1"]', ".till .at:first-child b")
    )
    assert flag and words
    near = min(abs(words["x"] + words["width"] - flag["x"]), abs(words["x"] - flag["x"]))
    assert near < 3, "they end at the flag, or begin there"
