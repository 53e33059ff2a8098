"""A small homeowner's copy, put together by hand from the story in `chains`, to try every change on."""

import hashlib
import json

from portal.record.papers.export import export_file
from portal.record.papers.file_list import file_list
from tests.record.chains import MANAGER, MARTA, PROJECT, SIGNER, Record

Files = dict[str, bytes]

GUIDANCE, CONSENT = b"Measure twice.\n", b"You may go back to paper.\n"
PHOTO = b"\xff\xd8 a photo, as far as anybody here looks"
SHOWN = json.dumps({"guidance": hashlib.sha256(GUIDANCE).hexdigest(), "question": "Where?"}).encode()
LATER = b'{"guidance":null,"question":"Where now?"}'


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def story() -> Record:
    """Asked twice, agreed to and approved; handed over with two open items, of which one has a photo."""
    record = Record()
    asked = {"decision": 4, "revision": 1, "check_code": sha256(SHOWN)}
    record.add("2026-11-02T14:00:00Z", MANAGER, "asked", asked)
    record.add("2026-11-02T15:00:00Z", MANAGER, "revised", asked | {"revision": 2, "check_code": sha256(LATER)})
    record.add("2026-11-03T19:00:00Z", MARTA, "consent_given", {"wording": sha256(CONSENT)})
    record.add("2026-11-03T19:00:00Z", MARTA, "approved", {"decision": 4, "revision": 2, "option": "b"})
    item = {"item": "Scratch", "photo": "1f0c-large.jpg", "photo_sha256": sha256(PHOTO)}
    items = [item, {"item": "Seal the edge", "photo": None, "photo_sha256": None}]
    record.add("2026-11-05T09:00:00Z", MANAGER, "handed_over", {"handover": 1, "open": items})
    return record


def copy_files(record: Record) -> Files:
    """All files of the copy but the list of them."""
    rows = [entry.canonical for entry in record.entries]
    receipts = {f"record/{n}/receipt.json": record.receipt(n).file for n in range(1, len(rows) + 1)}
    heads = [record.head()] if rows else []
    return receipts | {
        "record/record.json": export_file(PROJECT, rows, heads),
        "decisions/4/shown-1.json": SHOWN, "decisions/4/shown-2.json": LATER,
        f"wording/{sha256(GUIDANCE)}.md": GUIDANCE, f"wording/{sha256(CONSENT)}.md": CONSENT,
        "photos/1f0c-large.jpg": PHOTO, "index.html": b"<h1>The house</h1>", "record/1/index.html": b"<h1>Entry 1</h1>",
        "decisions/4/revision-1-a.svg": b"<svg/>",
    }  # fmt: skip


def with_list(files: Files) -> Files:
    """With the list of the files, signed: as whoever holds the key would put them together."""
    listed = file_list({path: sha256(data) for path, data in files.items()})
    signature = bytes.fromhex(SIGNER.signature(listed))
    return files | {"record/files.sha256": listed, "record/files.signature": signature}
