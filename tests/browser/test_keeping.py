"""What the household keeps: receipts, their own copy, the plan on one sheet, and what was handed over."""

import subprocess
import sys
import zipfile
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.axe import assert_accessible
from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse

Way = tuple[int, bool]
PORTAL = Path(sys.executable).parent / "portal"


def verify(file: Path) -> subprocess.CompletedProcess[str]:
    """`portal verify FILE`, somewhere without the portal's database."""
    return subprocess.run([PORTAL, "verify", file.name], cwd=file.parent, capture_output=True, text=True, timeout=60)


def test_a_receipt_of_the_approval_is_kept_and_proves_itself(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way, tmp_path: Path
) -> None:
    own.approve(own.ask()["id"])
    page = window_onto(own.base, *either_way).page
    page.goto(own.link)
    page.get_by_role("link", name="The record").click()
    page.get_by_role("link", name="approved “One hole, for the faucet”").first.click()
    page.get_by_text("Check it without us").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Take receipt.json").click()
    receipt = tmp_path / download.value.suggested_filename
    download.value.save_as(receipt)
    assert verify(receipt).returncode == 0
    receipt.write_text(receipt.read_text().replace("One hole, for the faucet", "Nine holes"))
    assert verify(receipt).returncode == 1


def test_the_own_copy_opens_without_us(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way, tmp_path: Path
) -> None:
    own.approve(own.ask()["id"])
    window = window_onto(own.base, *either_way)
    page = window.page
    page.goto(own.link)
    page.get_by_role("link", name="Own copy").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Take my copy").click()
    copy = tmp_path / "own-copy.zip"
    download.value.save_as(copy)
    assert verify(copy).returncode == 0
    with zipfile.ZipFile(copy) as files:
        files.extractall(tmp_path)
    for name in ("index.html", "contents.html", "decisions/1/index.html", "record/index.html"):
        page.goto((tmp_path / name).as_uri())
        assert_accessible(window)


def test_the_plan_on_one_sheet_says_in_words_what_works(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    own.add_phase("Drill the holes", takes=[{"service": "water"}])
    window = window_onto(own.base, *either_way)
    window.page.goto(own.link)
    window.page.get_by_role("link", name="The plan", exact=True).click()
    expect(window.page.get_by_role("heading", level=1)).to_have_text("The plan on one sheet")
    expect(window.page.get_by_role("heading", name="What works at home")).to_be_visible()
    expect(window.page.get_by_role("main")).to_contain_text("Drill the holes")
    assert window.overflow() <= 0


def test_a_hand_over_is_added_to_and_accepted(own: OwnHouse, window_onto: OpenWindow, either_way: Way) -> None:
    phase = own.add_phase("Set the top")
    for act in ("start", "finish"):
        own.send("POST", f"/phases/{phase}/{act}", {"anyway": True})
    own.send("POST", "/handovers", {"phase": phase, "items": [{"item": "Touch up the wall"}]})
    page = window_onto(own.base, *either_way).page
    page.goto(own.link)
    page.get_by_role("link", name="Look it over").first.click()
    expect(page.get_by_role("main")).to_contain_text("Touch up the wall")
    page.get_by_text("Add a fault").click()
    page.get_by_label("What is wrong").fill("A drop of sealant on the sink")
    page.get_by_role("button", name="Add it to the list").click()
    expect(page.get_by_role("main")).to_contain_text("A drop of sealant on the sink")
    page.get_by_text("Add a fault").click()
    page.get_by_label("What is wrong").fill("A scratch that was not added")
    page.get_by_role("button", name="Go on to accepting").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Do you accept it?")
    expect(page.get_by_role("main")).to_contain_text("A scratch that was not added")
    page.get_by_label("Type your full name").fill("Ida Sandvik")
    page.get_by_role("button", name="Accept the hand-over").click()
    expect(page.get_by_role("main")).to_contain_text("Accepted by Ida Sandvik")
    assert page.get_by_role("button").count() == 0
    page.get_by_role("link", name="Keep the receipt").wait_for()
