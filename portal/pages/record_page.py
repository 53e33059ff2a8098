"""The record of a project in sentences, newest first, with the hash of each entry."""

import json
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from portal.pages.environment import render
from portal.pages.words import money, short_code
from portal.store.facts import Snapshot
from portal.when import day_words, local, when_words


def render_record(snapshot: Snapshot, entries: Sequence[tuple[int, str, bytes]], now: int) -> str:
    """`entries` as (sequence, hash, canonical JSON), in their order."""
    lines = [_line(sequence, code, json.loads(text), snapshot) for sequence, code, text in reversed(entries)]
    as_of = when_words(now, snapshot.project.timezone)
    return render("record.html", snapshot.firm, project=snapshot.project, lines=lines, as_of=as_of)


def _line(sequence: int, code: str, entry: dict[str, Any], snapshot: Snapshot) -> dict[str, Any]:
    return {
        "sequence": sequence,
        "when": _when(entry["at"], snapshot),
        "who": entry["actor"]["name"],
        "what": entry_words(entry, snapshot.project.timezone),
        "code": short_code(code),
        "hash": code,
    }


def entry_words(entry: dict[str, Any], zone: str) -> str:
    """What an entry says, as one sentence without its subject."""
    body = entry["body"]
    say = _WORDS.get(entry["kind"])
    return say(body, zone) if say else entry["kind"].replace("_", " ")


def _when(text: str, snapshot: Snapshot) -> str:
    return when_words(_seconds(text), snapshot.project.timezone)




def _seconds(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp())


def _visit(body: dict[str, Any], zone: str) -> str:
    day = local(_seconds(body["starts_at"]), zone)
    return f"{body['crew']}, {body['purpose']}, {day_words(day.date())}"


def _price(body: dict[str, Any]) -> str:
    cents, days = body.get("cost_cents"), body.get("days")
    words = [f"price {money(cents)}"] if cents else []
    words += [f"{days} day{'s' if days != 1 else ''}"] if days else []
    return f" ({', '.join(words)})" if words else ""


_WORDS: dict[str, Any] = {
    "asked": lambda b, z: f"asked decision {b['decision']}: “{b['question']}”",
    "revised": lambda b, z: f"changed decision {b['decision']}, revision {b['revision']}: “{b['question']}”",
    "approved": lambda b, z: (
        f"approved “{b['title']}” for decision {b['decision']}, revision {b['revision']}, as {b['name']}{_price(b)}; "
        f"check code {short_code(b['check_code'])}"
    ),
    "asked_back": lambda b, z: f"asked about decision {b['decision']}: “{b['text']}”",
    "answered": lambda b, z: f"answered about decision {b['decision']}: “{b['answer']}”",
    "released": lambda b, z: f"let “{b['name']}” start without an approval: {b['reason']}",
    "started": lambda b, z: f"started “{b['name']}” on {when_words(_seconds(b['at']), z)}",
    "finished": lambda b, z: f"finished “{b['name']}” on {when_words(_seconds(b['at']), z)}",
    "stopped": lambda b, z: f"let “{b['name']}” rest: {b['reason']}",
    "resumed": lambda b, z: f"went on with “{b['name']}”",
    "inspection_awaited": lambda b, z: f"finished the work of “{b['name']}”, which waits for inspection",
    "visit_booked": lambda b, z: f"booked a visit: {_visit(b, z)}",
    "visit_moved": lambda b, z: f"moved a visit: {_visit(b, z)}",
    "visit_cancelled": lambda b, z: f"cancelled a visit: {_visit(b, z)}",
    "link_made": lambda b, z: f"made a private link for {b['name']}",
    "link_revoked": lambda b, z: f"revoked the private link of {b['name']}",
    "contract_changed": lambda b, z: f"set the contract amount to {money(b['cents'] or 0)}",
}
