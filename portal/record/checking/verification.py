"""Verification in words: of a project's record, of a receipt, of an exported record, of one head after another."""

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from portal.record.checking.chain_check import CheckedChain, check_chain
from portal.record.checking.entry_check import Row, check_content
from portal.record.checking.signing_keys import check_signature, keys_in_force
from portal.record.log.canonical import canonical
from portal.record.log.chain import entry_hash
from portal.record.log.entry_kinds import KINDS
from portal.record.log.heads import Head, SignedHead, is_hex, key_name
from portal.record.log.merkle import Node, Position, leaf_hash
from portal.record.log.proofs import verify_consistency, verify_inclusion
from portal.record.log.strict_reading import Misshapen
from portal.record.log.unrecordable import NotRecordable
from portal.record.papers.export import parse_export
from portal.record.papers.receipt import Receipt, parse_receipt
from portal.record.verdict import Fault, Verdict
from portal.words.capitals import first_upper
from portal.words.plurals import all_of, counted, plural, times


def verify_record(
    project: int,
    rows: Iterable[Row],
    heads: Sequence[SignedHead] = (),
    *,
    nodes: Iterable[Node] | None = None,
    trusted: Collection[str] = (),
    whole: bool = False,
) -> Verdict:
    """Check a project's record from its first entry.

    `rows` in the order in which they are kept; `heads` of any age (also those of receipts); `nodes`: all that are kept,
    None: they are not looked at; `trusted`: public keys in hex, one of which has to be in force, none: any; `whole`:
    the newest head has to cover every entry, so that none can be missing at the end.
    """
    said: list[str] = []
    try:
        chain = check_chain(project, rows)
        said.extend(_of_entries(project, chain))
        if nodes is not None:
            said.append(_of_nodes(chain, nodes))
        said.extend(_of_heads(project, chain, heads, trusted, whole))
    except Fault as fault:
        return Verdict(tuple(said), str(fault))
    return Verdict(tuple(said))


