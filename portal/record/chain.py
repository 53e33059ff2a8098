"""The chain: each entry names the hash of the one before."""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from portal.record.canonical import canonical

FIRST = "0" * 64


@dataclass(frozen=True, slots=True)
class Entry:
    project: int
    sequence: int
    previous: str
    at: str
    actor: Mapping[str, Any]
    kind: str
    body: Mapping[str, Any]
    canonical: bytes
    hash: str


def next_entry(
    project: int, last: tuple[int, str, str] | None, at: str, actor: Mapping[str, Any], kind: str, body: Mapping[str, Any]
) -> Entry:
    sequence, previous, before = last or (0, FIRST, "")
    content = {
        "project": project, "sequence": sequence + 1, "previous": previous, "at": at, "actor": dict(actor),
        "kind": kind, "body": dict(body),
    }
    if at < before:
        content["clock_moved"] = True
    encoded = canonical(content)
    return Entry(
        project, sequence + 1, previous, at, actor, kind, body, encoded, sha256(encoded).hexdigest()
    )
