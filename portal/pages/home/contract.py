"""The contract on the page: as signed, with the approved changes, and how long it can still be cancelled."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from portal.planning.contract import CancellationWindow
from portal.store.facts import DecisionFact, ProjectFact, Snapshot
from portal.store.reading.project_plan import window_of
from portal.words.dates import dated_words, day_words, working_days
from portal.words.money import money


@dataclass(frozen=True, slots=True)
class Contract:
    """`title`: the price as it is now, in a few words. No sentence where no contract amount was entered."""

    title: str
    sentences: list[str]


def contract_fold(snapshot: Snapshot, today: date) -> Contract:
    approved = [one for one in snapshot.decisions if one.state == "approved" and one.approvals]
    sentences = list(contract_sentences(snapshot.project, approved, today))
    signed, now = snapshot.project.contract_cents, _price(snapshot)
    if signed is None or now is None:
        return Contract("The contract", sentences)
    same = "unchanged" if signed == now else f"signed at {money(signed)}"
    return Contract(f"Price: {money(now)}, {same}", sentences)


def contract_sentences(project: ProjectFact, approved: Sequence[DecisionFact], today: date) -> Iterator[str]:
    """No change of price counts before its approval."""
    window = open_window(project, today)
    if window is not None:
        yield cancel_words(window)
    signed = project.contract_cents
    if signed is None:
        return
    chosen = [_chosen(decision) for decision in approved]
    changes = sum(option.get("cost_cents") or 0 for option in chosen)
    days = sum(option.get("days") or 0 for option in chosen)
    on = f" on {dated_words(project.signed_on, today)}" if project.signed_on else ""
    if not changes:
        price = "the price" if days else "it"
        yield f"The contract as signed{on}: {money(signed)}. Nothing approved so far changes {price}."
    else:
        way = "add" if changes > 0 else "take off"
        yield (
            f"The contract as signed{on}: {money(signed)}. The approved changes {way} {money(abs(changes))}, "
            f"which makes {money(signed + changes)}."
        )
    if days:
        way = "add" if days > 0 else "save"
        yield f"In time they {way} {working_days(days)}."


def price_without(snapshot: Snapshot, decision: DecisionFact) -> Iterator[str]:
    """What the price is when this approval no longer counts, where that changes it."""
    before = _price(snapshot)
    cents = (_chosen(decision).get("cost_cents") or 0) if decision.state == "approved" else 0
    if before is not None and cents:
        yield f"The price goes from {money(before)} to {money(before - cents)}."


def price_after(snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any]) -> int | None:
    """The price in cents with this option of the decision approved, and with all that is approved of the others. None
    where no contract amount was entered."""
    before = _price(snapshot)
    if before is None:
        return None
    mine = _chosen(decision).get("cost_cents") or 0 if decision.state == "approved" and decision.approvals else 0
    return before - mine + (option.get("cost_cents") or 0)


def _price(snapshot: Snapshot) -> int | None:
    """The contract as signed with all that is approved."""
    signed = snapshot.project.contract_cents
    approved = [one for one in snapshot.decisions if one.state == "approved" and one.approvals]
    return None if signed is None else signed + sum(_chosen(one).get("cost_cents") or 0 for one in approved)


def _chosen(decision: DecisionFact) -> dict[str, Any]:
    return decision.option(decision.approvals[0].option) or {}


def open_window(project: ProjectFact, today: date) -> CancellationWindow | None:
    """The days in which the contract can still be cancelled, if today is one."""
    window = window_of(project, today)
    return window if window is not None and window.covers(today) else None


def cancel_words(window: CancellationWindow) -> str:
    return (
        f"You signed the contract on {day_words(window.signed)}. If that was at your home, you can cancel it until the "
        f"end of {day_words(window.ends)} (16 CFR 429; the contract says how)."
    )
