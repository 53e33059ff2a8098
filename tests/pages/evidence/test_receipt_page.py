"""A receipt to read: what was approved as it was shown, what proves it, and whether it still counts."""

import dataclasses
from typing import Any

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval, withdraw
from portal.acts.decisions.asking import ask_again
from portal.acts.keeping.receipts import receipt_for
from portal.pages.evidence.next_steps import next_question
from portal.pages.evidence.receipt_page import Around, render_receipt
from portal.pages.outlook import outlook_of
from portal.record.log.heads import Signer, key_name
from portal.record.papers.receipt import Receipt
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from portal.words.codes import short_code
from portal.words.dates import dated_words, local
from tests.house import NOW, House
from tests.pages.reading import page_of
from tests.web.plain import X, parsed, text_of

SIGNER = Signer(bytes(range(32)))


def approved(house: House, **more: Any) -> Receipt:
    """Decision 1 approved by Maren; the receipt of that."""
    approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW, **more
    )
    return receipt_for(7, record_rows.count(7), SIGNER)


def around(house: House, taken_back: dict[str, Any] | None = None, reader: str = "Maren Okafor", **more: Any) -> Around:
    shown = read_snapshot(house.project)
    me = next((one for one in shown.people if one.name == reader), None)
    return Around(outlook_of(shown, schedule_of(shown, NOW)), NOW, taken_back, me, **more)


def html_of(house: House, receipt: Receipt, taken_back: dict[str, Any] | None = None, **more: Any) -> str:
    return render_receipt(read_snapshot(house.project), receipt, around(house, taken_back, **more))


def says(house: House, receipt: Receipt, taken_back: dict[str, Any] | None = None, **more: Any) -> str:
    page = parsed(html_of(house, receipt, taken_back, **more))
    return " ".join(text_of(page).replace("\u00a0", " ").split())


def block_of(html: str) -> dict[str, str]:
    block = next(one for one in parsed(html).iter(f"{X}dl") if one.get("class") == "block")
    said = [" ".join("".join(cell.itertext()).replace("\u00a0", " ").split()) for row in block for cell in row]
    return dict(zip(said[::2], said[1::2], strict=True))


def test_an_approval_stands_in_the_block_with_who_what_when_and_the_code(house: House) -> None:
    receipt = approved(house)
    shown = read_snapshot(house.project)
    block, said = block_of(html_of(house, receipt)), says(house, receipt)
    assert "Kept. Thank you, Maren." in said and "Approved" in said
    assert block == {
        "House": "Okafor house, 14 Tamarack Lane", "Question 1": shown.decisions[0].question,
        "Choice": receipt.entry["body"]["title"], "Price": block["Price"], "Time": block["Time"],
        "Approved by": "Maren Okafor", "On": "Wed Dec 2, 2026, 7:30 am", "Next": block["Next"],
        "Check code": short_code(receipt.entry["body"]["check_code"]),
    }  # fmt: skip
    assert "Recommended" not in said and "We recommend" not in said, "what was chosen is no advice any more"


def test_the_newest_approval_says_the_whole_price_and_the_finish(house: House) -> None:
    receipt = approved(house)
    shown = read_snapshot(house.project)
    block, finish = block_of(html_of(house, receipt)), around(house).outlook.finish
    assert finish and block["Time"].endswith(dated_words(finish, local(NOW, shown.project.timezone).date()))
    assert shown.project.contract_cents is not None and "$" in block["Price"]
    in_the_copy = block_of(render_receipt(shown, receipt, around(house, reader="nobody")))
    assert "$" not in in_the_copy["Price"] and "Next" not in in_the_copy, "it stays true whatever comes"


