"""A receipt proves its entry by itself, and any change to any byte of it is found; so with the exported record."""

import dataclasses
import json
from collections.abc import Iterator
from typing import Any

import pytest

from portal.record.checking.verification import verify_export, verify_receipt
from portal.record.log.canonical import canonical
from portal.record.log.heads import Signer, key_name
from portal.record.log.strict_reading import Misshapen
from portal.record.papers.export import export_file
from portal.record.papers.receipt import parse_receipt
from tests.record.chains import PROJECT, SECOND_SIGNER, SIGNER, told, with_new_key

RECORD = told()
RECEIPT = RECORD.receipt(5)
EXPORT = export_file(PROJECT, [entry.canonical for entry in RECORD.entries], [told(count=4).head(), RECORD.head()])


def changed_everywhere(data: bytes) -> Iterator[bytes]:
    """The file with one byte changed, dropped, doubled or put before it, at each place."""
    for place in range(len(data)):
        for bit in (0, 5):
            yield data[:place] + bytes([data[place] ^ 1 << bit]) + data[place + 1:]
        yield data[:place] + data[place + 1:]
        yield data[:place] + b" " + data[place:]
        yield data[:place + 1] + data[place:]
    yield data + b"\n"


def test_a_receipt_says_what_it_proves() -> None:
    verdict = verify_receipt(RECEIPT.file, [SIGNER.public_key])
    assert verdict.ok
    said = "a named person approved one option of one revision (option b)."
    assert verdict.sentences == (
        f"Entry 5 of project 3, 2026-11-03T19:12:44Z, by Márta Löwe: {said}",
        "It is in the record as it stood with 9 entries on 2026-11-05T09:00:01Z.",
        f"The head is signed with key {key_name(SIGNER.public_key)}, as you expected.",
    )


@pytest.mark.parametrize("sequence", range(1, 10))
def test_every_entry_has_a_receipt_that_holds_and_reads_back(sequence: int) -> None:
    receipt = RECORD.receipt(sequence)
    assert verify_receipt(receipt.file).ok
    assert parse_receipt(receipt.file) == receipt
    assert "Compare that with the key in your papers." in str(verify_receipt(receipt.file))


def test_any_byte_of_a_receipt_changed_is_found() -> None:
    wrong = [changed for changed in changed_everywhere(RECEIPT.file) if changed != RECEIPT.file]
    assert len(wrong) > 5 * len(RECEIPT.file) * 0.9
    assert not any(verify_receipt(changed).ok for changed in wrong)


def test_any_byte_of_an_exported_record_changed_is_found() -> None:
    short = told(count=3)
    export = export_file(PROJECT, [entry.canonical for entry in short.entries], [told(count=1).head(), short.head()])
    assert verify_export(export, [SIGNER.public_key]).ok
    for place in range(len(export)):
        changed = export[:place] + bytes([export[place] ^ 1 << place % 6]) + export[place + 1:]
        assert not verify_export(changed).ok


@pytest.mark.parametrize("change", [
    lambda entries: entries.pop(), lambda entries: entries.pop(0), lambda entries: entries.append(entries[-1]),
    lambda entries: entries.reverse(), lambda entries: entries.insert(3, entries[2]), lambda entries: entries.clear(),
    lambda entries: entries[4]["body"].update(option="a"),
    lambda entries: entries[4].update(sequence="5"), lambda entries: entries.__setitem__(2, 7),
])
def test_an_exported_record_written_anew_with_other_entries_is_found(change: Any) -> None:
    value = json.loads(EXPORT)
    change(value["entries"])
    assert not verify_export(canonical(value)).ok


def test_an_export_whose_head_does_not_cover_everything_is_found() -> None:
    rows = [entry.canonical for entry in RECORD.entries]
    short = export_file(PROJECT, rows, [told(count=4).head()])
    assert verify_export(short).first_fault == "the newest signed head covers 4 entries, but 9 are here."
    assert verify_export(export_file(PROJECT, rows, [])).first_fault is not None


def test_an_export_with_a_change_of_keys_holds() -> None:
    record, heads = with_new_key()
    data = export_file(PROJECT, [entry.canonical for entry in record.entries], heads)
    assert verify_export(data, [SIGNER.public_key]).ok


