"""A small record to try every change on: the demo-like story of one stone top, with heads, nodes and receipts."""

import hashlib
from typing import Any

from portal.record.log.chain import Entry, Newest, next_entry
from portal.record.log.heads import Head, SignedHead, Signer
from portal.record.log.merkle import Frontier, Position, leaf_hash
from portal.record.log.proofs import inclusion_proof
from portal.record.log.rotation import rotation
from portal.record.papers.receipt import Receipt

PROJECT = 3
SIGNER = Signer(bytes(range(32)))
SECOND_SIGNER = Signer(bytes(range(32, 64)))
MANAGER = {"kind": "staff", "id": 1, "name": "Ines Okafor", "role": "manager"}
MARTA = {"kind": "person", "id": 7, "name": "Márta Löwe", "role": "homeowner"}
OFFICE = {"kind": "staff", "id": 2, "name": "Bo \"the desk\" \\ Lind", "role": "office"}
CODE = hashlib.sha256(b"what was shown").hexdigest()

STORY: list[tuple[str, dict[str, Any], str, dict[str, Any]]] = [
    ("2026-11-02T14:00:00Z", MANAGER, "asked", {"decision": 1, "revision": 1, "check_code": CODE, "mm": 34.925}),
    ("2026-11-02T15:30:00Z", MARTA, "asked_back", {"decision": 1, "text": "Is 1⅜″ enough for the soap pump? 😀"}),
    ("2026-11-02T15:29:58.5Z", OFFICE, "answered", {"decision": 1, "answer": "Yes, the sheet says 1-3/8 in."}),
    ("2026-11-03T08:00:00Z", MANAGER, "revised", {"decision": 1, "revision": 2, "check_code": CODE, "mm": 35.0}),
    ("2026-11-03T19:12:44Z", MARTA, "approved", {"decision": 1, "revision": 2, "option": "b", "check_code": CODE}),
    ("2026-11-04T07:05:00Z", MANAGER, "started", {"phase": 12, "name": "Drill the top", "hours": [1, 2.5, 1e-7]}),
    ("2026-11-04T07:05:00.000Z", MANAGER, "visit_moved", {"visit": 4, "from": None, "told": True, "why": {}}),
    ("2026-11-04T09:00:00Z", MANAGER, "finished", {"phase": 12, "é": 1, "z": 2, "name": "Drill the top"}),
    ("2026-11-05T09:00:00Z", MARTA, "handover_accepted", {"phase": 12, "open": []}),
]


class Record:
    """Entries grown one by one, as a store would keep them."""

    def __init__(self, project: int = PROJECT) -> None:
        self.project = project
        self.entries: list[Entry] = []
        self.frontier = Frontier()
        self.nodes: dict[Position, bytes] = {}

    def add(self, at: str, actor: dict[str, Any], kind: str, body: dict[str, Any]) -> Entry:
        newest = self.entries[-1] if self.entries else None
        last = Newest(newest.sequence, newest.hash, newest.at) if newest else None
        self.entries.append(next_entry(self.project, last, at, actor, kind, body))
        self.frontier, made = self.frontier.added(leaf_hash(self.entries[-1].canonical))
        self.nodes.update(made)
        return self.entries[-1]

    def head(self, at: str = "2026-11-05T09:00:01Z", signer: Signer = SIGNER) -> SignedHead:
        return signer.signed(Head(self.project, self.frontier.size, self.frontier.root.hex(), at))

    @property
    def rows(self) -> list[tuple[int, str | None, bytes]]:
        return [(entry.sequence, entry.hash, entry.canonical) for entry in self.entries]

    def receipt(self, sequence: int, at: str = "2026-11-05T09:00:01Z", signer: Signer = SIGNER) -> Receipt:
        proof = inclusion_proof(self.nodes, sequence - 1, self.frontier.size)
        return Receipt(self.entries[sequence - 1].content(), proof, self.head(at, signer))


def told(project: int = PROJECT, count: int = len(STORY)) -> Record:
    record = Record(project)
    for at, actor, kind, body in STORY[:count]:
        record.add(at, actor, kind, body)
    return record


def with_new_key() -> tuple[Record, list[SignedHead]]:
    """The story with a change of keys after entry 4, and a head signed before and one after it."""
    record = told(count=4)
    heads = [record.head("2026-11-03T08:00:01Z")]
    at = "2026-11-03T09:00:00Z"
    record.add(at, MANAGER, "key_rotated", rotation(SIGNER, SECOND_SIGNER, at))
    for step in STORY[4:]:
        record.add(*step)
    return record, [*heads, record.head(signer=SECOND_SIGNER)]