def verify_export(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check the record file of a homeowner's copy: every entry, and the heads, of which the last covers them all.

    `trusted`: public keys in hex, one of which has to be in force; none: any.
    """
    try:
        found = parse_export(data)
    except Misshapen as wrong:
        return Verdict((), f"the record file cannot be read: {wrong}")
    rows = (_row_of(entry) for entry in found.entries)
    return verify_record(found.project, rows, found.heads, trusted=trusted, whole=True)


def verify_receipt(data: bytes, trusted: Collection[str] = ()) -> Verdict:
    """Check a receipt file: that its entry is in the record whose head was signed, with this very content.

    `trusted`: public keys in hex, one of which has to be the one that signed; none: any.
    """
    said: list[str] = []
    try:
        receipt = parse_receipt(data)
        check_content(receipt.entry, "the entry")
        said.append(_of_receipt(receipt))
        said.append(_of_inclusion(receipt))
        check_signature(receipt.signed, "the head")
        if trusted and receipt.signed.public_key not in trusted:
            raise Fault(f"the key {key_name(receipt.signed.public_key)} is none of those that you trust.")
        said.append(_of_key(receipt.signed.public_key, trusted))
    except Misshapen as wrong:
        return Verdict(tuple(said), f"the receipt cannot be read: {wrong}")
    except Fault as fault:
        return Verdict(tuple(said), str(fault))
    return Verdict(tuple(said))


def verify_growth(earlier: SignedHead, later: SignedHead, proof: Sequence[bytes]) -> Verdict:
    """Check that the record under the later head begins with the one under the earlier head (RFC 9162, 2.1.4).

    `proof`: what `consistency_proof` gives for their sizes.
    """
    old, new = earlier.head, later.head
    try:
        for signed, name in ((earlier, "the earlier head"), (later, "the later head")):
            check_signature(signed, name)
        if old.project != new.project:
            raise Fault(f"one head is of project {old.project}, the other of project {new.project}.")
        if not verify_consistency(old.size, new.size, _root(old), _root(new), proof):
            signed_before = f"{old.size} that {plural(old.size, 'was', 'were')} signed before"
            raise Fault(f"the record of {_entries(new.size)} does not begin with the {signed_before}.")
    except Fault as fault:
        return Verdict((), str(fault))
    first = f"{old.size} that {plural(old.size, 'was', 'were')} signed on {old.at}"
    return Verdict((f"The record of {_entries(new.size)} begins with the {first}.",))


def _root(head: Head) -> bytes:
    return bytes.fromhex(head.root) if is_hex(head.root, 64) else b""


def _row_of(entry: dict[str, Any]) -> Row:
    data = canonical(entry)
    number = entry.get("sequence")
    # A number that is none is left for the check of the content, which says so.
    return number if type(number) is int else -1, entry_hash(data), data


def _of_entries(project: int, chain: CheckedChain) -> list[str]:
    if not chain.size:
        return [f"The record of project {project} has no entries yet."]
    when = f"from {chain.first_at} to {chain.last_at}"
    entries = _entries(chain.size)
    said = [f"The record of project {project} has {entries}, {when}. Each is unchanged and follows the one before."]
    if chain.moved:
        said.append(f"The clock was set back {times(chain.moved)}. The entries say so; their numbers give the order.")
    return said


def _of_nodes(chain: CheckedChain, nodes: Iterable[Node]) -> str:
    met: set[Position] = set()
    for position, kept in nodes:
        level, index = position
        if chain.node(position) != kept:
            raise Fault(f"the kept node {index} of level {level} is not the one that the entries give.")
        if position in met:
            raise Fault(f"the kept node {index} of level {level} is there twice.")
        met.add(position)
    wanted = sum(map(len, chain.levels))
    if len(met) != wanted:
        there = counted(len(met), "node of the tree is kept", "nodes of the tree are kept")
        raise Fault(f"{there}, but {_entries(chain.size)} {plural(chain.size, 'gives', 'give')} {wanted}.")
    same = plural(wanted, "is the one", "are those")
    return f"{first_upper(all_of(wanted, 'kept node'))} of the tree {same} that the entries give."


def _of_heads(
    project: int, chain: CheckedChain, heads: Sequence[SignedHead], trusted: Collection[str], whole: bool
) -> list[str]:
    by_size = sorted(heads, key=lambda signed: signed.head.size)
    keys = keys_in_force(chain.rotations, by_size, trusted)
    for signed in by_size:
        _check_head(project, chain, signed)
        check_signature(signed, _name(signed), [key for since, key in keys if since <= signed.head.size][-1])
    newest = by_size[-1].head.size if by_size else 0
    if whole and newest != chain.size:
        raise Fault(f"the newest signed head covers {_entries(newest)}, but {chain.size} are here.")
    if not by_size:
        return ["No signed head was given, so entries could be missing at the end."]
    left = chain.size - newest
    covers = f"covers {all_of(newest, 'entry', 'entries')}."
    if left:
        covers = f"covers {newest}; {counted(left, 'is not', 'are not')} under a signature yet."
    many = counted(len(by_size), "signed head fits", "signed heads fit")
    losses = (_of_loss(sequence, body) for sequence, body, lost in chain.rotations if lost)
    return [f"{many} the entries; the newest {covers}", *losses, *(_of_key(key, trusted) for _, key in keys[-1:])]


def _check_head(project: int, chain: CheckedChain, signed: SignedHead) -> None:
    head = signed.head
    if head.project != project:
        raise Fault(f"{_name(signed)} belongs to project {head.project}.")
    if not 0 <= head.size <= chain.size:
        raise Fault(f"{_name(signed)} was signed, but only {chain.size} are here: entries are missing at the end.")
    if chain.root(head.size).hex() != head.root:
        raise Fault(f"{_name(signed)} has another root than the entries give: entries or head were replaced.")


def _name(signed: SignedHead) -> str:
    return f"the head over {_entries(signed.head.size)}"


def _of_receipt(receipt: Receipt) -> str:
    entry = receipt.entry
    said = f"Entry {entry['sequence']} of project {entry['project']}, {entry['at']}, by {entry['actor']['name']}"
    option = entry["body"].get("option")
    return f"{said}: {KINDS[entry['kind']]}{f' (option {option})' if option else ''}."


def _of_inclusion(receipt: Receipt) -> str:
    entry, head = receipt.entry, receipt.signed.head
    if entry["project"] != head.project:
        raise Fault(f"the entry is of project {entry['project']}, the head of project {head.project}.")
    try:
        leaf = leaf_hash(canonical(entry))
    except NotRecordable as wrong:
        raise Fault(f"the entry has no canonical form: {wrong}") from None
    if not verify_inclusion(leaf, entry["sequence"] - 1, head.size, receipt.proof, bytes.fromhex(head.root)):
        raise Fault("the proof does not lead from this entry to the root: entry, proof or head was changed.")
    return f"It is in the record as it stood with {_entries(head.size)} on {head.at}."


def _of_loss(sequence: int, body: dict[str, Any]) -> str:
    old = f"the key {key_name(body['old_key'])}" if body["old_key"] else "the key before"
    return f"Entry {sequence} says that {old} was lost: it does not vouch for key {key_name(body['new_key'])}."


def _of_key(key: str, trusted: Collection[str]) -> str:
    if key in trusted:
        return f"The head is signed with key {key_name(key)}, as you expected."
    if trusted:
        return f"The head is signed with key {key_name(key)}, which took over from the key that you trust."
    return f"The head is signed with key {key_name(key)}. Compare that with the key in your papers."


def _entries(number: int) -> str:
    return counted(number, "entry", "entries")
