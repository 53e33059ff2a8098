"""The crew, with a sheet of paper: it prints, it names its revision, and its code says whether that still counts."""

from io import BytesIO

from playwright.sync_api import expect
from pypdf import PdfReader

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question

Way = tuple[int, bool]


def words_on(sheets: bytes) -> str:
    return " ".join(" ".join(sheet.extract_text().split()) for sheet in PdfReader(BytesIO(sheets)).pages)


def test_the_drilling_sheet_is_downloaded_and_says_what_was_approved(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask(**deck_question())
    option = asked["options"][0]["key"]
    page = window_onto(own.base, *either_way).page
    before = words_on(page.request.get(f"{own.link}decisions/1/sheet.pdf").body())
    assert "not approved" in before.lower()
    own.approve(asked["id"], option)
    sheet = words_on(page.request.get(f"{own.link}decisions/1/sheet.pdf").body())
    assert "not approved" not in sheet.lower()
    assert "Ida Sandvik" in sheet and "1-3/8" in sheet
    assert asked["check_code"][:4] in sheet


def test_the_code_of_a_sheet_says_whether_it_still_counts(
    own: OwnHouse, window_onto: OpenWindow, either_way: Way
) -> None:
    asked = own.ask(**deck_question(question=f"Which holes at {own.name}?"))
    page = window_onto(own.base, *either_way).page
    page.goto(f"/check/{asked['check_code']}/")
    expect(page.get_by_role("heading", level=1)).to_contain_text("not approved", ignore_case=True)
    own.approve(asked["id"], asked["options"][0]["key"])
    page.reload()
    expect(page.get_by_role("main")).to_contain_text("approved")
    approved = page.inner_text("h1")
    own.send("POST", f"/decisions/{asked['id']}/revisions", {"question": "Which holes, with the other faucet?"})
    page.reload()
    assert page.inner_text("h1") != approved
    assert "Sandvik" not in page.content()  # neither house nor household is named to a stranger


def test_a_code_that_is_none_is_said_so(own: OwnHouse, window_onto: OpenWindow) -> None:
    page = window_onto(own.base).page
    answer = page.goto(f"/check/{'0' * 64}/")
    assert answer and answer.status == 404
    expect(page.get_by_role("heading", level=1)).to_be_visible()
