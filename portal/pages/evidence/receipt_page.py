"""A receipt to read: the entry in words, what proves that it is in the record, and the file to keep."""

import hashlib
from dataclasses import dataclass, replace
from typing import Any

from portal.pages.decision.decision_page import Option, options_of
from portal.pages.decision.failing import breaks_words
from portal.pages.environment import render
from portal.pages.evidence.entry_words import entry_when, entry_words
from portal.pages.signers import signer_words
from portal.record.log.canonical import canonical
from portal.record.log.heads import key_name
from portal.record.papers.receipt import Receipt
from portal.store.facts import Snapshot
from portal.words.codes import short_code

_GUIDE = "/guide/check-the-record/"
_PLAIN = {None: "nothing", True: "yes", False: "no"}


@dataclass(frozen=True, slots=True)
class Told:
    """What an entry about a decision says to people: `option` is what was approved, as it was shown."""

    number: int
    question: str
    option: Option | None
    by: str


def render_receipt(
    snapshot: Snapshot, receipt: Receipt, taken_back: dict[str, Any] | None = None, taking_back: str = ""
) -> str:
    """Render a receipt. `taken_back`: the entry that took back the approval it is of; None while it counts, and then
    `taking_back` says until when it can be."""
    entry, signed, zone = receipt.entry, receipt.signed, snapshot.project.timezone
    code = hashlib.sha256(canonical(entry)).hexdigest()
    return render(
        "receipt.html", snapshot.firm,
        project=snapshot.project,
        sequence=entry["sequence"],
        who=entry["actor"]["name"],
        when=entry_when(entry, zone),
        what=entry_words(entry, zone),
        told=_told(snapshot, entry),
        fails=_fails(entry),
        taken_back=taken_back and (taken_back["sequence"], _taken_back(taken_back, zone)),
        taking_back="" if taken_back else taking_back,
        lines=list(_lines(entry["body"])),
        entry=entry,
        hash=code,
        code=short_code(code),
        proof=[made.hex() for made in receipt.proof],
        head=signed.head,
        head_when=entry_when({"at": signed.head.at}, zone),
        key=key_name(signed.public_key),
        public_key=signed.public_key,
        signature=signed.signature,
        guide=_GUIDE,
    )


def _told(snapshot: Snapshot, entry: dict[str, Any]) -> Told | None:
    body = entry["body"]
    decision = next((one for one in snapshot.decisions if one.number == body.get("decision")), None)
    if decision is None:
        return None
    same = entry["kind"] == "approved" and decision.revision == body["revision"]
    option = next((one for one in options_of(decision) if one.key == body["option"]), None) if same else None
    by = signer_words(entry["actor"]["name"], body["name"]).rstrip(",") if same and not body.get("on_paper") else ""
    return Told(decision.number, decision.question, option and replace(option, recommended=False), by)


def _fails(entry: dict[str, Any]) -> list[str]:
    """That what was approved breaks a rule, as the entry tells it."""
    body = entry["body"]
    if entry["kind"] != "approved" or not body.get("failed"):
        return []
    return [f"“{body['title']}” {breaks_words(body['failed'], body.get('despite'))}"]


def _taken_back(entry: dict[str, Any], zone: str) -> str:
    return f"This approval no longer counts: {entry['actor']['name']} took it back on {entry_when(entry, zone)}."


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
