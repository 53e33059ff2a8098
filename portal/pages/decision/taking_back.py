"""What can be taken back, and until when: one sentence, the same at the second look, on the page, on the receipt, in
the letter, on the sheet to sign and at the desk."""

from datetime import date
from typing import Any

from portal.pages.home.booked_words import booked_words
from portal.pages.outlook import Outlook
from portal.store.facts import DecisionFact, PhaseFact, Snapshot
from portal.words.dates import dated_words
from portal.words.lists import quoted
from portal.words.plurals import plural


def taking_back_words(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> str:
    """Say until when an approval of the current revision can be taken back; or that it can't any more, and why."""
    started = _started(snapshot, decision)
    if started:
        has = plural(len(started), "has", "have")
        return f"The approval can’t be taken back any more, since {quoted(one.name for one in started)} {has} started."
    until = _until(snapshot, outlook, decision, today)
    if not until:
        return "The approval can be taken back: no work waits for it."
    return f"The approval can be taken back {until}."


def you_may_take_back(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> str:
    """Say the same to whoever is about to approve."""
    until = _until(snapshot, outlook, decision, today)
    return f"You can take this back {until}." if until else "You can take this back later: no work waits for it."


def _until(snapshot: Snapshot, outlook: Outlook, decision: DecisionFact, today: date) -> str:
    """Until the first of the work that it holds starts, and when that is; empty where it holds none."""
    held = [snapshot.phase(phase) for phase in decision.holds]
    if not held:
        return ""
    first = min(held, key=lambda phase: outlook.starts[phase.id])
    when = booked_words(snapshot, outlook, first.id, today) or (
        f"by today’s plan on {dated_words(outlook.starts[first.id], today)}"
    )
    return f"until “{first.name}” starts ({when})"


def taking_back_on_receipt(snapshot: Snapshot, outlook: Outlook, entry: dict[str, Any], today: date) -> str:
    """Say the same of an approval by its entry of the record; of an earlier revision, that it no longer counts. Empty
    for an entry that is no approval."""
    if entry["kind"] != "approved":
        return ""
    decision = next((one for one in snapshot.decisions if one.number == entry["body"]["decision"]), None)
    if decision is None:
        return ""
    if decision.revision != entry["body"]["revision"]:
        return "The question was asked again after this, so this approval no longer counts."
    return taking_back_words(snapshot, outlook, decision, today)


def may_take_back(snapshot: Snapshot, decision: DecisionFact, reader: int | None) -> bool:
    """Whether this person has approved it, and may still take that back. `reader`: their id."""
    mine = any(approval.person_id == reader for approval in decision.approvals)
    return mine and not _started(snapshot, decision)


def mistakes_to_take_back(snapshot: Snapshot, decision: DecisionFact) -> list[Any]:
    """Approvals that the office entered from paper and may still take back."""
    return [] if _started(snapshot, decision) else [one for one in decision.approvals if one.on_paper]


def _started(snapshot: Snapshot, decision: DecisionFact) -> list[PhaseFact]:
    return [one for one in map(snapshot.phase, decision.holds) if one.started_at is not None]
