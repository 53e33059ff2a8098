"""The pages that only the copy has: what is in it, products and colors, care, how to check it."""

import json
import re

from portal.acts.decisions.answers import approve
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.pages.own_copy.lived_in import copy_of, lived_in


def test_products_care_handovers_and_the_way_to_check_are_in_it(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    products = files["products.html"].decode()
    assert "In the middle of each drawer" in products and "Sink, faucet and cooktop: arrived" in products
    for name in ("stone-top", "grout-and-sealant", "cabinets-and-pulls"):
        assert b"The label governs." in files[f"care/{name}.html"]
    assert b"openssl pkeyutl -verify" in files["check-the-record.html"]
    handover = files["handovers/1/index.html"]
    assert b"A scratch on the left door" in handover and b"Did we miss something" not in handover
    assert sum(path.startswith("photos/") for path in files) == 8


def test_only_what_was_approved_was_chosen(demo: DemoHouse) -> None:
    before = copy_of(demo)["products.html"].decode()
    approve(demo.told.household[0], demo.project, demo.told.decisions[0], revision=1, option="a", name="Maren Okafor",
            now=NOW)  # fmt: skip
    after = copy_of(demo)["products.html"].decode()
    assert "decisions/1/" not in before and 'href="decisions/1/index.html">Decision 1' in after
    assert before.count("<h3>") + 1 == after.count("<h3>")


def test_what_is_in_it_lists_every_decision_hand_over_wording_and_the_record(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    contents = files["contents.html"].decode()
    folders = r"(decisions/[0-9]+|handovers/[0-9]+|record)/index"
    pages = rf"({folders}|care/.*|wording/.*|products|photos|record/files)\.html"
    listed = [path for path in files if re.fullmatch(pages, path)]
    assert len(listed) > 10 and [path for path in listed if f'href="{path}"' not in contents] == []
    many = sum(path.startswith("record/") and path.endswith("receipt.json") for path in files)
    assert f"The record: {many} entries, each with its receipt" in contents.replace("\u00a0", " ")


def test_a_delivery_says_when_it_came_or_when_it_is_expected(demo: DemoHouse) -> None:
    products = copy_of(demo)["products.html"].decode().replace("\u00a0", " ")
    ordered = re.findall(r"<li>([^<]+): (arrived|expected) (\w{3} \w{3} \d+)\.", products)
    assert {how for _, how, _ in ordered} == {"arrived", "expected"}


def test_what_is_to_be_read_opens_as_a_page_by_its_words(demo: DemoHouse) -> None:
    """Files for programs are named on one page of their own, and beside what they prove."""
    lived_in(demo)
    files = copy_of(demo)
    ways = re.findall(r'<a [^>]*href="([^"#:]+)"[^>]*>([^<]+)</a>', files["contents.html"].decode())
    assert len(ways) > 15 and [way for way, _ in ways if not way.endswith(".html")] == []
    assert [words for way, words in ways if way.rsplit("/", 1)[-1] in words] == [], "by words, never by a file's name"
    proof = files["record/files.html"].decode()
    assert {"record.json", "files.sha256", "files.signature", "form.txt"} <= set(re.findall(r'href="([^"]+)"', proof))
    for path in (one for one in files if re.fullmatch(r"wording/[0-9a-f]+\.md", one)):
        name = path.removeprefix("wording/")
        assert f'href="{name}"' in files[path.replace(".md", ".html")].decode()


def test_a_question_that_was_replaced_has_a_page_as_it_was_asked(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    now, then = files["decisions/1/index.html"].decode(), files["decisions/1/revision-1.html"].decode()
    assert 'href="revision-1.html">Revision 1: Which holes do we drill' in now
    assert "<h1>Which holes do we drill" in then and "This was asked before, and replaced." in then
    assert 'href="shown-1.json"' in then and "<svg" in then and "One hole" in then


def test_every_photo_stands_on_one_page_with_its_day_and_words(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    page = files["photos.html"].decode()
    names = {path.removeprefix("photos/").removesuffix("-large.jpg") for path in files if path.endswith("-large.jpg")}
    assert names and all(f'src="photos/{name}-small.jpg"' in page for name in names)
    assert page.count("<figure>") == len(names)


def test_a_receipt_with_a_name_under_it_is_there_as_a_sheet(demo: DemoHouse) -> None:
    approve(demo.told.household[0], demo.project, demo.told.decisions[0], revision=1, option="a", name="Maren Okafor",
            now=NOW)  # fmt: skip
    files = copy_of(demo)
    sheets = [path for path in files if path.endswith("receipt.pdf")]
    assert sheets and all(files[path].startswith(b"%PDF-") for path in sheets)
    for path in sheets:
        page = files[path.replace("receipt.pdf", "index.html")].decode()
        assert 'href="receipt.pdf">Keep the receipt' in page and "On A4 paper" not in page
    assert {json.loads(files[one.replace(".pdf", ".json")])["entry"]["kind"] for one in sheets} == {"approved"}
