"""All files of a copy by their paths, and the copy as one zip whose bytes follow from the state alone."""

import hashlib
import io
import zipfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from portal.content import piece, pieces
from portal.pages.evidence.check_receipt_page import render_receipt_check
from portal.pages.evidence.handover_page import render_handover
from portal.pages.evidence.receipt_page import Around, render_receipt
from portal.pages.evidence.receipt_paper import receipt_sheet
from portal.pages.evidence.receipt_words import SHEETS
from portal.pages.evidence.record_page import render_record
from portal.pages.home.page import render_page
from portal.pages.outlook import outlook_of
from portal.pages.own_copy.copy_only_pages import copy_only_pages
from portal.pages.own_copy.decisions import decision_files
from portal.pages.own_copy.material import Material
from portal.pages.own_copy.offline import BY_HAND, CHECKING, offline
from portal.record.log.heads import Signer
from portal.record.log.withdrawals import taken_back_by
from portal.record.papers.copy_paths import (
    FORM_FILE,
    LIST,
    RECORD,
    SIGNATURE,
    paper_path,
    photo_path,
    receipt_path,
    wording_path,
)
from portal.record.papers.copy_seal import form_file
from portal.record.papers.file_list import file_list
from portal.store.reading.project_plan import schedule_of

_MADE = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip can say: when a file was packed is nobody's matter
_STORED = (".jpg",)  # compressed already


def copy_files(material: Material, photos: Callable[[str], Path], signer: Signer) -> dict[str, bytes]:
    """Make all files of a copy, by path. `photos`: where a file of a photo lies. Raises OSError where one is
    missing."""
    found: dict[str, bytes | str] = dict(_pages(material))
    found.update(decision_files(material))
    found.update({receipt_path(one.entry["sequence"]): one.file for one in material.receipts})
    found.update(_papers(material))
    found[RECORD] = material.record
    found[CHECKING] = render_receipt_check(material.snapshot.firm).encode()
    found[FORM_FILE] = form_file()
    found.update({wording_path(version): text.encode() for version, text in material.wordings.items()})
    for name in material.snapshot.photo_names:
        for file in (f"{name}-small.jpg", f"{name}-large.jpg"):
            found[photo_path(file)] = photos(file).read_bytes()
    as_of, paths = material.as_of_words, {*found, LIST, SIGNATURE}
    files = {
        path: data if isinstance(data, bytes) else offline(data, path, paths, as_of) for path, data in found.items()
    }
    return files | _listed(files, signer if material.receipts else None)


def _papers(material: Material) -> Iterator[tuple[str, bytes]]:
    """The receipts under which somebody's name stands, as sheets: the same bytes that their link gives."""
    from portal.drawings.writers.block_pdf import block_pdf  # here: the library for it is heavy, and few need it

    entries = [one.entry for one in material.receipts]
    for one in material.receipts:
        if one.entry["kind"] in SHEETS:
            back = taken_back_by(one.entry, entries) if one.entry["kind"] == "approved" else None
            yield paper_path(one.entry["sequence"]), block_pdf(receipt_sheet(material.snapshot, one, back))


def _listed(files: Mapping[str, bytes], signer: Signer | None) -> dict[str, bytes]:
    """The list of the files, and the signature under it where the record has a head that names the key."""
    listed = file_list({path: hashlib.sha256(data).hexdigest() for path, data in files.items()})
    return {LIST: listed} | ({SIGNATURE: bytes.fromhex(signer.signature(listed))} if signer else {})


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Pack the files in one zip, in the order of their paths: the same files always make the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, _MADE)
            entry.create_system = 3  # the same wherever it is made
            entry.external_attr = 0o644 << 16
            entry.compress_type = zipfile.ZIP_STORED if path.endswith(_STORED) else zipfile.ZIP_DEFLATED
            archive.writestr(entry, files[path], compresslevel=9)
    return out.getvalue()


def _pages(material: Material) -> Iterator[tuple[str, str]]:
    snapshot, now = material.snapshot, material.as_of
    schedule = schedule_of(snapshot, now)
    outlook = outlook_of(snapshot, schedule)
    yield "index.html", render_page(snapshot, schedule, now)
    yield "record/index.html", render_record(snapshot, material.entries, now)
    entries = [one.entry for one in material.receipts]
    for one in material.receipts:
        back = taken_back_by(one.entry, entries) if one.entry["kind"] == "approved" else None
        path = f"record/{one.entry['sequence']}/index.html"
        yield path, render_receipt(snapshot, one, Around(outlook, now, back))
    accepted = {one["body"]["handover"]: one["sequence"] for one in entries if one["kind"] == "handover_accepted"}
    for handover in snapshot.handovers:
        yield f"handovers/{handover.id}/index.html", render_handover(
            snapshot, handover, now, refusal="", typed={"item": "", "room": "", "name": ""}, once="", may_accept=False,
            receipt=accepted.get(handover.id),
        )
    checking = piece("guide", BY_HAND.removesuffix(".html"))
    assert checking is not None
    yield from copy_only_pages(material, pieces("care"), checking)
