"""A receipt to read: what was approved as it was shown, what proves it, and whether it still counts."""

import dataclasses
from typing import Any

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval, withdraw
from portal.acts.decisions.asking import ask_again
from portal.acts.keeping.receipts import receipt_for
from portal.pages.evidence.receipt_page import render_receipt
from portal.record.log.heads import Signer, key_name
from portal.record.papers.receipt import Receipt
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from tests.house import NOW, House
from tests.web.plain import X, parsed, text_of

SIGNER = Signer(bytes(range(32)))


def approved(house: House, **more: Any) -> Receipt:
    """Decision 1 approved by Maren; the receipt of that."""
    approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW, **more
    )
    return receipt_for(7, record_rows.count(7), SIGNER)


def says(receipt: Receipt, taken_back: dict[str, Any] | None = None) -> str:
    page = parsed(render_receipt(read_snapshot(7), receipt, taken_back))
    return " ".join(text_of(page).replace("\u00a0", " ").split())


def test_an_approval_reads_as_what_was_chosen_by_whom_and_when(house: House) -> None:
    receipt = approved(house)
    said = says(receipt)
    assert f"Receipt of entry {receipt.entry['sequence']}" in said
    assert "Approved by Maren Okafor, on Wed Dec 2, 7:30 am by the clock at the house." in said
    assert read_snapshot(house.project).decisions[0].question in said and "The page of decision 1" in said
    assert "Recommended" not in said, "what was chosen is no advice any more"


def test_what_proves_it_is_on_it_whole(house: House) -> None:
    receipt = approved(house)
    html = render_receipt(read_snapshot(house.project), receipt)
    codes = ["".join(code.itertext()) for code in parsed(html).iter(f"{X}code")]
    proof = [made.hex() for made in receipt.proof]
    assert proof and [code for code in codes if code in proof] == proof, "the innermost first"
    for proved in (receipt.entry["previous"], receipt.signed.head.root, receipt.signed.public_key,
                   receipt.signed.signature, key_name(SIGNER.public_key)):
        assert proved in codes
    assert 'href="receipt.json"' in html and 'href="/guide/check-the-record/"' in html


def test_an_entry_alone_in_its_record_needs_no_proof(house: House) -> None:
    receipt = dataclasses.replace(approved(house), proof=[])
    assert "This is the only entry, so its hash leads to the root by itself." in says(receipt)


def test_every_field_of_the_entry_is_listed_in_words(house: House) -> None:
    receipt = approved(house)
    body = {"name": "Drill", "at": "2026-12-03T15:00:00Z", "a_list": ["x", 5], "an_empty_list": [],
            "an_object": {"key": None}, "nothing": {}, "yes_no": True, "zero": 0}
    odd = dataclasses.replace(receipt, entry=receipt.entry | {"kind": "started", "body": body})
    rows = parsed(render_receipt(read_snapshot(house.project), odd)).iter(f"{X}tr")
    cells = dict(tuple(" ".join("".join(cell.itertext()).split()) for cell in row) for row in rows)
    assert list(cells)[3:-2] == sorted(cells)[:1] + [name.replace("_", " ") for name in sorted(body)][1:]
    assert cells | {
        "a list": "x; 5", "an empty list": "nothing", "an object": "key nothing", "nothing": "nothing",
        "yes no": "yes", "zero": "0", "kind": "started", "who": "Maren Okafor, homeowner",
    } == cells  # fmt: skip


def test_an_approval_that_was_taken_back_says_so_first_and_leads_there(house: House) -> None:
    receipt = approved(house)
    withdraw(house.homeowner, house.project, house.decisions[1], reason="Let us think", now=NOW + 60)
    back = receipt_for(7, record_rows.count(7), SIGNER).entry
    said = says(receipt, back)
    assert "This approval no longer counts: Maren Okafor took it back on Wed Dec 2, 7:31 am." in said
    assert f"Entry {back['sequence']} says so" in said
    assert "no longer counts" not in says(receipt)


def test_of_a_revision_that_was_replaced_no_option_is_shown_as_if_it_were_the_one_of_today(house: House) -> None:
    receipt = approved(house)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW + 60)
    said = says(receipt)
    assert "Approved by" not in said and "Two holes or three?" not in said
    assert "Wed Dec 2, 7:30 am : Maren Okafor approved" in said


def test_what_was_entered_from_paper_is_not_approved_by_whoever_entered_it(house: House) -> None:
    enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
        name="Maren Okafor", now=NOW,
    )  # fmt: skip
    said = says(receipt_for(7, record_rows.count(7), SIGNER))
    assert "Entered on Wed Dec 2, 7:30 am by the clock at the house." in said and "Approved by" not in said
    assert "Lou Ferris entered what Maren Okafor signed on paper" in said


@pytest.mark.parametrize("kind", ["asked", "link_made"])
def test_a_receipt_of_something_else_shows_no_option(house: House, kind: str) -> None:
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    receipt = receipt_for(7, record_rows.count(7), SIGNER)
    assert "Dana Whitcombe changed decision 1, revision 2: “Two holes or three?”." in says(receipt)
    assert "The page of decision 1" in says(receipt)
    other = dataclasses.replace(receipt, entry=receipt.entry | {"kind": "link_made", "body": {"name": "Jonas"}})
    assert "The page of decision" not in says(other)
