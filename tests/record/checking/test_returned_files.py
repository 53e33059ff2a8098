"""Whatever file comes back is checked by what it is, and gives the heads and keys in it without a complaint."""

import pytest

from portal.pages.own_copy.files import zipped
from portal.record.checking.returned_files import heads_in, keys_in, verify_file
from portal.record.log.canonical import canonical, read
from portal.record.papers.export import export_file
from tests.record.chains import PROJECT, SECOND_SIGNER, SIGNER, told, with_new_key
from tests.record.copies import copy_files, story, with_list

RECORD = told()
RECEIPT = RECORD.receipt(5).file
EXPORT = export_file(PROJECT, [entry.canonical for entry in RECORD.entries], [told(count=4).head(), RECORD.head()])
COPY = zipped(with_list(copy_files(story())))


def exported_with_new_key() -> bytes:
    record, heads = with_new_key()
    return export_file(PROJECT, [entry.canonical for entry in record.entries], heads)


@pytest.mark.parametrize(("data", "words"), [
    (RECEIPT, "Entry 5 of project 3"), (EXPORT, "The record of project 3 has 9 entries"),
    (COPY, "files of the copy are"),
])
def test_each_file_is_checked_by_what_it_is(data: bytes, words: str) -> None:
    verdict = verify_file(data, [SIGNER.public_key])
    assert verdict.ok and words in verdict.sentences[0]
    assert "none of those that you trust" in str(verify_file(data, [SECOND_SIGNER.public_key]))


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b'"receipt"', b"not JSON", b'{"other":1}', RECEIPT[:-1], b"\xff"])
def test_what_is_none_of_ours_is_said(data: bytes) -> None:
    verdict = verify_file(data)
    assert verdict.sentences == () and verdict.first_fault == (
        "the file is no receipt, record or copy of ours, or it was cut off."
    )
    assert heads_in(data) == [] and keys_in(data) == set()


def test_a_file_of_ours_that_was_changed_is_checked_as_what_it_says_that_it_is() -> None:
    assert str(verify_file(canonical({"receipt": 1}))).startswith("This does not hold: the receipt cannot be read: ")
    assert str(verify_file(canonical({"record": 1}))).startswith("This does not hold: the record file cannot be read: ")
    assert str(verify_file(b"PK")).startswith("This does not hold: the copy was cut off or changed: ")
    for data in (canonical({"receipt": 1}), canonical({"record": 1}), b"PK", zipped({"index.html": b""})):
        assert heads_in(data) == [] and keys_in(data) == set()


def test_the_heads_in_a_file_are_all_of_them() -> None:
    assert heads_in(RECEIPT) == [RECORD.head()]
    assert heads_in(EXPORT) == [told(count=4).head(), RECORD.head()]
    assert heads_in(COPY) == [story().head()]


def test_the_keys_in_a_file_are_those_that_signed_and_those_that_were_changed() -> None:
    both = {SIGNER.public_key, SECOND_SIGNER.public_key}
    assert keys_in(RECEIPT) == keys_in(EXPORT) == keys_in(COPY) == {SIGNER.public_key}
    assert keys_in(exported_with_new_key()) == both
    record, _ = with_new_key()
    assert keys_in(export_file(PROJECT, [entry.canonical for entry in record.entries], [])) == both
    assert keys_in(record.receipt(5, signer=SECOND_SIGNER).file) == {SECOND_SIGNER.public_key}


def test_a_change_of_keys_that_is_none_gives_no_keys() -> None:
    value = read(exported_with_new_key())
    for body in ({"old_key": "x", "new_key": 5}, {}, [], "x"):
        value["entries"][4]["body"] = body
        value["heads"] = []
        assert keys_in(canonical(value)) == set()
