"""The record: what one more entry costs late and early, and verifying against hashing and parsing the same bytes.

python -m tests.bench.bench_record
"""

import hashlib
import json
import sys
from collections.abc import Callable

from portal.record.checking.verification import verify_record
from portal.record.log.chain import Entry, Newest, next_entry
from portal.record.log.heads import Head, Signer
from portal.record.log.merkle import Frontier, leaf_hash
from tests.bench.ratios import at_least, at_most, closing, in_turn, of_size, timed

COUNT = of_size(100_000, 200)
STEPS = 64  # entries a measure adds: some complete many subtrees, most few
SIGNER = Signer(bytes(range(32)))
# Verifying parses each entry, writes it again and compares. It runs at night: 100,000 entries, more than a firm makes
# in years, take about five seconds. A way past the parser made 0.5 of it and could not be read.
SLOWEST = 0.07
OWNERS = [
    {"kind": "person", "id": number, "name": name, "role": "homeowner"}
    for number, name in enumerate(("Maren Okafor", "José Löwe"), 1)
]
CODE = hashlib.sha256(b"shown").hexdigest()


def added(last: Newest | None, number: int) -> Entry:
    """One more approval, after `last`."""
    at = f"2026-{number // 8400 % 12 + 1:02d}-{number // 300 % 28 + 1:02d}T{number // 60 % 5:02d}:{number % 60:02d}:00Z"
    body = {"decision": number % 90 + 1, "revision": number % 4 + 1, "option": "ab"[number % 2], "check_code": CODE,
            "title": "Two holes: the faucet and the soap pump, 1⅜″ each", "cost_cents": number % 1000 * 25, "days": 1}
    return next_entry(1, last, at, OWNERS[number % 2], "approved", body)


def grown(count: int) -> tuple[list[Entry], Frontier]:
    entries: list[Entry] = []
    frontier, last = Frontier(), None
    for number in range(count):
        entry = added(last, number)
        entries.append(entry)
        frontier, _ = frontier.added(leaf_hash(entry.canonical))
        last = Newest(entry.sequence, entry.hash, entry.at)
    return entries, frontier


def adding(entries: list[Entry], frontier: Frontier) -> Callable[[], None]:
    """Adds entries after these, each with its leaf, its nodes and the signed head over it, as an approval does."""
    start = Newest(entries[-1].sequence, entries[-1].hash, entries[-1].at)

    def add() -> None:
        last, edge = start, frontier
        for number in range(STEPS):
            entry = added(last, number)
            edge, _ = edge.added(leaf_hash(entry.canonical))
            SIGNER.signed(Head(1, edge.size, edge.root.hex(), entry.at))
            last = Newest(entry.sequence, entry.hash, entry.at)

    return add


def main() -> int:
    entries, frontier = grown(COUNT)
    early, early_frontier = grown(100)
    medians = in_turn(15, {"late": timed(adding(entries, frontier)), "early": timed(adding(early, early_frontier))})
    late_ratio = medians["late"] / medians["early"]

    rows = [(entry.sequence, entry.hash, entry.canonical) for entry in entries]
    head = SIGNER.signed(Head(1, COUNT, frontier.root.hex(), entries[-1].at))

    def plain() -> None:
        for _, _, data in rows:
            hashlib.sha256(data).hexdigest()
            json.loads(data)

    def verify() -> None:
        assert verify_record(1, rows, [head], whole=True).ok

    speeds = in_turn(5, {"verify": timed(verify), "plain": timed(plain)})
    return closing([
        at_most(f"adding entry {COUNT:,} to entry 100", late_ratio, 1.2),
        at_least(f"verifying {COUNT:,} entries: hashing and parsing / it", speeds["plain"] / speeds["verify"], SLOWEST),
    ])


if __name__ == "__main__":
    sys.exit(main())
