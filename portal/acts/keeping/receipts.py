"""Receipts: one entry with its proof and a signed head, so that the homeowner holds the evidence.

A head is signed when it is asked for: Ed25519 is deterministic and a head says the time of its newest entry, so the
same record always gives the same bytes, and nothing needs to be kept.
"""

from dataclasses import dataclass
from typing import Any

from portal.record.log.canonical import read
from portal.record.log.heads import Head, SignedHead, Signer
from portal.record.log.merkle import peaks_of, root_over
from portal.record.log.proofs import consistency_positions, consistency_proof, inclusion_positions, inclusion_proof
from portal.record.log.withdrawals import person_of, taken_back_by
from portal.record.papers.export import export_file
from portal.record.papers.head_line import head_line
from portal.record.papers.receipt import Receipt
from portal.store.engine.database import read as reading
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import record_rows
from portal.words.plurals import counted


def signed_head(project_id: int, signer: Signer) -> SignedHead | None:
    """The head over all entries, or None while there are none."""
    edge = record_rows.edge(project_id)
    if edge.last is None:
        return None
    root = edge.frontier.root.hex()
    return signer.signed(Head(project_id, edge.last.sequence, root, edge.last.at))


def head_words(project_id: int, signer: Signer) -> str:
    """The head over all entries as the line of text that each letter carries; empty while there are none."""
    signed = signed_head(project_id, signer)
    return head_line(signed) if signed else ""


def receipt_for(project_id: int, sequence: int, signer: Signer) -> Receipt:
    """The receipt of one entry. Raises NotFound."""
    with reading():
        row, signed = record_rows.one(project_id, sequence), signed_head(project_id, signer)
        if row is None or signed is None:
            raise NotFound(what="entry")
        positions = inclusion_positions(sequence - 1, signed.head.size)
        nodes = record_rows.nodes_at(project_id, positions)
    proof = inclusion_proof(nodes, sequence - 1, signed.head.size)
    return Receipt(read(row[2]), proof, signed)


def entry_of_approval(project_id: int, number: int, revision: int, person_id: int) -> int | None:
    """The sequence of the entry by which this person approved, on a screen or on paper."""
    for canonical in record_rows.of_kind(project_id, "approved"):
        entry = read(canonical)
        body = entry["body"]
        if (body["decision"], body["revision"], person_of(entry)) == (number, revision, person_id):
            return int(entry["sequence"])
    return None


def entry_of_acceptance(project_id: int, handover_id: int) -> int | None:
    """The sequence of the entry by which this hand-over was accepted; None while it is not."""
    entries = map(read, record_rows.of_kind(project_id, "handover_accepted"))
    return next((int(one["sequence"]) for one in entries if one["body"]["handover"] == handover_id), None)


def withdrawal_of(project_id: int, approved: dict[str, Any]) -> dict[str, Any] | None:
    """The entry by which this approval, an entry of the record, was taken back; None while it was not."""
    return taken_back_by(approved, map(read, record_rows.of_kind(project_id, "withdrawn")))


def every_receipt(project_id: int, signer: Signer) -> list[Receipt]:
    """The receipts of all entries under one head: the nodes of the tree are read once, and one signature is made."""
    with reading():
        signed = signed_head(project_id, signer)
        rows, nodes = list(record_rows.every(project_id)), dict(record_rows.all_nodes(project_id))
    found = []
    for sequence, _, canonical in rows:
        assert signed is not None
        found.append(Receipt(read(canonical), inclusion_proof(nodes, sequence - 1, signed.head.size), signed))
    return found


def record_file(project_id: int, signer: Signer) -> bytes:
    """All entries and the head over them, as the homeowner's own copy carries them."""
    with reading():
        signed = signed_head(project_id, signer)
        entries = [canonical for _, _, canonical in record_rows.every(project_id)]
    return export_file(project_id, entries, [signed] if signed else [])


@dataclass(frozen=True, slots=True)
class Growth:
    """That the record of `second` entries begins with that of `first`: the roots of both, and the proof."""

    first: int
    second: int
    first_root: bytes
    second_root: bytes
    proof: list[bytes]


def growth(project_id: int, first: int, second: int) -> Growth:
    """Proof that an earlier head was not rewritten (RFC 9162, 2.1.4). Raises FieldRefused for sizes it never had."""
    with reading():
        size = record_rows.count(project_id)
        if second > size:
            entries = counted(size, "entry", "entries")
            raise FieldRefused("second", f"The record has {entries}. Ask for at most that many.")
        if first > second:
            raise FieldRefused("first", "The first size can’t be larger than the second.")
        wanted = [*consistency_positions(first, second), *peaks_of(0, first), *peaks_of(0, second)]
        nodes = record_rows.nodes_at(project_id, wanted)
    old, new = (root_over([nodes[position] for position in peaks_of(0, count)]) for count in (first, second))
    return Growth(first, second, old, new, consistency_proof(nodes, first, second))
