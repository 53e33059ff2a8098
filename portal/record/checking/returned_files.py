"""The files that leave the house and may come back: a receipt, a record file, the homeowner's whole copy, a letter."""

from collections.abc import Collection

from portal.record.checking.copy_check import verify_copy
from portal.record.checking.verification import verify_export, verify_receipt
from portal.record.checking.zip_reading import read_zip
from portal.record.log.canonical import read
from portal.record.log.entry_kinds import KEY_LOST, ROTATED
from portal.record.log.heads import SignedHead, is_hex, key_name
from portal.record.log.strict_reading import Misshapen
from portal.record.papers.copy_paths import RECORD
from portal.record.papers.export import Export, parse_export
from portal.record.papers.head_line import heads_in_letter
from portal.record.papers.receipt import parse_receipt
from portal.record.verdict import Fault, Verdict
from portal.words.plurals import counted


def verify_file(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a file by what it is: a receipt, a record file or a copy. `trusted`: public keys in hex, none: any."""
    kind = _kind(data)
    if kind == "copy":
        return verify_copy(data, trusted)
    if kind == "receipt":
        return verify_receipt(data, trusted)
    if kind == "record":
        return verify_export(data, trusted)
    if kind == "letter":
        return _verify_letter(heads_in(data), trusted)
    return Verdict((), "the file is no receipt, record or copy of ours, or it was cut off.")


def heads_in(data: bytes) -> list[SignedHead]:
    """List the signed heads in a file, whatever it is; none in what can't be read. Raises nothing."""
    try:
        kind = _kind(data)
        if kind == "letter":
            return heads_in_letter(data)
        return [parse_receipt(data).signed] if kind == "receipt" else list(_export_in(data).heads)
    except (Misshapen, Fault):
        return []


def keys_in(data: bytes) -> set[str]:
    """Collect the public keys (hex) in a file: those that signed its heads, and those that its record changed. Raises
    nothing."""
    keys = {head.public_key for head in heads_in(data)}
    try:
        entries = [] if _kind(data) in ("receipt", "letter") else _export_in(data).entries
    except (Misshapen, Fault):
        return keys
    bodies = [entry.get("body") for entry in entries if entry.get("kind") in (ROTATED, KEY_LOST)]
    keys_changed = [body.get(name) for body in bodies if isinstance(body, dict) for name in ("old_key", "new_key")]
    return keys | {str(key) for key in keys_changed if is_hex(key, 64)}


def _verify_letter(heads: list[SignedHead], trusted: Collection[str]) -> Verdict:
    """That a letter's heads are signed, and what they say: how long the record was then."""
    said: list[str] = []
    for signed in heads:
        head, key = signed.head, signed.public_key
        if not signed.holds:
            return Verdict(tuple(said), f"the line over {head.size} entries is not signed with key {key_name(key)}: "
                                        "it was changed.")
        if trusted and key not in trusted:
            return Verdict(tuple(said), f"the key {key_name(key)} is none of those that you trust.")
        entries = counted(head.size, "entry", "entries")
        said.append(f"The record of project {head.project} had {entries} on {head.at}, signed with key "
                    f"{key_name(key)}. If it still begins with them is seen where it is: portal verify --held.")
    return Verdict(tuple(said))


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
        return "letter" if heads_in_letter(data) else ""
    return next((kind for kind in ("receipt", "record") if isinstance(value, dict) and kind in value), "")
