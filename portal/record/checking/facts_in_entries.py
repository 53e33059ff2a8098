"""The facts that entries tell of, in the same shape as the tables hold them (`agreement` compares both)."""

from collections.abc import Iterable
from typing import Any, NamedTuple


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


ITEM = ("item", "room_id", "who", "by", "photo", "photo_sha256")
"""What is compared of an open item, by the fields of its entry; all are there, and null where nothing was said."""

_WORDS = {
    "asked": "a question", "revised": "a changed question", "approved": "an approval", "released": "a release",
    "withdrawn": "a withdrawal", "asked_back": "a question of the household", "answered": "an answer",
    "handed_over": "a hand-over", "handover_accepted": "an accepted hand-over", "open_item": "an open item",
    "item_closed": "an open item that is done",
}
_HANDED = ("handed_over", "handover_accepted", "open_item", "item_closed")


def facts_told(entries: Iterable[KeptEntry]) -> list[tuple[int, Fact]]:
    """The facts that the entries tell of, each with its sequence."""
    found = []
    for sequence, _, _, content in entries:
        kind, at, actor, body = content["kind"], content["at"], content["actor"], content["body"]
        found += [(sequence, Fact(kind, at, actor["id"], said)) for said in _said(kind, actor["id"], body)]
        if kind == "item_closed":
            found.append((sequence, Fact(kind, at, 0, (body.get("handover"), body.get("item")))))
        elif kind in ("handed_over", "item_added"):
            items = [_item(body.get("handover"), actor["name"], one) for one in items_of(content)]
            found += [(sequence, Fact("open_item", at, 0, said)) for said in items]
    return found


def items_of(content: dict[str, Any]) -> list[Any]:
    """The open items that an entry lists, each as an object; as bare text where an earlier version made the entry."""
    body = content["body"]
    if content["kind"] == "item_added":
        return [body if "photo" in body else body.get("item")]
    listed = body.get("open") if content["kind"] in ("handed_over", "handover_accepted") else None
    return listed if isinstance(listed, list) else []


def fact_words(fact: Fact) -> str:
    first, *rest = fact.said
    parts = ", ".join(str(part) for part in rest if part is not None)
    what = "hand-over" if fact.kind in _HANDED else "decision"
    return f"{_WORDS[fact.kind]} ({what} {first}: {parts}; {fact.at})"


def _item(handover: Any, name: str, one: Any) -> tuple[Any, ...]:
    return (handover, name, *map(one.get, ITEM)) if isinstance(one, dict) else (handover, name, one)


def _said(kind: str, actor: int, body: dict[str, Any]) -> list[tuple[Any, ...]]:
    """What an entry says of its facts. A field that is missing agrees with no table."""
    decision, revision = body.get("decision"), body.get("revision")
    if kind in ("asked", "revised"):
        return [(decision, revision, body.get("check_code"))]
    if kind == "approved":
        on_paper = body.get("on_paper", False)
        person = body.get("person") if on_paper else actor
        return [(decision, revision, body.get("option"), body.get("name"), person, on_paper)]
    if kind == "withdrawn":
        return [(decision, revision, body.get("reason"))]
    if kind == "released":
        return [(held, body.get("phase"), body.get("reason")) for held in body.get("decisions", [])]
    return _said_of_questions(kind, body) or _said_of_handovers(kind, body)


def _said_of_questions(kind: str, body: dict[str, Any]) -> list[tuple[Any, ...]]:
    if kind == "asked_back":
        return [(body.get("decision"), body.get("revision"), body.get("text"))]
    if kind == "answered":
        return [(body.get("decision"), body.get("question"), body.get("answer"))]
    return []


def _said_of_handovers(kind: str, body: dict[str, Any]) -> list[tuple[Any, ...]]:
    """An earlier version did not tell the phase's id, and its name may have been changed since."""
    which = (body.get("handover"), *([body["phase_id"]] if "phase_id" in body else []))
    if kind == "handed_over":
        return [(*which, body.get("note"))]
    if kind == "handover_accepted":
        return [(*which, body.get("name"))]
    return []
