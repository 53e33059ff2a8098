"""Every page of the household as the Nu checker and as a text browser read it."""

import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import OpenWindow
from tests.browser.nu import faults
from tests.browser.own_house import own_house
from tests.browser.places import HOUSEHOLD, Furnished, furnish


@pytest.fixture(scope="module")
def furnished(demo: dict[str, Any]) -> Furnished:
    return furnish(own_house(demo))


def source_of(window_page: Any) -> str:
    """As it was sent, not as the browser mended it."""
    text: str = window_page.request.get(window_page.url).text()
    return text


def test_the_nu_checker_finds_no_fault(window_onto: OpenWindow, furnished: Furnished, tmp_path: Path) -> None:
    window, pages = window_onto(furnished.house.base), {}
    for name, place in HOUSEHOLD.items():
        place(window.page, furnished)
        if name != "a wrong link":  # there is no page to ask for
            pages[name] = source_of(window.page)
    found = faults(pages, tmp_path)
    assert not found, "\n".join(found)


def test_it_would_find_one(tmp_path: Path) -> None:
    wrong = "<!doctype html><html lang=en><title>x</title><p><div>block in a paragraph</div></p>"
    assert any("No “p” element in scope" in one for one in faults({"wrong": wrong}, tmp_path))


def as_text(html: str) -> str:
    """What w3m, a browser for text, shows in a window of 80 letters."""
    shown = subprocess.run(
        ["w3m", "-dump", "-cols", "80", "-T", "text/html", "-I", "UTF-8", "-O", "UTF-8"],
        input=html, capture_output=True, text=True, timeout=30, check=True,
    )  # fmt: skip
    return " ".join(shown.stdout.split())


@pytest.mark.parametrize(
    "name", ["the page", "a decision with drawings", "the second step", "the receipt of an approval"]
)
def test_a_text_browser_reads_a_page_in_its_order(window_onto: OpenWindow, furnished: Furnished, name: str) -> None:
    page = window_onto(furnished.house.base).page
    HOUSEHOLD[name](page, furnished)
    text = as_text(source_of(page))
    parts = page.locator(
        "h1, main h2:not(.vh), main label.opt .t, dl.block dt, .foot button, main .fold > details > summary"
    )
    said = [" ".join(one.split()) for one in parts.all_text_contents()]
    assert len(said) > 5
    at = 0
    for one in said:
        at = text.find(one, at)
        assert at >= 0, f"{one!r} is not read after what stands before it"
        at += len(one)
