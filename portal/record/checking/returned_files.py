"""The files that leave the house and may come back: a receipt, a record file, the homeowner's whole copy."""

from collections.abc import Collection

from portal.record.checking.copy_check import verify_copy
from portal.record.checking.verification import verify_export, verify_receipt
from portal.record.checking.zip_reading import read_zip
from portal.record.log.canonical import read
from portal.record.log.entry_kinds import ROTATED
from portal.record.log.heads import SignedHead, is_hex
from portal.record.log.strict_reading import Misshapen
from portal.record.papers.copy_paths import RECORD
from portal.record.papers.export import Export, parse_export
from portal.record.papers.receipt import parse_receipt
from portal.record.verdict import Fault, Verdict


def verify_file(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a file by what it is: a receipt, a record file or a copy. `trusted`: public keys in hex, none: any."""
    kind = _kind(data)
    if kind == "copy":
        return verify_copy(data, trusted)
    if kind == "receipt":
        return verify_receipt(data, trusted)
    if kind == "record":
        return verify_export(data, trusted)
    return Verdict((), "the file is no receipt, record or copy of ours, or it was cut off.")


def heads_in(data: bytes) -> list[SignedHead]:
    """List the signed heads in a file, whatever it is; none in what can't be read. Raises nothing."""
    try:
        return [parse_receipt(data).signed] if _kind(data) == "receipt" else list(_export_in(data).heads)
    except (Misshapen, Fault):
        return []


def keys_in(data: bytes) -> set[str]:
    """Collect the public keys (hex) in a file: those that signed its heads, and those that its record changed. Raises
    nothing."""
    keys = {head.public_key for head in heads_in(data)}
    try:
        entries = [] if _kind(data) == "receipt" else _export_in(data).entries
    except (Misshapen, Fault):
        return keys
    bodies = [entry.get("body") for entry in entries if entry.get("kind") == ROTATED]
    keys_changed = [body.get(name) for body in bodies if isinstance(body, dict) for name in ("old_key", "new_key")]
    return keys | {str(key) for key in keys_changed if is_hex(key, 64)}


def _export_in(data: bytes) -> Export:
    if _kind(data) == "copy":
        data = read_zip(data).files.get(RECORD, b"")
    return parse_export(data)


def _kind(data: bytes) -> str:
    if data[:2] == b"PK":
        return "copy"
    try:
        value = read(data)
    except ValueError:
        return ""
    return next((kind for kind in ("receipt", "record") if isinstance(value, dict) and kind in value), "")
