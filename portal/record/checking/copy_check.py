"""Whether a homeowner's own copy is whole: its record holds, each receipt belongs to it, and so does what was shown.

In the copy lie, at the places that `papers.copy_paths` names, the record, a receipt for each entry, what was shown for
each revision, the guidance that was shown beside it and the words of consent; the photos of what was open at a
hand-over, whose hashes the record tells; and the signed list of all files (`papers.file_list`), so that no page,
drawing or photo can be changed, added or taken out. Around all of it is a seal (`papers.copy_seal`), so that no byte of
the zip can.
"""

import hashlib
from collections.abc import Collection, Mapping
from typing import Any

from portal.record.checking.facts_in_entries import items_of
from portal.record.checking.verification import verify_export, verify_receipt
from portal.record.checking.wording_check import check_wordings, versions_named
from portal.record.checking.zip_layout import check_layout
from portal.record.checking.zip_reading import ZipContents, read_zip
from portal.record.log.canonical import canonical
from portal.record.papers.copy_paths import (
    FORM_FILE,
    LIST,
    RECORD,
    SIGNATURE,
    photo_path,
    receipt_path,
    shown_at,
    shown_path,
    wording_path,
)
from portal.record.papers.copy_seal import check_seal, form_in
from portal.record.papers.export import Export, parse_export
from portal.record.papers.file_list import check_list, check_list_signature
from portal.record.papers.receipt import parse_receipt
from portal.record.verdict import Fault, Verdict
from portal.words.capitals import first_upper
from portal.words.plurals import all_of, each_of, plural

Files = Mapping[str, bytes]


def verify_copy(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a copy, the bytes of its zip file.

    `trusted`: public keys in hex, one of which has to be in force; none: any.
    """
    said: list[str] = []
    try:
        contents = read_zip(data)
        _check_present(contents)
        count = len(contents.hashes)
        said.append(f"{first_upper(all_of(count, 'file'))} of the copy {plural(count, 'is', 'are')} whole.")
        verdict = verify_export(contents.files[RECORD], trusted)
        said.extend(verdict.sentences)
        if verdict.first_fault:
            raise Fault(verdict.first_fault)
        export = parse_export(contents.files[RECORD])
        said.append(_of_receipts(export, contents.files))
        said.append(_of_shown(export, contents.files))
        said.extend(_of_wordings(export, contents))
        said.extend(_of_photos(export, contents))
        said.append(_of_list(export, contents))
        said.append(_of_zip(data, export, contents))
    except Fault as fault:
        return Verdict(tuple(said), str(fault))
    return Verdict(tuple(said))


def _check_present(contents: ZipContents) -> None:
    for name in (RECORD, LIST):
        if name not in contents.files:
            raise Fault(f"{name} is missing in the copy.")


def _of_list(export: Export, contents: ZipContents) -> str:
    """A copy of a record without entries has no head, so nobody's key to check the list with."""
    check_list(contents.hashes, contents.files[LIST])
    if not export.heads:
        return "Pages, drawings and photos are those of its list, which is not signed while the record has no entries."
    check_list_signature(contents.files[LIST], contents.files.get(SIGNATURE, b""), export.heads[-1].public_key)
    return "Pages, drawings and photos are those that were put into the copy: the list of its files is signed."


def _of_zip(data: bytes, export: Export, contents: ZipContents) -> str:
    """Last, since the files may all be ours in a zip that somebody packed anew."""
    if form_in(contents.files.get(FORM_FILE)) == 1:
        check_layout(data)
        return "The zip is laid out as ours was, with nothing before, between or after its files."
    check_seal(data, export.heads[-1].public_key if export.heads else None)
    return "Every byte of the zip is the one that was handed out."


def _of_receipts(export: Export, files: Files) -> str:
    head = export.heads[-1].content if export.heads else None
    for sequence, entry in enumerate(export.entries, 1):
        name = receipt_path(sequence)
        if name not in files:
            raise Fault(f"the receipt of entry {sequence} is missing in the copy.")
        verdict = verify_receipt(files[name])
        if verdict.first_fault:
            raise Fault(f"{name}: {verdict.first_fault}")
        receipt = parse_receipt(files[name])
        if canonical(receipt.entry) != canonical(entry) or receipt.signed.content != head:
            raise Fault(f"{name} is not the receipt of entry {sequence} of this record.")
    return f"{first_upper(each_of(len(export.entries), 'receipt'))} proves its entry."


def _of_shown(export: Export, files: Files) -> str:
    codes = _codes(export.entries)
    for (decision, revision), code in codes.items():
        name = shown_path(decision, revision)
        if name not in files:
            raise Fault(f"what was shown as revision {revision} of decision {decision} is missing in the copy.")
        if hashlib.sha256(files[name]).hexdigest() != code:
            raise Fault(f"{name} is not what was shown: it does not have the check code of the record.")
    more = set(filter(None, map(shown_at, files))) - set(codes)
    if more:
        raise Fault(f"{shown_path(*min(more))} was never asked, as the record tells.")
    return f"What was shown in {each_of(len(codes), 'question')} has the check code of the record."


def _of_wordings(export: Export, contents: ZipContents) -> list[str]:
    shown = [data for path, data in contents.files.items() if shown_at(path)]
    named = versions_named(export.entries, shown)
    paths = {version: wording_path(version) for version in named}
    return check_wordings(named, {one: contents.hashes[path] for one, path in paths.items() if path in contents.hashes})


def _of_photos(export: Export, contents: ZipContents) -> list[str]:
    """Photos of what was still open at a hand-over: the record tells their hashes."""
    listed = [one for entry in export.entries for one in items_of(entry) if isinstance(one, dict)]
    told = {photo_path(one["photo"]): one.get("photo_sha256") for one in listed if one.get("photo")}
    told = {path: code for path, code in told.items() if code is not None}
    for path, code in told.items():
        if path not in contents.hashes:
            raise Fault(f"{path} is missing in the copy: the record lists it with a hand-over.")
        if contents.hashes[path] != code:
            raise Fault(f"{path} is not the photo that was handed over: it does not have the hash of the record.")
    return [f"{first_upper(each_of(len(told), 'photo'))} of what was open has the hash of the record."] if told else []


def _codes(entries: Collection[dict[str, Any]]) -> dict[tuple[int, int], str]:
    told = {}
    for entry in entries:
        if entry["kind"] in ("asked", "revised"):
            decision, revision, code = (entry["body"].get(name) for name in ("decision", "revision", "check_code"))
            if type(decision) is not int or type(revision) is not int or not isinstance(code, str):
                raise Fault(f"entry {entry['sequence']} does not say which revision of which decision was asked.")
            told[decision, revision] = code
    return told
