"""The record of a project in sentences, newest first, with the hash of each entry and the way to its receipt."""

import json
from collections.abc import Sequence
from typing import Any

from portal.pages.environment import render
from portal.pages.evidence.entry_words import entry_when, entry_words
from portal.store.facts import Snapshot
from portal.words.codes import short_code
from portal.words.dates import when_words


def render_record(snapshot: Snapshot, entries: Sequence[tuple[int, str, bytes]], now: int) -> str:
    """Render the record. `entries` as (sequence, hash, canonical JSON), in their order; `now` in whole seconds."""
    zone = snapshot.project.timezone
    lines = [record_line(sequence, code, json.loads(text), zone) for sequence, code, text in reversed(entries)]
    return render("record.html", snapshot.firm, project=snapshot.project, lines=lines, as_of=when_words(now, zone))


def record_line(sequence: int, code: str, entry: dict[str, Any], zone: str) -> dict[str, Any]:
    """Give one entry (its content) as a list of them shows it, by name: texts, `code` the short hash, `decision` the
    number or None."""
    return {
        "sequence": sequence,
        "when": entry_when(entry, zone),
        "who": entry["actor"]["name"],
        "what": entry_words(entry, zone),
        "code": short_code(code),
        "hash": code,
        "decision": entry["body"].get("decision"),
    }
