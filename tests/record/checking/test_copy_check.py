"""A homeowner's copy holds as it was put together, and whatever is changed, added or taken out is said in words."""

from collections.abc import Callable

import pytest

from portal.pages.own_copy.files import zipped
from portal.record.checking.copy_check import verify_copy
from portal.record.log.heads import key_name
from portal.record.papers.export import export_file
from tests.record.chains import PROJECT, SECOND_SIGNER, SIGNER, Record, told
from tests.record.copies import (
    CONSENT,
    GUIDANCE,
    PHOTO,
    SHOWN,
    Files,
    copy_files,
    sha256,
    story,
    with_list,
)

RECORD = story()
FILES = copy_files(RECORD)
WHOLE = with_list(FILES)
WHEN = "from 2026-11-02T14:00:00Z to 2026-11-05T09:00:00Z"


def fault(files: Files, trusted: list[str] | None = None) -> str:
    return verify_copy(zipped(files), trusted or []).first_fault or ""


def without(*paths: str) -> Files:
    return {path: data for path, data in FILES.items() if path not in paths}


def test_a_whole_copy_holds_and_says_what_was_checked() -> None:
    verdict = verify_copy(zipped(WHOLE), [SIGNER.public_key])
    assert verdict.ok
    assert verdict.sentences == (
        f"All {len(WHOLE)} files of the copy are whole.",
        f"The record of project 3 has 5 entries, {WHEN}. Each is unchanged and follows the one before.",
        "1 signed head fits the entries; the newest covers all 5 entries.",
        f"The head is signed with key {key_name(SIGNER.public_key)}, as you expected.",
        "Each of the 5 receipts proves its entry.",
        "What was shown in each of the 2 questions has the check code of the record.",
        "Each of the 2 versions of guidance and consent has the hash that it is named by.",
        "The photo of what was open has the hash of the record.",
        "Pages, drawings and photos are those that were put into the copy: the list of its files is signed.",
        "The zip is laid out as ours was, with nothing before, between or after its files.",
    )


def test_a_copy_of_a_record_without_entries_has_a_list_but_nobodys_signature() -> None:
    empty = {path: data for path, data in copy_files(Record()).items() if not path.startswith(("decisions", "wording"))}
    verdict = verify_copy(zipped(with_list(empty)))
    assert verdict.ok
    assert verdict.sentences[-2] == (
        "Pages, drawings and photos are those of its list, which is not signed while the record has no entries."
    )
    assert not any("photo of" in said or "guidance" in said for said in verdict.sentences)


def test_a_key_that_is_none_of_those_trusted_is_said() -> None:
    assert fault(WHOLE, [SECOND_SIGNER.public_key]) == (
        f"the key {key_name(SIGNER.public_key)} is none of those that you trust."
    )


@pytest.mark.parametrize(("gone", "words"), [
    ("record/record.json", "record/record.json is missing in the copy."),
    ("record/2/receipt.json", "the receipt of entry 2 is missing in the copy."),
    ("decisions/4/shown-1.json", "what was shown as revision 1 of decision 4 is missing in the copy."),
    (f"wording/{sha256(GUIDANCE)}.md", f"the words that were shown as version {sha256(GUIDANCE)[:12]} are missing."),
    (f"wording/{sha256(CONSENT)}.md", f"the words that were shown as version {sha256(CONSENT)[:12]} are missing."),
    ("photos/1f0c-large.jpg", "photos/1f0c-large.jpg is missing in the copy: the record lists it with a hand-over."),
])
def test_what_proves_something_is_missed_even_by_a_list_made_anew(gone: str, words: str) -> None:
    assert fault(with_list(without(gone))) == words


def test_a_copy_without_its_list_or_the_signature_under_it_is_not_whole() -> None:
    assert fault(FILES) == "record/files.sha256 is missing in the copy."
    bare = {path: data for path, data in WHOLE.items() if path != "record/files.signature"}
    words = "the list of files is not signed with the key of the record, or it was changed."
    assert fault(bare) == words
    stranger = bytes.fromhex(SECOND_SIGNER.signature(WHOLE["record/files.sha256"]))
    assert fault(WHOLE | {"record/files.signature": stranger}) == words