def test_the_next_question_is_the_card_of_the_page_and_says_how_many_are_left(house: House) -> None:
    grouts = (("Warm gray", "#cdc6b5"), ("Charcoal", "#44474a"))
    options = [{"title": name, "finish": {"color": name, "swatch": color}} for name, color in grouts]
    ask_again(house.manager, house.project, house.decisions[2], {"options": options}, NOW)
    receipt = approved(house)
    html = html_of(house, receipt)
    (card,) = [way for way in parsed(html).iter(f"{X}a") if "card" in (way.get("class") or "").split()]
    shown = read_snapshot(house.project)
    wanted = next_question(shown, around(house).outlook, shown.people[0], local(NOW, shown.project.timezone).date())
    assert wanted and card.get("href") == f"../../{wanted.card.leads}" and wanted.left in says(house, receipt)
    pictures = [one for one in card.iter() if "pic" in (one.get("class") or "").split()]
    assert len(pictures) == 1 and str(wanted.card.picture) in page_of(house).html, "with the same picture as there"
    assert "Next question" not in says(house, receipt, reader="nobody")


def test_who_got_a_copy_is_said(house: House) -> None:
    assert "A copy went to maren@example.org." in says(
        house, approved(house), told=["A copy went to maren@example.org."]
    )


def test_what_proves_it_is_on_it_whole(house: House) -> None:
    receipt = approved(house)
    html = html_of(house, receipt)
    codes = ["".join(code.itertext()) for code in parsed(html).iter(f"{X}code")]
    proof = [made.hex() for made in receipt.proof]
    assert proof and [code for code in codes if code in proof] == proof, "the innermost first"
    for proved in (receipt.entry["previous"], receipt.signed.head.root, receipt.signed.public_key,
                   receipt.signed.signature, key_name(SIGNER.public_key)):
        assert proved in codes
    assert 'href="receipt.json"' in html and 'href="../../guide/check-the-record/"' in html


def test_an_entry_alone_in_its_record_needs_no_proof(house: House) -> None:
    receipt = dataclasses.replace(approved(house), proof=[])
    assert "This is the only entry, so its hash leads to the root by itself." in says(house, receipt)


def test_every_field_of_the_entry_is_listed_in_words(house: House) -> None:
    receipt = approved(house)
    body = {"name": "Drill", "at": "2026-12-03T15:00:00Z", "a_list": ["x", 5], "an_empty_list": [],
            "an_object": {"key": None}, "nothing": {}, "yes_no": True, "zero": 0}
    odd = dataclasses.replace(receipt, entry=receipt.entry | {"kind": "started", "body": body})
    rows = parsed(html_of(house, odd)).iter(f"{X}tr")
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
    said = says(house, receipt, back)
    assert "This was taken back" in said and "Change your mind?" not in said and "Next" not in block_of(
        html_of(house, receipt, back))
    assert "This no longer counts: Maren Okafor took it back on Wed Dec 2, 7:31 am." in said
    assert f"Entry {back['sequence']} says so" in said
    assert "no longer counts" not in says(house, receipt)


def test_of_a_revision_that_was_replaced_no_option_is_shown_as_if_it_were_the_one_of_today(house: House) -> None:
    receipt = approved(house)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW + 60)
    said, block = says(house, receipt), block_of(html_of(house, receipt))
    assert "What was shown" not in said and "Two holes or three?" not in said and "Next" not in block
    assert "The question was asked again after this, so this approval no longer counts." in said
    assert block["Question 1"] == receipt.entry["body"]["question"]


def test_what_was_entered_from_paper_is_not_approved_by_whoever_entered_it(house: House) -> None:
    enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
        name="Maren Okafor", now=NOW,
    )  # fmt: skip
    receipt = receipt_for(7, record_rows.count(7), SIGNER)
    said, block = says(house, receipt), block_of(html_of(house, receipt))
    assert "Kept, as signed on paper" in said and "Thank you" not in said
    assert (block["Approved by"], block["Signed"], block["Entered by"]) == ("Maren Okafor", "On paper", "Lou Ferris")
    assert "Lou Ferris entered that Maren Okafor signed “" in said


@pytest.mark.parametrize("kind", ["asked", "link_made"])
def test_a_receipt_of_something_else_shows_no_option(house: House, kind: str) -> None:
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    receipt = receipt_for(7, record_rows.count(7), SIGNER)
    assert "Dana Whitcombe asked question 1 anew, revision 2: “Two holes or three?”" in says(house, receipt)
    assert "The page of question 1" in says(house, receipt)
    other = dataclasses.replace(receipt, entry=receipt.entry | {"kind": "link_made", "body": {"name": "Jonas"}})
    assert "The page of question" not in says(house, other)
