"""A receipt to read: who agreed to what, when, and the code; the next question; and folded, what proves it."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from portal.pages.decision.decision_page import Option, options_of
from portal.pages.decision.failing import breaks_words
from portal.pages.decision.taking_back import may_take_back, taking_back_on_receipt
from portal.pages.environment import render
from portal.pages.evidence.entry_words import entry_when, entry_words
from portal.pages.evidence.next_steps import NextQuestion, next_question, next_words
from portal.pages.evidence.receipt_words import SHEETS, Then, decision_of, is_current, kept_of
from portal.pages.outlook import Outlook
from portal.pages.title_block import total_words
from portal.record.log.canonical import canonical
from portal.record.log.heads import key_name
from portal.record.papers.receipt import Receipt
from portal.store.facts import DecisionFact, PersonFact, Snapshot
from portal.words.dates import dated_words, local
from portal.words.plurals import counted

_GUIDE = "../../guide/check-the-record/"
CHECKING = "/check/receipt/"
"""Where a receipt is checked in the browser: the page that each own copy has, too."""
_PLAIN = {None: "nothing", True: "yes", False: "no"}


@dataclass(frozen=True, slots=True)
class Around:
    """What a receipt is read with. `taken_back`: the entry that took back the approval it is of, None while it counts.
    `outlook`, `now`: what comes next, said while it stands. `reader`: whose link it is; None in the own copy, where
    nothing is asked. `told`: who got a copy, in sentences."""

    outlook: Outlook
    now: int
    taken_back: dict[str, Any] | None = None
    reader: PersonFact | None = None
    told: Sequence[str] = ()


def render_receipt(snapshot: Snapshot, receipt: Receipt, around: Around) -> str:
    entry, signed, zone = receipt.entry, receipt.signed, snapshot.project.timezone
    back, today = around.taken_back, local(around.now, zone).date()
    decision = decision_of(snapshot, entry)
    code = hashlib.sha256(canonical(entry)).hexdigest()
    return render(
        "receipt.html", snapshot.firm,
        project=snapshot.project,
        kept=kept_of(snapshot, entry, taken_back=back is not None, then=_then(snapshot, entry, around)),
        decision=decision,
        sequence=entry["sequence"],
        is_sheet=entry["kind"] in SHEETS,
        fails=_fails(entry),
        back=back and (back["sequence"], f"{back['actor']['name']} took it back on {entry_when(back, zone)}."),
        taking_back="" if back else taking_back_on_receipt(snapshot, around.outlook, entry, today),
        may_take_back=bool(not back and decision and around.reader and is_current(decision, entry)
                           and may_take_back(snapshot, decision, around.reader.id)),
        shown=_shown(decision, entry),
        next=_next(snapshot, entry, around),
        nothing_left=around.reader is not None and around.reader.is_owner,
        told=around.told,
        here=around.reader is not None,
        what=f"{entry['actor']['name']} {entry_words(entry, zone)}.",
        when=entry_when(entry, zone),
        lines=list(_lines(entry["body"])),
        entry=entry,
        hash=code,
        proof=[made.hex() for made in receipt.proof],
        head=signed.head,
        head_when=entry_when({"at": signed.head.at}, zone),
        key=key_name(signed.public_key),
        public_key=signed.public_key,
        signature=signed.signature,
        guide=_GUIDE,
        checking=CHECKING,
    )


def _then(snapshot: Snapshot, entry: dict[str, Any], around: Around) -> Then:
    """What it comes to now, while it stands; of the newest approval also the whole price and the finish, which an older
    one did not bring about."""
    decision = decision_of(snapshot, entry)
    if around.taken_back or around.reader is None or decision is None or not is_current(decision, entry):
        return Then()
    coming = next_words(snapshot, around.outlook, decision, around.now)
    if decision.state != "approved" or not _is_newest(snapshot, decision):
        return Then(next=coming)
    finish, today = around.outlook.finish, local(around.now, snapshot.project.timezone).date()
    option = decision.option(entry["body"]["option"]) or {}
    return Then(total_words(snapshot, decision, option), dated_words(finish, today) if finish else "", coming)


def _is_newest(snapshot: Snapshot, decision: DecisionFact) -> bool:
    last = max((approval.at for one in snapshot.decisions for approval in one.approvals), default=0)
    return any(approval.at == last for approval in decision.approvals)


def _next(snapshot: Snapshot, entry: dict[str, Any], around: Around) -> NextQuestion | None:
    if around.reader is None:
        return None
    return next_question(snapshot, around.outlook, around.reader, local(around.now, snapshot.project.timezone).date())


def _shown(decision: DecisionFact | None, entry: dict[str, Any]) -> Option | None:
    """What was approved, as it was shown; of an earlier revision nothing, as it is not at hand."""
    if decision is None or not is_current(decision, entry):
        return None
    option = next((one for one in options_of(decision) if one.key == entry["body"]["option"]), None)
    return option and replace(option, recommended=False)


def _fails(entry: dict[str, Any]) -> list[str]:
    """That what was approved breaks a rule, as the entry tells it."""
    body = entry["body"]
    if entry["kind"] != "approved" or not body.get("failed"):
        return []
    return [f"“{body['title']}” {breaks_words(body['failed'], body.get('despite'))}"]


def _lines(body: dict[str, Any]) -> list[tuple[str, str]]:
    """Every field of the entry, in its order in the file, as words."""
    said = {name: _value(value) for name, value in body.items() if name not in ("rows", "all_rows")}
    if body.get("rows"):
        said["rows"] = f"{counted(sum(map(len, body['rows'].values())), 'row')} of our tables, as the file lists them"
    return [(name.replace("_", " "), value) for name, value in sorted(said.items())]


def _value(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(map(_value, value)) or "nothing"
    if isinstance(value, dict):
        return "; ".join(f"{name} {inner}" for name, inner in _lines(value)) or "nothing"
    if value is None or isinstance(value, bool):
        return _PLAIN[value]
    return str(value)
