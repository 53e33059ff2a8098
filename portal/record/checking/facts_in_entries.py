"""The facts that entries tell of, in the same shapes as the tables hold them (`tables_check` compares both)."""

from collections.abc import Iterable
from typing import Any, NamedTuple

Body = dict[str, Any]


class KeptEntry(NamedTuple):
    """An entry as it is kept: `at` and `kind` stand beside the canonical bytes, for lists, and are not hashed."""

    sequence: int
    at: str
    kind: str
    content: dict[str, Any]


class Fact(NamedTuple):
    """One fact: its kind, time and author's id, and what both table and entry hold of it. The author is 0 where the
    table knows no id of theirs."""

    kind: str
    at: str
    actor: int
    said: tuple[Any, ...]


_ITEM_FIELDS = ("item", "room_id", "who", "by", "photo", "photo_sha256")
"""What is compared of an open item, by the fields of its entry; all are there, and null where nothing was said."""

_WORDS = {
    "asked": "a question", "revised": "a changed question", "approved": "an approval", "released": "a release",
    "release_taken_back": "a release that was taken back",
    "failing_layout_offered": "an offer of a layout that breaks a rule",
    "withdrawn": "a withdrawal", "asked_back": "a question of the household",
    "another_option_wanted": "a wish for another option", "answered": "an answer",
    "question_withdrawn": "a withdrawn question",
    "handed_over": "a hand-over", "handover_accepted": "an accepted hand-over", "open_item": "an open item",
    "item_closed": "an open item that is done", "item_changed": "a changed item",
    "message_sent": "a message of the household", "message_answered": "an answer to a message",
    "visit_answered": "whether a visit suits",
}
_OF_HANDOVERS = ("handed_over", "handover_accepted", "open_item", "item_closed", "item_changed")
_ABOUT = dict.fromkeys(_OF_HANDOVERS, "hand-over") | {
    "message_sent": "message", "message_answered": "message", "visit_answered": "visit",
}
"""What the first thing that is said of a fact names, where it is no decision."""


def facts_in(entries: Iterable[KeptEntry]) -> list[tuple[int, Fact]]:
    """Collect the facts that the entries tell of, each with its entry's sequence, in the order of the entries. An open
    item that was changed is what the last change made of it."""
    found: list[tuple[int, Fact]] = []
    for entry in entries:
        if entry.content["kind"] == "item_changed":
            _change_item(found, entry)
        else:
            found += [(entry.sequence, fact) for fact in _facts_of(entry.content)]
    return found


def _change_item(found: list[tuple[int, Fact]], entry: KeptEntry) -> None:
    """A change of an item that no entry tells of is a fact that agrees with no table."""
    body = entry.content["body"]
    now, before = _item(body), body.get("before")
    was = (*_values(body, "handover"), _item(before))
    for at in reversed(range(len(found))):
        sequence, fact = found[at]
        if fact.kind == "open_item" and (fact.said[0], fact.said[2:]) == was:
            found[at] = (sequence, fact._replace(said=(*fact.said[:2], *now)))
            return
    found.append((entry.sequence, Fact("item_changed", entry.content["at"], 0, (*_values(body, "handover"), *now))))


def _facts_of(content: dict[str, Any]) -> list[Fact]:
    kind, at, actor, body = content["kind"], content["at"], content["actor"], content["body"]
    if kind == "item_closed":
        return [Fact(kind, at, 0, _values(body, "handover", "item"))]
    items = items_of(content) if kind in ("handed_over", "item_added") else []
    return [
        *(Fact(kind, at, actor["id"], said) for said in _said(kind, actor["id"], body)),
        *(Fact("open_item", at, 0, (*_values(body, "handover"), actor["name"], *_item(one))) for one in items),
    ]


def items_of(content: dict[str, Any]) -> list[Any]:
    """List the open items of an entry, each as an object; as bare text where an earlier version made the entry.

    Empty for an entry that is about none.
    """
    body = content["body"]
    if content["kind"] in ("item_added", "item_changed"):
        return [body if "photo" in body else body.get("item")]
    listed = body.get("open") if content["kind"] in ("handed_over", "handover_accepted") else None
    return listed if isinstance(listed, list) else []


def fact_words(fact: Fact) -> str:
    """Say which fact this is: `an approval (decision 1: 2, b, Maren Okafor, 7; 2026-11-03T19:12:44Z)`."""
    first, *rest = fact.said
    parts = ", ".join(str(part) for part in rest if part is not None)
    return f"{_WORDS[fact.kind]} ({_ABOUT.get(fact.kind, 'decision')} {first}: {parts}; {fact.at})"


def _item(one: Any) -> tuple[Any, ...]:
    return _values(one, *_ITEM_FIELDS) if isinstance(one, dict) else (_comparable(one),)


def _said(kind: str, actor: int, body: Body) -> list[tuple[Any, ...]]:
    """What an entry says of its facts. A field that is missing agrees with no table."""
    if kind in ("asked", "revised"):
        return [_values(body, "decision", "revision", "check_code")]
    if kind == "approved":
        on_paper = body.get("on_paper", False)
        person = body.get("person") if on_paper else actor
        said = _values(body, "decision", "revision", "option", "name")
        return [(*said, _comparable(person), _comparable(on_paper), *_values(body, "signed_on"))]
    if kind == "failing_layout_offered":
        return [_values(body, "decision", "revision", "option", "reason", "by", "at")]
    if kind == "withdrawn":
        return [_values(body, "decision", "revision", "reason")]
    if kind == "question_withdrawn":
        return [_values(body, "decision", "revision", "reason", "hold_lifted")]
    if kind in ("released", "release_taken_back"):
        held = body.get("decisions")
        numbers = held if isinstance(held, list) else []
        return [(_comparable(number), *_values(body, "phase", "reason")) for number in numbers]
    if kind in ("asked_back", "another_option_wanted"):
        return [_values(body, "decision", "revision", "text")]
    if kind == "answered":
        return [_values(body, "decision", "question", "answer")]
    if kind == "message_sent":
        return [_values(body, "message", "text", "room_id", "photo", "photo_sha256")]
    if kind == "message_answered":
        return [_values(body, "message", "text", "answer")]
    if kind == "visit_answered":
        return [_values(body, "visit", "suits", "why", "starts_at", "ends_at")]
    return _said_of_handovers(kind, body)


def _said_of_handovers(kind: str, body: Body) -> list[tuple[Any, ...]]:
    """An earlier version did not tell the phase's id, and its name may have been changed since."""
    which = ("handover", "phase_id") if "phase_id" in body else ("handover",)
    if kind == "handed_over":
        return [_values(body, *which, "note")]
    if kind == "handover_accepted":
        return [_values(body, *which, "name")]
    return []


def _values(body: Body, *names: str) -> tuple[Any, ...]:
    return tuple(_comparable(body.get(name)) for name in names)


def _comparable(value: Any) -> Any:
    """No table holds a list or an object here: its text agrees with none, and can be counted."""
    return str(value) if isinstance(value, list | dict) else value
