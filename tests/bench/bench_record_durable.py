"""The record through the store: a durable approval against raw sqlite3, an entry late against early, and verifying.

python -m tests.bench.bench_record_durable
"""

import hashlib
import json
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.acts.entries import keep
from portal.record.checking.verification import verify_record
from portal.store.engine.database import close_database, touch, write
from portal.store.rows import record_rows
from tests.bench.approvals import OPTIONS, RawApprovals
from tests.bench.ratios import at_least, at_most, closing, in_turn, of_size, timed
from tests.house import NOW, House, make_house

TIMES = of_size(400, 4)  # approvals, each in turn with one in raw sqlite3: so the disk has the same mood for both
LATE, EARLY = of_size(100_000, 200), 100
BATCH = 2_000  # entries a transaction while the long record is grown
STEPS = 64  # entries a measure adds
BODY = {"decision": 6, "revision": 1, "check_code": "0" * 64, "option": "a", "title": "One hole", "name": "M. Okafor"}


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        raw = RawApprovals(Path(folder))
        house = make_house(Path(folder) / "portal.db")
        medians = in_turn(TIMES, {"approval": approving(house), "raw": raw.once})
        close_database()
        house = make_house(Path(folder) / "long.db")
        grow(house.homeowner, house.project, LATE)
        grow(house.other_homeowner, house.other_project, EARLY)
        medians |= in_turn(15, {
            "late": adding(house.homeowner, house.project),
            "early": adding(house.other_homeowner, house.other_project),
        })
        speeds = in_turn(5, verifying(house.project))
        close_database()
    return closing([
        at_least("durable approval in process: raw / approval", medians["raw"] / medians["approval"], 0.6),
        at_most(f"adding entry {LATE:,} to entry 100, in the store", medians["late"] / medians["early"], 1.2),
        at_least(f"verifying {LATE:,} kept: plain / verify", speeds["plain"] / speeds["verify"], 0.5),
    ])


def approving(house: House) -> Callable[[], float]:
    """Each approval is of a decision of its own, asked before; only the approving is timed."""
    values = {"question": "How many holes?", "options": OPTIONS}
    asked = [ask_decision(house.manager, house.project, dict(values), NOW).id for _ in range(TIMES + 1)]

    def measure() -> float:
        decision = asked.pop()
        start = time.perf_counter()
        approve(house.homeowner, house.project, decision, revision=1, option="a", name="Maren Okafor", now=NOW)
        return time.perf_counter() - start

    return measure


def grow(actor: Actor, project: int, count: int) -> None:
    for begun in range(0, count, BATCH):
        add(actor, project, min(BATCH, count - begun))


def add(actor: Actor, project: int, count: int) -> None:
    with write():
        touch(project)
        for _ in range(count):
            keep(actor, project, "approved", BODY, NOW)


def adding(actor: Actor, project: int) -> Callable[[], float]:
    """As many entries with one commit for all: what an entry costs, and little of what the disk does."""
    return timed(lambda: add(actor, project, STEPS))


def verifying(project: int) -> dict[str, Callable[[], float]]:
    """Rows read from the store before; then checked, or only hashed and parsed."""
    rows = list(record_rows.every(project))
    nodes = record_rows.all_nodes(project)

    def plain() -> None:
        for _, _, data in rows:
            hashlib.sha256(data).hexdigest()
            json.loads(data)

    def verify() -> None:
        assert verify_record(project, rows).ok

    assert len(rows) >= LATE and verify_record(project, rows, nodes=nodes).ok
    return {"plain": timed(plain), "verify": timed(verify)}


if __name__ == "__main__":
    sys.exit(main())
