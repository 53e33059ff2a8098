"""The receipt on paper: what stands on it, that it is one sheet, and always the same for the same entry and head."""

import io
from typing import Any

import pytest
from pypdf import PdfReader

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.keeping.receipts import receipt_for
from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.block_pdf import block_pdf
from portal.pages.evidence.receipt_paper import receipt_sheet
from portal.record.log.heads import Signer, key_name
from portal.record.papers.receipt import Receipt
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from portal.words.codes import short_code
from tests.drawings.reading_pdf import sizes_of
from tests.house import NOW, House

SIGNER = Signer(bytes(range(32)))


def newest() -> Receipt:
    return receipt_for(7, record_rows.count(7), SIGNER)


def approved(house: House) -> Receipt:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    return newest()


def pages(receipt: Receipt, back: dict[str, Any] | None = None, paper: Paper = Paper.LETTER) -> list[Any]:
    return list(PdfReader(io.BytesIO(block_pdf(receipt_sheet(read_snapshot(7), receipt, back), paper))).pages)


@pytest.mark.parametrize("paper", Paper)
def test_it_is_one_sheet_that_says_who_what_when_and_how_to_check(house: House, paper: Paper) -> None:
    receipt = approved(house)
    (page,) = pages(receipt, paper=paper)
    said, body = " ".join(page.extract_text().split()), receipt.entry["body"]
    for words in ("Approved", "Okafor house", body["question"], body["title"], "Maren Okafor",
                  "Wed Dec 2, 2026, 7:30 am", short_code(body["check_code"]), key_name(SIGNER.public_key),
                  f"receipt-{receipt.entry['sequence']}.json", "contract papers"):  # fmt: skip
        assert words in said, words
    assert min(sizes_of(page)) >= 11


def test_what_happens_later_changes_no_letter_of_the_same_receipt(house: House) -> None:
    receipt = approved(house)
    before = block_pdf(receipt_sheet(read_snapshot(7), receipt, None))
    approve(house.homeowner, house.project, house.decisions[4], revision=1, option="a", name="Maren O.", now=NOW + 60)
    assert block_pdf(receipt_sheet(read_snapshot(7), receipt, None)) == before


def test_one_that_was_taken_back_says_so(house: House) -> None:
    receipt = approved(house)
    withdraw(house.homeowner, house.project, house.decisions[1], reason="Let us think", now=NOW + 60)
    (page,) = pages(receipt, newest().entry)
    said = " ".join(page.extract_text().split())
    assert "Taken back" in said and "This no longer counts: Maren Okafor took it back on Wed Dec 2, 7:31 am" in said


def test_the_longest_words_that_are_taken_still_make_one_sheet(house: House) -> None:
    receipt = approved(house)
    body = receipt.entry["body"] | {"question": "Which hole, and where? " * 170, "title": "One hole " * 22}
    long = Receipt(receipt.entry | {"body": body}, receipt.proof, receipt.signed)
    assert len(pages(long)) == 1
