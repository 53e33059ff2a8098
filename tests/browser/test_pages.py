"""Every page that people visit: found without fault by axe-core, parsed strictly, readable narrow, spaced, dark, large,
and in the colors that a reader's system forces.

Sources: WCAG 2.2, success criteria 1.4.4 (text at 200 %), 1.4.10 (reflow at 320 px), 1.4.12 (text spacing), 2.5.8
(targets of 24 px) and, at the desk, 2.5.5 (AAA: of 44 px); CSS Color Adjustment 1, 3.1 (forced colors take backgrounds
and shadows away, not borders).
"""

from typing import Any

import html5lib
import pytest

from tests.browser.axe import CONTRAST, TARGETS, assert_accessible, violations
from tests.browser.conftest import OpenWindow
from tests.browser.figures import SMALL
from tests.browser.own_house import own_house
from tests.browser.places import DESK, HOUSEHOLD, Furnished, Place, furnish
from tests.browser.window import PHONE, Window

NARROWEST, TABLET = 320, 768
THUMB = 44
# 1.4.12: line height 1.5, after a paragraph 2, between letters .12, between words .16 of the font's size.
SPACED = """() => {
  for (const element of document.querySelectorAll('body, body *')) {
    element.style.setProperty('line-height', '1.5', 'important');
    element.style.setProperty('letter-spacing', '.12em', 'important');
    element.style.setProperty('word-spacing', '.16em', 'important');
    if (element.tagName === 'P') element.style.setProperty('margin-bottom', '2em', 'important');
  }
}"""
# Text that its own box cuts off. What only a screen reader is meant to hear is clipped on purpose.
CUT_OFF = """() => [...document.querySelectorAll('main *, header *, footer *')]
  .filter(e => !e.closest('svg, select, textarea, input, .unseen, .vh, .cell') && e.clientWidth > 1)
  .filter(e => getComputedStyle(e).overflow !== 'visible' && getComputedStyle(e).overflowX !== 'auto')
  .filter(e => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
  .map(e => e.outerHTML.slice(0, 120))"""
# 2.5.8 lets links inside a sentence be smaller; every other target is at least 24 px, or has 24 px to itself.
SMALL_TARGETS = """() => [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, summary')]
  .filter(e => e.getClientRects().length)
  .filter(e => getComputedStyle(e).display !== 'inline')
  .map(e => [(e.closest('label.file') || e).getBoundingClientRect(), e])  // its label is the button of a file
  .filter(([box]) => box.width < 23.9 || box.height < 23.9)
  .filter(([, e]) => !['radio', 'checkbox'].includes(e.type))  // there the words beside it are the target, too
  .map(([box, e]) => `${box.width}x${box.height} ${e.outerHTML.slice(0, 100)}`)"""


# Words of up to 12 letters of which a part stands on the next line. Addresses and codes may break anywhere.
BROKEN_WORDS = """() => {
  const apart = 'svg, code, pre, option, textarea, .vh, .unseen, .nights, .fields td, [href^="mailto:"]';
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    if (node.parentElement.closest(apart)) continue;
    for (const word of node.data.matchAll(/\\p{L}{2,12}/gu)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      if (new Set([...range.getClientRects()].map(box => Math.round(box.top))).size > 1) found.push(word[0]);
    }
  }
  return found;
}"""
# What is pressed, and would be bare words without its ground.
BARE = """() => [...document.querySelectorAll('.go, .alt, .plate, button')].filter(e => e.getClientRects().length)
  .filter(e => getComputedStyle(e).borderTopStyle === 'none' && !e.closest('.tells, .card'))
  .map(e => e.outerHTML.slice(0, 100))"""
LARGE = 32  # px: what a browser set to 200 % takes for 16


@pytest.fixture(scope="module")
def furnished(demo: dict[str, Any]) -> Furnished:
    return furnish(own_house(demo))


def check_sound(window: Window) -> None:
    """Whatever page the window shows, narrow or wide, light or dark."""
    html5lib.HTMLParser(strict=True).parse(window.page.content())
    assert_accessible(window)
    window.page.emulate_media(color_scheme="dark")
    assert violations(window, CONTRAST) == []
    window.page.emulate_media(color_scheme="light")
    window.page.set_viewport_size({"width": NARROWEST, "height": 568})
    assert window.overflow() <= 0
    assert window.page.evaluate(SMALL_TARGETS) == []
    window.page.evaluate(SPACED)
    assert (window.overflow() <= 0, window.page.evaluate(CUT_OFF)) == (True, [])


def check_readable_large(window: Window) -> None:
    """With letters twice as large, as the browser's own setting makes them."""
    session = window.context.new_cdp_session(window.page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": LARGE}})
    assert (window.overflow() <= 0, window.page.evaluate(BROKEN_WORDS)) == (True, [])
    session.send("Page.setFontSizes", {"fontSizes": {"standard": LARGE // 2}})


def check_readable_otherwise(window: Window) -> None:
    """With letters twice as large; in forced colors."""
    check_readable_large(window)
    window.page.emulate_media(forced_colors="active")
    assert window.page.evaluate(BARE) == []
    window.page.emulate_media(forced_colors="none")


@pytest.mark.parametrize("place", HOUSEHOLD.values(), ids=HOUSEHOLD)
def test_a_page_of_the_household_is_sound(window_onto: OpenWindow, furnished: Furnished, place: Place) -> None:
    window = window_onto(furnished.house.base)
    place(window.page, furnished)
    check_readable_otherwise(window)
    check_sound(window)


def check_for_a_thumb(window: Window) -> None:
    """What is pressed at the desk measures 44 px on a phone; links within what we or others wrote may be words."""
    window.page.set_viewport_size({"width": PHONE, "height": 844})
    assert [one for one in window.page.evaluate(SMALL, THUMB) if "noopener" not in one] == []


def check_targets(window: Window) -> None:
    """By axe-core's own measure, as wide as a phone and as a tablet, all unfolded. The window is as high as the page:
    what floats at its foot has its own place then, and is over nothing."""
    for width in (PHONE, TABLET):
        window.page.set_viewport_size({"width": width, "height": 844})
        window.page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        height = window.page.evaluate("document.documentElement.scrollHeight")
        window.page.set_viewport_size({"width": width, "height": height + 1})
        assert violations(window, TARGETS) == [], width


def test_the_pages_of_the_desk_are_sound(desk_of: OpenWindow, furnished: Furnished) -> None:
    window, faults = desk_of("manager"), {}
    for name, place in DESK.items():
        window.page.set_viewport_size({"width": 1280, "height": 800})
        place(window.page, furnished)
        try:
            check_for_a_thumb(window)
            window.page.set_viewport_size({"width": 1280, "height": 800})
            check_sound(window)
            check_targets(window)
        except AssertionError as error:
            faults[name] = str(error)[:1500]
    assert faults == {}


def test_the_door_of_the_desk_is_sound(window_onto: OpenWindow, furnished: Furnished) -> None:
    window = window_onto(furnished.house.base)
    window.page.goto("/desk/")
    check_sound(window)
