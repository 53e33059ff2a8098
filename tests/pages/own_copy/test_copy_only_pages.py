"""The pages that only the copy has: what is in it, products and colors, care, how to check it."""

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
    pages = r"(decisions/[0-9]+|handovers/[0-9]+|record)/index\.html|care/.*|wording/.*|products\.html"
    listed = [path for path in files if re.fullmatch(pages, path)]
    assert len(listed) > 10 and [path for path in listed if f'href="{path}"' not in contents] == []
    many = sum(path.startswith("record/") and path.endswith("receipt.json") for path in files)
    assert f"The record: {many} entries, each with its receipt" in contents.replace("\u00a0", " ")


def test_a_delivery_says_when_it_came_or_when_it_is_expected(demo: DemoHouse) -> None:
    products = copy_of(demo)["products.html"].decode().replace("\u00a0", " ")
    ordered = re.findall(r"<li>([^<]+): (arrived|expected) (\w{3} \w{3} \d+)\.", products)
    assert {how for _, how, _ in ordered} == {"arrived", "expected"}
