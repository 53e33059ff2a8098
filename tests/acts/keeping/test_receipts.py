"""Receipts: an entry, its proof and a signed head, which whoever holds them can check without us."""

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.entries import keep
from portal.acts.keeping.receipts import (
    entry_of_approval,
    every_receipt,
    growth,
    receipt_for,
    record_file,
    signed_head,
    withdrawal_of,
)
from portal.acts.refusals import FieldRefused, NotFound
from portal.record.log.canonical import read
from portal.record.log.heads import Signer
from portal.record.log.proofs import verify_consistency
from portal.store.engine.database import touch, write
from portal.store.rows import record_rows
from tests.house import NOW, House

SIGNER = Signer(bytes(range(32)))


def tell(house: House, times: int) -> None:
    with write():
        touch(house.project)
        for number in range(times):
            keep(house.office, house.project, "answered", {"decision": 4, "question": "?", "answer": f"{number}"}, NOW)


def test_an_empty_record_has_no_head_and_no_receipt(house: House) -> None:
    assert signed_head(house.project, SIGNER) is None
    assert every_receipt(house.project, SIGNER) == []
    with pytest.raises(NotFound, match="entry"):
        receipt_for(house.project, 1, SIGNER)


def test_the_head_is_over_all_entries_and_the_same_each_time(house: House) -> None:
    tell(house, 3)
    first = signed_head(house.project, SIGNER)
    assert first is not None and first.head.size == 3 and first.head.project == house.project
    assert signed_head(house.project, SIGNER) == first
    tell(house, 1)
    assert signed_head(house.project, SIGNER) != first


def test_each_entry_has_its_receipt_one_by_one_and_all_at_once(house: House) -> None:
    tell(house, 5)
    all_of_them = every_receipt(house.project, SIGNER)
    assert [one.entry["sequence"] for one in all_of_them] == [1, 2, 3, 4, 5]
    for one in all_of_them:
        assert receipt_for(house.project, one.entry["sequence"], SIGNER) == one
        kept = read(one.file)
        assert kept["entry"] == one.entry and kept["head"]["size"] == 5
        assert [bytes.fromhex(step) for step in kept["proof"]] == one.proof


@pytest.mark.parametrize("sequence", [0, 6, 10**6])
def test_an_entry_that_there_is_not_has_no_receipt(house: House, sequence: int) -> None:
    tell(house, 5)
    with pytest.raises(NotFound, match="entry"):
        receipt_for(house.project, sequence, SIGNER)


def yes(house: House, who: str, number: int = 1, now: int = NOW) -> int:
    """The sequence of the entry that the approval made."""
    person = getattr(house, who)
    approve(
        person, house.project, house.decisions[number], revision=1, option="a", name=person.name, now=now
    )
    return record_rows.count(house.project)


def test_an_approval_is_found_by_decision_revision_and_person(house: House) -> None:
    maren, jonas, other = yes(house, "homeowner"), yes(house, "co_owner"), yes(house, "homeowner", 2)
    assert entry_of_approval(house.project, 1, 1, house.homeowner.id) == maren
    assert entry_of_approval(house.project, 1, 1, house.co_owner.id) == jonas
    assert entry_of_approval(house.project, 2, 1, house.homeowner.id) == other
    assert entry_of_approval(house.project, 2, 1, house.co_owner.id) is None
    assert entry_of_approval(house.project, 1, 2, house.homeowner.id) is None
    assert entry_of_approval(house.other_project, 1, 1, house.homeowner.id) is None


def test_what_was_taken_back_is_found_by_the_approval(house: House) -> None:
    kept = receipt_for(house.project, yes(house, "homeowner"), SIGNER).entry
    other = receipt_for(house.project, yes(house, "co_owner"), SIGNER).entry
    assert withdrawal_of(house.project, kept) is None
    withdraw(house.homeowner, house.project, house.decisions[1], reason="We thought again", now=NOW + 60)
    gone = withdrawal_of(house.project, kept)
    assert gone is not None and gone["body"]["reason"] == "We thought again"
    assert withdrawal_of(house.project, other) is None


def test_their_own_copy_carries_all_entries_and_the_head(house: House) -> None:
    assert b'"heads":[]' in record_file(house.project, SIGNER).replace(b" ", b"")
    tell(house, 3)
    kept = read(record_file(house.project, SIGNER))
    assert len(kept["entries"]) == 3 and len(kept["heads"]) == 1
    assert kept["heads"][0]["head"]["size"] == 3


@pytest.mark.parametrize(("first", "second"), [(0, 0), (0, 5), (1, 5), (3, 5), (4, 5), (5, 5), (2, 3)])
def test_a_record_that_grew_can_prove_it(house: House, first: int, second: int) -> None:
    tell(house, 5)
    shown = growth(house.project, first, second)
    assert (shown.first, shown.second) == (first, second)
    assert verify_consistency(first, second, shown.first_root, shown.second_root, shown.proof)
    if second == 5:
        head = signed_head(house.project, SIGNER)
        assert head is not None and head.head.root == shown.second_root.hex()


def test_sizes_that_it_never_had_are_refused_by_their_field(house: House) -> None:
    tell(house, 5)
    with pytest.raises(FieldRefused, match="has 5 entries") as refused:
        growth(house.project, 1, 6)
    assert refused.value.field == "second"
    with pytest.raises(FieldRefused, match="can’t be larger") as refused:
        growth(house.project, 4, 3)
    assert refused.value.field == "first"
