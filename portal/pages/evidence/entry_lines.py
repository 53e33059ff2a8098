"""The entries of the record in few words, for whoever reads by what matters: answers, the price, hand-overs. The whole
of an entry is said by portal.pages.evidence.entry_words."""

from collections.abc import Callable
from typing import Any

from portal.pages.evidence.entry_words import entry_words, handed_over
from portal.words.lists import quoted
from portal.words.money import price_changed
from portal.words.plurals import counted

Body = dict[str, Any]

ANSWERS = frozenset({"asked", "revised", "approved", "withdrawn", "question_withdrawn", "asked_back", "answered"})
PRICE = frozenset({"contract_changed"})
HANDOVERS = frozenset({
    "handed_over", "handover_accepted", "handover_changed", "handover_taken_back", "item_added", "item_changed",
    "item_closed",
})  # fmt: skip


def changes_price(entry: dict[str, Any]) -> bool:
    """Whether an entry says what the price is, or changes it."""
    return entry["kind"] in PRICE or (entry["kind"] == "approved" and bool(entry["body"].get("cost_cents")))


def entry_line(entry: dict[str, Any], zone: str) -> str:
    """Say what an entry (its content) tells, without what only its receipt needs: `approved “One hole”, $45 more`."""
    say = _SHORT.get(entry["kind"])
    return say(entry["body"]) if say else entry_words(entry, zone)


def _approved(b: Body) -> str:
    price = f", {price_changed(b['cost_cents'])}" if b.get("cost_cents") else ""
    if b.get("on_paper"):
        return f"entered that {b.get('signer', b['name'])} signed {quoted([b['title']])} on paper{price}"
    return f"approved {quoted([b['title']])}{price}"


def _withdrawn(b: Body) -> str:
    return f"took back the answer to question {b['decision']}{_why(b)}"


def _why(b: Body) -> str:
    return f": {b['reason'].rstrip('. ')}" if b.get("reason") else ""


def _left(b: Body) -> str:
    left = len(b.get("open", []))
    return f"; {counted(left, 'thing')} to finish" if left else "; nothing to finish"


_SHORT: dict[str, Callable[[Body], str]] = {
    "asked": lambda b: f"asked: {quoted([b['question']])}",
    "revised": lambda b: f"asked anew: {quoted([b['question']])}",
    "approved": _approved,
    "withdrawn": _withdrawn,
    "question_withdrawn": lambda b: f"took back the question {quoted([b['question']])}{_why(b)}",
    "handed_over": lambda b: f"handed over {handed_over(b)}{_left(b)}",
    "handover_accepted": lambda b: f"accepted {handed_over(b)}{_left(b)}",
    "item_added": lambda b: f"added {quoted([b['item']])}",
    "item_closed": lambda b: f"set right {quoted([b['item']])}",
}