@pytest.mark.parametrize(("path", "words"), [
    ("index.html", "index.html was changed: it no longer has the hash that the list of files says."),
    ("record/1/index.html", "record/1/index.html was changed: it no longer has the hash that the list of files says."),
    ("decisions/4/revision-1-a.svg",
     "decisions/4/revision-1-a.svg was changed: it no longer has the hash that the list of files says."),
    ("decisions/4/shown-1.json",
     "decisions/4/shown-1.json is not what was shown: it does not have the check code of the record."),
    (f"wording/{sha256(CONSENT)}.md",
     f"the words that were shown as version {sha256(CONSENT)[:12]} were changed: they have another hash."),
    ("photos/1f0c-large.jpg",
     "photos/1f0c-large.jpg is not the photo that was handed over: it does not have the hash of the record."),
])
def test_whatever_is_changed_is_named(path: str, words: str) -> None:
    assert fault(WHOLE | {path: WHOLE[path] + b" "}) == words


@pytest.mark.parametrize("path", sorted(WHOLE))
def test_no_file_can_be_changed_or_taken_out(path: str) -> None:
    assert fault(WHOLE | {path: WHOLE[path][:-1] + bytes([WHOLE[path][-1] ^ 1])})
    assert fault({name: data for name, data in WHOLE.items() if name != path})


@pytest.mark.parametrize("path", ["note.html", "record/6/receipt.json", "photos/other.jpg"])
def test_a_file_that_was_added_is_named(path: str) -> None:
    assert fault(WHOLE | {path: b"more"}) == f"{path!r} was added to the copy: it is not in the list of its files."


def test_a_question_that_was_never_asked_is_named_the_first_of_them_first() -> None:
    more = FILES | {"decisions/9/shown-1.json": b"{}", "decisions/4/shown-3.json": b"{}"}
    assert fault(with_list(more)) == "decisions/4/shown-3.json was never asked, as the record tells."


@pytest.mark.parametrize("swap", [
    lambda files: files | {"record/2/receipt.json": files["record/1/receipt.json"]},
    lambda files: files | {"record/1/receipt.json": told().receipt(1).file},
    lambda files: files | {"record/1/receipt.json": RECORD.receipt(1, "2026-11-05T09:00:09Z").file},
])
def test_a_receipt_of_another_entry_record_or_head_is_found(swap: Callable[[Files], Files]) -> None:
    number = 2 if swap(FILES)["record/2/receipt.json"] != FILES["record/2/receipt.json"] else 1
    words = f"record/{number}/receipt.json is not the receipt of entry {number} of this record."
    assert fault(with_list(swap(FILES))) == words


def test_a_receipt_that_holds_no_more_is_said_with_its_own_fault() -> None:
    broken = FILES | {"record/3/receipt.json": b"{}"}
    assert fault(with_list(broken)).startswith("record/3/receipt.json: the receipt cannot be read: receipt: is missing")


def test_a_record_whose_head_does_not_cover_it_is_said_before_anything_of_the_rest() -> None:
    rows = [entry.canonical for entry in RECORD.entries]
    early = Record()
    for entry in RECORD.entries[:4]:
        early.add(entry.at, entry.actor, entry.kind, entry.body)
    short = FILES | {"record/record.json": export_file(PROJECT, rows, [early.head()])}
    assert fault(with_list(short)) == "the newest signed head covers 4 entries, but 5 are here."


@pytest.mark.parametrize("body", [
    {"decision": "4", "revision": 1, "check_code": sha256(SHOWN)}, {"decision": 4, "check_code": sha256(SHOWN)},
    {"decision": 4, "revision": True, "check_code": sha256(SHOWN)}, {"decision": 4, "revision": 1, "check_code": None},
])
def test_an_entry_that_does_not_say_what_was_asked_is_named(body: dict[str, object]) -> None:
    record = story()
    record.add("2026-11-06T09:00:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "revised", body)
    assert fault(with_list(copy_files(record))) == (
        "entry 6 does not say which revision of which decision was asked."
    )


def test_photos_without_a_kept_hash_and_open_items_of_an_earlier_version_are_let_pass() -> None:
    record = story()
    items = ["Paint the door", {"item": "Old", "photo": "old-large.jpg"}, {"item": "None", "photo": None}]
    record.add("2026-11-06T09:00:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "handed_over", {"open": items})
    added = {"item": "New", "photo": "new-large.jpg", "photo_sha256": sha256(PHOTO)}
    record.add("2026-11-06T09:01:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "item_added", added)
    verdict = verify_copy(zipped(with_list(copy_files(record) | {"photos/new-large.jpg": PHOTO})))
    assert verdict.ok and "Each of the 2 photos of what was open has the hash of the record." in verdict.sentences


def test_what_is_no_zip_is_said() -> None:
    assert (verify_copy(b"PK").first_fault or "").startswith("the copy was cut off or changed: ")
