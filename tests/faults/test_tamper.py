"""The demo's record with every single thing done to it that could be done to one: all of them tried, not a sample. Of
its bytes one in four is changed here, and each of them by `bash tests/long bytes`."""

import hashlib
import os
from dataclasses import replace
from itertools import combinations

import pytest

from portal.acts.keeping.receipts import every_receipt, record_file, signed_head
from portal.record.checking.entry_check import Row
from portal.record.checking.returned_files import verify_file
from portal.record.checking.verification import verify_receipt, verify_record
from portal.record.log.canonical import canonical, read
from portal.record.log.heads import Head, SignedHead, Signer
from portal.record.log.merkle import Frontier, leaf_hash
from portal.record.papers.export import export_file, parse_export
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse

OTHER = Signer(bytes(range(32)))
STEP = 1 if os.environ.get("EVERY_BYTE") else 4


@pytest.fixture
def signer(demo: DemoHouse) -> Signer:
    return Signer(demo.settings.record_key)


@pytest.fixture
def rows(demo: DemoHouse) -> list[Row]:
    return list(record_rows.every(demo.project))


@pytest.fixture
def head(demo: DemoHouse, signer: Signer) -> SignedHead:
    found = signed_head(demo.project, signer)
    assert found is not None
    return found


def holds(demo: DemoHouse, rows: list[Row], head: SignedHead) -> bool:
    return verify_record(demo.project, rows, [head], whole=True).ok


def rehashed(rows: list[Row]) -> list[Row]:
    """As whoever can also write the hashes would leave them."""
    return [(sequence, hashlib.sha256(data).hexdigest(), data) for sequence, _, data in rows]


def relinked(rows: list[Row]) -> list[Row]:
    """As whoever builds the whole chain anew would leave it: each names the one before, and only the root tells."""
    made: list[Row] = []
    for sequence, (_, _, data) in enumerate(rows, 1):
        content = read(data) | {"sequence": sequence, "previous": made[-1][1] if made else "0" * 64}
        again = canonical(content)
        made.append((sequence, hashlib.sha256(again).hexdigest(), again))
    return made


def test_the_record_as_it_is_holds(demo: DemoHouse, rows: list[Row], head: SignedHead) -> None:
    assert len(rows) > 40 and holds(demo, rows, head)
    assert relinked(rows) == rows


def test_every_byte_of_every_entry(demo: DemoHouse, rows: list[Row], head: SignedHead) -> None:
    for place, (sequence, code, data) in enumerate(rows):
        for at in range(place % STEP, len(data), STEP):
            changed = data[:at] + bytes([data[at] ^ 1]) + data[at + 1:]
            for left in (code, hashlib.sha256(changed).hexdigest()):
                assert not holds(demo, [*rows[:place], (sequence, left, changed), *rows[place + 1:]], head)


def test_every_entry_dropped_doubled_or_put_elsewhere(demo: DemoHouse, rows: list[Row], head: SignedHead) -> None:
    every = range(len(rows))
    dropped = [[*rows[:at], *rows[at + 1:]] for at in every]
    doubled = [[*rows[:at], rows[at], *rows[at:]] for at in every]
    moved = [
        [*(rows[:at] + rows[at + 1:])[:to], rows[at], *(rows[:at] + rows[at + 1:])[to:]]
        for at in every for to in every if to != at
    ]
    swapped = [
        [rows[b] if at == a else rows[a] if at == b else rows[at] for at in every] for a, b in combinations(every, 2)
    ]
    for changed in (*dropped, *doubled, *moved, *swapped):
        assert not holds(demo, changed, head)
        assert not holds(demo, relinked(changed), head)


def test_every_beginning_of_it_passed_off_as_the_whole(demo: DemoHouse, rows: list[Row], head: SignedHead) -> None:
    for end in range(len(rows)):
        assert not holds(demo, rows[:end], head)


def test_a_chain_made_anew_after_any_change_of_what_was_said(
    demo: DemoHouse, rows: list[Row], head: SignedHead
) -> None:
    somebody = {"kind": "person", "id": 1, "name": "Somebody"}
    changes = {"at": "2026-11-11T11:11:11Z", "kind": "item_closed", "actor": somebody, "body": {}}
    for place, (sequence, code, data) in enumerate(rows):
        for field, value in changes.items():
            changed = canonical(read(data) | {field: value})
            assert not holds(demo, relinked([*rows[:place], (sequence, code, changed), *rows[place + 1:]]), head)


def test_every_byte_of_every_receipt(demo: DemoHouse, signer: Signer) -> None:
    receipts = every_receipt(demo.project, signer)
    assert len(receipts) == record_rows.count(demo.project)
    for one in receipts:
        assert verify_receipt(one.file).ok
        for at in range(len(one.file)):
            changed = one.file[:at] + bytes([one.file[at] ^ 1]) + one.file[at + 1:]
            assert not verify_file(changed).ok, f"entry {one.entry['sequence']}, byte {at}"
            if at % 7 == 0:
                assert not verify_file(one.file[:at]).ok


def test_every_head_swapped_for_another(demo: DemoHouse, rows: list[Row], head: SignedHead, signer: Signer) -> None:
    frontier, heads = Frontier(), []
    for _, _, data in rows:
        frontier, _ = frontier.added(leaf_hash(data))
        heads.append(signer.signed(Head(demo.project, frontier.size, frontier.root.hex(), head.head.at)))
    assert heads[-1] == head
    for size, earlier in enumerate(heads[:-1], 1):
        assert not holds(demo, rows, earlier), "an earlier head does not cover the whole record"
        assert verify_record(demo.project, rows, [earlier, head], whole=True).ok
        assert not holds(demo, rows, signer.signed(replace(head.head, root=earlier.head.root)))
        assert not holds(demo, rows, signer.signed(replace(head.head, size=size)))
    mine = OTHER.signed(head.head)
    assert not verify_record(demo.project, rows, [mine], trusted=[signer.public_key]).ok
    assert not holds(demo, rows, replace(mine, public_key=head.public_key))
    assert not holds(demo, rows, signer.signed(replace(head.head, project=2)))


def test_the_proof_head_or_entry_of_every_receipt_swapped_with_every_other(demo: DemoHouse, signer: Signer) -> None:
    receipts = every_receipt(demo.project, signer)
    for one, other in combinations([read(receipt.file) for receipt in receipts], 2):
        for name in ("entry", "proof"):
            assert not verify_receipt(canonical(one | {name: other[name]})).ok


def test_every_byte_of_the_record_file(demo: DemoHouse, signer: Signer) -> None:
    data = record_file(demo.project, signer)
    assert verify_file(data).ok
    for at in range(len(data) % STEP, len(data), STEP):
        assert not verify_file(data[:at] + bytes([data[at] ^ 1]) + data[at + 1:]).ok, f"byte {at}"


def test_a_record_file_with_fewer_entries_or_another_head(demo: DemoHouse, rows: list[Row], signer: Signer) -> None:
    heads = parse_export(record_file(demo.project, signer)).heads
    for end in range(len(rows)):
        assert not verify_file(export_file(demo.project, [data for _, _, data in rows[:end]], heads)).ok
    assert not verify_file(export_file(demo.project, [data for _, _, data in rows], [])).ok
