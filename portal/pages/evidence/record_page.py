"""The record of a project: by what matters first (answers, the price, hand-overs), then whole, a month at a time."""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from portal.pages.environment import render
from portal.pages.evidence.entry_lines import ANSWERS, HANDOVERS, changes_price, entry_line
from portal.pages.evidence.entry_words import entry_at, entry_when, entry_words, entry_words_and_names
from portal.pages.without_sums import prices_words, without
from portal.store.facts import Snapshot
from portal.words.codes import short_code
from portal.words.dates import local, when_words

Entry = tuple[int, str, dict[str, Any]]
"""Sequence, hash, content."""


@dataclass(frozen=True, slots=True)
class Month:
    """`November 2026`, with its entries, the newest first."""

    name: str
    lines: list[dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Group:
    """What matters: a heading, and the entries about it in few words, the newest first."""

    name: str
    lines: list[dict[str, Any]]


def render_record(snapshot: Snapshot, entries: Sequence[tuple[int, str, bytes]], now: int) -> str:
    """Render the record. `entries` as (sequence, hash, canonical JSON), in their order; `now` in whole seconds."""
    zone = snapshot.project.timezone
    found = [_as_read(snapshot, sequence, code, json.loads(text)) for sequence, code, text in reversed(entries)]
    return render(
        "record.html", snapshot.firm, project=snapshot.project, as_of=when_words(now, zone),
        groups=[group for group in _groups(snapshot, found) if group.lines], months=list(_months(found, zone)),
        entries=len(found), prices=prices_words(snapshot),
    )


def record_line(
    sequence: int, code: str, entry: dict[str, Any], zone: str,
    say: Callable[[dict[str, Any], str], str] = entry_words,
) -> dict[str, Any]:
    """Give one entry (its content) as a list of them shows it, by name: texts, `code` the short hash, `decision` the
    number or None."""
    return {
        "sequence": sequence,
        "when": entry_when(entry, zone),
        "who": entry["actor"]["name"],
        "what": say(entry, zone),
        "code": short_code(code) if code else "",
        "hash": code,
        "decision": entry["body"].get("decision"),
    }


def _as_read(snapshot: Snapshot, sequence: int, code: str, entry: dict[str, Any]) -> Entry:
    """Without sums, without hashes, too: with all else known, a sum that is left out could be found by trying it on
    that of its entry, or on what other entries tell of it."""
    return (sequence, code, entry) if snapshot.sums else (sequence, "", without(entry))


def _groups(snapshot: Snapshot, found: Sequence[Entry]) -> Iterator[Group]:
    zone = snapshot.project.timezone
    yield Group("Answers", _short((one for one in found if one[2]["kind"] in ANSWERS), zone))
    if snapshot.sums:
        yield Group("The price", _short((one for one in found if changes_price(one[2])), zone))
    yield Group("Hand-overs", _short((one for one in found if one[2]["kind"] in HANDOVERS), zone))


def _short(found: Iterable[Entry], zone: str) -> list[dict[str, Any]]:
    return [record_line(*one, zone, entry_line) for one in found]


def _months(found: Sequence[Entry], zone: str) -> Iterator[Month]:
    """By the clock at the house. A clock that was set back may give a month twice: the order is that of the entries."""
    for name, of_month in groupby(found, lambda one: f"{local(entry_at(one[2]), zone):%B %Y}"):
        yield Month(name, [_whole_line(*one, zone) for one in of_month])


def _whole_line(sequence: int, code: str, entry: dict[str, Any], zone: str) -> dict[str, Any]:
    words, names = entry_words_and_names(entry, zone)
    return {**record_line(sequence, code, entry, zone, lambda *_: words), "names": names}