@pytest.mark.parametrize("forge", [
    lambda receipt: dataclasses.replace(receipt, entry=receipt.entry | {"body": {"option": "a"}}),
    lambda receipt: dataclasses.replace(receipt, entry=receipt.entry | {"sequence": 6}),
    lambda receipt: dataclasses.replace(receipt, entry=receipt.entry | {"sequence": 0}),
    lambda receipt: dataclasses.replace(receipt, entry=receipt.entry | {"project": 4}),
    lambda receipt: dataclasses.replace(receipt, proof=receipt.proof[:-1]),
    lambda receipt: dataclasses.replace(receipt, proof=receipt.proof[::-1]),
    lambda receipt: dataclasses.replace(receipt, signed=told(4).head()),
    lambda receipt: dataclasses.replace(receipt, signed=told(count=8).head()),
    lambda receipt: dataclasses.replace(receipt, signed=dataclasses.replace(
        receipt.signed, public_key=SECOND_SIGNER.public_key)),
    lambda receipt: dataclasses.replace(receipt, signed=dataclasses.replace(
        receipt.signed, head=dataclasses.replace(receipt.signed.head, at="2026-11-05T09:00:02Z"))),
    lambda receipt: dataclasses.replace(receipt, entry=receipt.entry | {"body": {"cents": 2.0**70}}),
])
def test_a_receipt_put_together_from_other_parts_is_found(forge: Any) -> None:
    assert not verify_receipt(forge(RECEIPT).file).ok


def test_a_receipt_signed_anew_by_a_stranger_is_found_by_whoever_knows_the_key() -> None:
    stranger = Signer(b"\7" * 32)
    forged = dataclasses.replace(RECEIPT, signed=stranger.signed(RECEIPT.signed.head))
    assert verify_receipt(forged.file).ok
    assert verify_receipt(forged.file, [SIGNER.public_key]).first_fault == (
        f"the key {key_name(stranger.public_key)} is none of those that you trust."
    )


@pytest.mark.parametrize(("change", "field"), [
    ({"receipt": 2}, "receipt"), ({"proof": ["00"]}, "proof.0"), ({"proof": {}}, "proof"), ({"more": 1}, "more"),
    ({"signature": "A" * 128}, "signature"), ({"public_key": 5}, "public_key"), ({"head": {}}, "head.project"),
])
def test_a_field_that_is_not_as_it_should_be_is_named(change: dict[str, Any], field: str) -> None:
    with pytest.raises(Misshapen) as refused:
        parse_receipt(canonical(json.loads(RECEIPT.file) | change))
    assert refused.value.field == field


@pytest.mark.parametrize("data", [b"", b"[]", b"null", b"\xff", b"{", b"[" * 50_000])
def test_what_is_no_receipt_at_all_is_said(data: bytes) -> None:
    assert str(verify_receipt(data)).startswith("This does not hold: the receipt cannot be read: ")
    assert str(verify_export(data)).startswith("This does not hold: the record file cannot be read: ")


NO_WAY = "the proof does not lead from this entry to the root: entry, proof or head was changed."


@pytest.mark.parametrize(("change", "words"), [
    ({"project": 4}, "the entry is of project 4, the head of project 3."), ({"sequence": 6}, NO_WAY),
    ({"sequence": 0}, NO_WAY), ({"body": {"option": "a"}}, NO_WAY),
    ({"kind": "agreed"}, "the entry is of a kind that does not exist: 'agreed'."),
])
def test_what_stands_against_a_receipt_is_said_in_words(change: dict[str, Any], words: str) -> None:
    assert verify_receipt(dataclasses.replace(RECEIPT, entry=RECEIPT.entry | change).file).first_fault == words


def test_a_receipt_says_the_option_only_where_there_is_one_and_how_many_entries_there_were() -> None:
    said = verify_receipt(RECORD.receipt(1).file).sentences
    assert said[0] == "Entry 1 of project 3, 2026-11-02T14:00:00Z, by Ines Okafor: a decision was asked."
    alone = verify_receipt(told(count=1).receipt(1).file).sentences
    assert alone[1] == "It is in the record as it stood with 1 entry on 2026-11-05T09:00:01Z."


def test_a_head_that_is_not_signed_is_said_after_what_the_receipt_proves() -> None:
    unsigned = dataclasses.replace(RECEIPT.signed, signature="0" * 128)
    verdict = verify_receipt(dataclasses.replace(RECEIPT, signed=unsigned).file)
    assert len(verdict.sentences) == 2 and str(verdict.first_fault).startswith("the signature under the head is not by")
