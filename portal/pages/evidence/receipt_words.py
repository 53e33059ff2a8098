"""What a receipt says to people, from its entry: the stamp, the rows of its title block. The same on the page under a
link, in the own copy and on paper."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from portal.pages.evidence.entry_words import entry_day_and_time, entry_words, handed_over, item_line
from portal.pages.signers import signer_words
from portal.pages.title_block import Row, house_row, option_rows
from portal.record.log.canonical import digest
from portal.store.facts import DecisionFact, Snapshot
from portal.words.capitals import first_upper
from portal.words.codes import short_code
from portal.words.dates import day_words
from portal.words.finishes.finish_words import finish_words
from portal.words.plurals import counted

_LONGEST = 300  # letters of a question or a choice that a block has room for
SHEETS = frozenset({"approved", "handover_accepted"})
"""The kinds of entries under which somebody's name stands: they are sheets of paper, too."""
APPROVED, ACCEPTED, TAKEN_BACK = "Approved", "Accepted", "Taken back"


@dataclass(frozen=True, slots=True)
class Kept:
    """`title` is the heading, `stamp` empty where nobody has agreed to anything. `rows`: the block without what comes
    next, the code last."""

    title: str
    stamp: str
    rows: list[Row]


@dataclass(frozen=True, slots=True)
class Then:
    """What an approval comes to while it stands, in words: the whole `price`, the `finish`, and what comes `next`."""

    price: str = ""
    finish: str = ""
    next: str = ""


def kept_of(snapshot: Snapshot, entry: dict[str, Any], *, taken_back: bool = False, then: Then = Then()) -> Kept:
    """Say what this entry keeps. `taken_back`: it is an approval that no longer counts."""
    say = {"approved": _approved, "handover_accepted": _accepted}.get(entry["kind"], _other)
    title, stamp, rows = say(snapshot, entry, then)
    if taken_back:
        title, stamp = "This was taken back", TAKEN_BACK
    upcoming = [Row("Next", then.next, wide=True)] if then.next and not taken_back else []
    return Kept(title, stamp, [house_row(snapshot.project), *rows, *upcoming, _code(entry)])


def decision_of(snapshot: Snapshot, entry: dict[str, Any]) -> DecisionFact | None:
    """The decision that an entry is about."""
    return next((one for one in snapshot.decisions if one.number == entry["body"].get("decision")), None)


def is_current(decision: DecisionFact | None, entry: dict[str, Any]) -> bool:
    """Whether an approval is of the revision that is asked now."""
    return decision is not None and entry["kind"] == "approved" and decision.revision == entry["body"]["revision"]


def _approved(snapshot: Snapshot, entry: dict[str, Any], then: Then) -> tuple[str, str, list[Row]]:
    body, decision = entry["body"], decision_of(snapshot, entry)
    question = body.get("question") or (decision.question if decision and is_current(decision, entry) else "")
    rows = option_rows(
        (body["decision"], _cut(question)), _cut(body["title"]), body.get("cost_cents"), body.get("days"),
        total=then.price, finish=then.finish, made=finish_words(body.get("finish")),
    )  # fmt: skip
    return _thanks(entry), APPROVED, [*rows, *_by("Approved by", entry, snapshot)]


def _accepted(snapshot: Snapshot, entry: dict[str, Any], then: Then) -> tuple[str, str, list[Row]]:
    body = entry["body"]
    still_open = [item_line(one) for one in body.get("open", [])]
    left = f"{counted(len(still_open), 'thing')}: {'; '.join(still_open)}" if still_open else "Nothing"
    rows = [
        Row("Hand-over", _cut(first_upper(handed_over(body)))), Row("Ours to finish", left, wide=True),
        *_by("Accepted by", entry, snapshot),
    ]  # fmt: skip
    return _thanks(entry), ACCEPTED, rows


def _other(snapshot: Snapshot, entry: dict[str, Any], then: Then) -> tuple[str, str, list[Row]]:
    zone = snapshot.project.timezone
    rows = [
        Row("Entry", str(entry["sequence"])), Row("Who", entry["actor"]["name"]),
        Row("When", entry_day_and_time(entry, zone)),
        Row("What", _cut(first_upper(entry_words(entry, zone))), wide=True),
    ]  # fmt: skip
    return f"Entry {entry['sequence']}", "", rows


def _thanks(entry: dict[str, Any]) -> str:
    if entry["body"].get("on_paper"):
        return "Kept, as signed on paper"
    first = str(entry["actor"]["name"]).split()
    return f"Kept. Thank you{f', {first[0]}' if first else ''}."


def _by(name: str, entry: dict[str, Any], snapshot: Snapshot) -> list[Row]:
    body, when = entry["body"], entry_day_and_time(entry, snapshot.project.timezone)
    if not body.get("on_paper"):
        return [Row(name, signer_words(entry["actor"]["name"], body["name"]).rstrip(",")), Row("On", when)]
    signed = f", {day_words(date.fromisoformat(body['signed_on']))}" if body.get("signed_on") else ""
    return [
        Row(name, signer_words(body.get("signer", ""), body["name"]).rstrip(",")), Row("Signed", f"On paper{signed}"),
        Row("Entered by", entry["actor"]["name"]), Row("On", when),
    ]  # fmt: skip


def _code(entry: dict[str, Any]) -> Row:
    shown = entry["body"].get("check_code")
    if isinstance(shown, str) and entry["kind"] == "approved":
        return Row("Check code", short_code(shown), wide=True, look="code")
    return Row("Code of this entry", short_code(digest(entry)), wide=True, look="code")


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST].rstrip()}…"
