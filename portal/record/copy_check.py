"""Whether a homeowner's own copy is whole: its record holds, each receipt belongs to it, and so does what was shown.

In the copy lie `record/record.json`, for each entry `record/<sequence>/receipt.json`, and for each revision what was
shown: `decisions/<number>/shown-<revision>.json`, canonical JSON whose SHA-256 is the check code.
"""

import hashlib
import io
import re
import zipfile
import zlib
from collections.abc import Collection
from typing import Any

from portal.record.canonical import canonical
from portal.record.export import Export, parse_export
from portal.record.receipt import parse_receipt
from portal.record.verdict import Fault, Verdict
from portal.record.verification import verify_export, verify_receipt

RECORD = "record/record.json"
_SHOWN = re.compile(r"decisions/([0-9]+)/shown-([0-9]+)\.json")

Files = dict[str, bytes]


def receipt_path(sequence: int) -> str:
    return f"record/{sequence}/receipt.json"


def shown_path(decision: int, revision: int) -> str:
    return f"decisions/{decision}/shown-{revision}.json"


def verify_copy(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a copy, the bytes of its zip file."""
    said: list[str] = []
    try:
        files = _files(data)
        said.append(f"All {len(files)} files of the copy are whole.")
        verdict = verify_export(files[RECORD], trusted)
        said.extend(verdict.sentences)
        if verdict.first_fault:
            raise Fault(verdict.first_fault)
        export = parse_export(files[RECORD])
        said.append(_of_receipts(export, files))
        said.append(_of_shown(export, files))
    except Fault as fault:
        return Verdict(tuple(said), str(fault))
    return Verdict(tuple(said))


def _files(data: bytes) -> Files:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = archive.namelist()
            if len(set(names)) != len(names):
                raise Fault("a file is in the copy twice.")
            files = {name: archive.read(name) for name in names}
    # `zipfile` raises the last two for a changed byte that asks for a compression it lacks, or for a password.
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError) as wrong:
        raise Fault(f"the copy was cut off or changed: {wrong}") from None
    if RECORD not in files:
        raise Fault(f"{RECORD} is missing in the copy.")
    return files


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
    return f"Each of the {len(export.entries)} receipts proves its entry."


def _of_shown(export: Export, files: Files) -> str:
    codes = _codes(export.entries)
    for (decision, revision), code in codes.items():
        name = shown_path(decision, revision)
        if name not in files:
            raise Fault(f"what was shown as revision {revision} of decision {decision} is missing in the copy.")
        if hashlib.sha256(files[name]).hexdigest() != code:
            raise Fault(f"{name} is not what was shown: it does not have the check code of the record.")
    more = {(int(found[1]), int(found[2])) for found in map(_SHOWN.fullmatch, files) if found} - set(codes)
    if more:
        raise Fault(f"{shown_path(*min(more))} was never asked, as the record tells.")
    return f"What was shown in each of the {len(codes)} questions has the check code of the record."


def _codes(entries: Collection[dict[str, Any]]) -> dict[tuple[int, int], str]:
    return {
        (entry["body"]["decision"], entry["body"]["revision"]): entry["body"]["check_code"]
        for entry in entries
        if entry["kind"] in ("asked", "revised")
    }
