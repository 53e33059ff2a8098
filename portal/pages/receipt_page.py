"""A receipt to read: the entry in words, what proves that it is in the record, and the file to keep."""

import hashlib
from collections.abc import Sequence
from typing import Any

from portal.pages.entry_words import entry_when, entry_words
from portal.pages.environment import render
from portal.pages.words import short_code
from portal.record.canonical import canonical
from portal.record.heads import SignedHead, key_name
from portal.store.facts import Snapshot

GUIDE = "/guide/check-the-record/"
_PLAIN = {None: "nothing", True: "yes", False: "no"}


def render_receipt(
    snapshot: Snapshot, entry: dict[str, Any], proof: Sequence[bytes], signed: SignedHead, guide: str = GUIDE
) -> str:
    """`guide` is the address of the page that says how to check it."""
    zone = snapshot.project.timezone
    code = hashlib.sha256(canonical(entry)).hexdigest()
    return render(
        "receipt.html", snapshot.firm,
        project=snapshot.project,
        sequence=entry["sequence"],
        who=entry["actor"]["name"],
        when=entry_when(entry, zone),
        what=entry_words(entry, zone),
        lines=list(_lines(entry["body"])),
        entry=entry,
        hash=code,
        code=short_code(code),
        proof=[made.hex() for made in proof],
        head=signed.head,
        head_when=entry_when({"at": signed.head.at}, zone),
        key=key_name(signed.public_key),
        public_key=signed.public_key,
        signature=signed.signature,
        guide=guide,
    )


def _lines(body: dict[str, Any]) -> list[tuple[str, str]]:
    """Every field of the entry, in its order in the file, as words."""
    return [(name.replace("_", " "), _value(value)) for name, value in sorted(body.items())]


def _value(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(map(_value, value)) or "nothing"
    if isinstance(value, dict):
        return "; ".join(f"{name} {inner}" for name, inner in _lines(value)) or "nothing"
    if value is None or isinstance(value, bool):
        return _PLAIN[value]
    return str(value)
