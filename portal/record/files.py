"""The files that leave the house and may come back: a receipt, a record file, the homeowner's whole copy."""

import io
import zipfile
import zlib
from collections.abc import Collection

from portal.record.canonical import read
from portal.record.copy_check import RECORD, verify_copy
from portal.record.export import parse_export
from portal.record.heads import SignedHead
from portal.record.receipt import parse_receipt
from portal.record.shape import Misshapen
from portal.record.verdict import Verdict
from portal.record.verification import verify_export, verify_receipt


def verify_file(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a file by what it is. `trusted` are public keys in hex."""
    kind = _kind(data)
    if kind == "copy":
        return verify_copy(data, trusted)
    if kind == "receipt":
        return verify_receipt(data, trusted)
    if kind == "record":
        return verify_export(data, trusted)
    return Verdict((), "the file is no receipt, record or copy of ours, or it was cut off.")

def heads_in(data: bytes) -> list[SignedHead]:
    """The signed heads in a file, whatever it is; none in what can't be read. Raises nothing."""
    kind = _kind(data)
    try:
        if kind == "receipt":
            return [parse_receipt(data).signed]
        if kind == "copy":
            with zipfile.ZipFile(io.BytesIO(data)) as archive:
                data = archive.read(RECORD)
        return list(parse_export(data).heads)
    except (Misshapen, KeyError, zipfile.BadZipFile, zlib.error):
        return []

def _kind(data: bytes) -> str:
    if data[:2] == b"PK":
        return "copy"
    try:
        value = read(data)
    except ValueError:
        return ""
    return next((kind for kind in ("receipt", "record") if isinstance(value, dict) and kind in value), "")
