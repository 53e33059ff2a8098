"""The homeowner's own copy, put together from the store and the photos, and checked before anyone gets it."""

import os
from functools import partial
from pathlib import Path

from portal.acts.keeping.own_keys import signer as signer_of
from portal.acts.keeping.receipts import every_receipt, record_file
from portal.pages.own_copy.files import copy_files, zipped
from portal.pages.own_copy.material import Material
from portal.record.checking.copy_check import verify_copy
from portal.record.checking.wording_check import versions_named
from portal.record.log.heads import Signer
from portal.record.papers.copy_seal import sealed
from portal.settings import Settings
from portal.store.engine.database import read
from portal.store.reading import record_facts
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import Refused
from portal.store.rows import record_rows
from portal.store.rows.wording_rows import wordings


class CopyDoesNotHold(Refused):
    """What was put together does not pass the check that its reader would make."""

    status = 500
    sentence = "The copy does not pass its own check, so it is not handed out. Please call the office. ({fault})"


class PhotoMissing(Refused):
    """A photo of an update is not where photos lie."""

    status = 500
    sentence = "A photo is missing, so the copy would not be whole. Please call the office. ({file})"


def own_copy(project_id: int, settings: Settings, now: int) -> bytes:
    """Make a project's copy, the bytes of a zip, and check it. `now`: whole seconds. Raises NotFound, PhotoMissing,
    CopyDoesNotHold."""
    photos = partial(settings.photo_file, project_id)
    signer = signer_of(settings)
    try:
        packed = material(project_id, signer, now)
        data = sealed(zipped(copy_files(packed, photos, signer)), signer if packed.receipts else None)
    except FileNotFoundError as error:
        raise PhotoMissing(file=Path(error.filename).name) from error
    verdict = verify_copy(data)
    if verdict.first_fault:
        raise CopyDoesNotHold(fault=verdict.first_fault)
    return data


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all, for its owner alone, and stays after a power loss."""
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def material(project_id: int, signer: Signer, now: int) -> Material:
    with read():
        snapshot = read_snapshot(project_id)
        receipts = every_receipt(project_id, signer)
        entries, revisions = list(record_rows.every(project_id)), record_facts.shown_revisions(project_id)
        named = versions_named((one.entry for one in receipts), (one.shown for one in revisions))
        return Material(
            snapshot=snapshot,
            entries=entries,
            receipts=receipts,
            revisions=revisions,
            wordings=wordings(named),
            record=record_file(project_id, signer),
            now=now,
        )
