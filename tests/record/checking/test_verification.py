"""Every single change to a small record is found, and the first fault is said in words."""

import dataclasses
import hashlib
import json
from itertools import combinations
from typing import Any

import pytest

from portal.record.checking.entry_check import Row
from portal.record.checking.verification import verify_growth, verify_record
from portal.record.log.canonical import canonical
from portal.record.log.heads import Head, Signer, key_name
from portal.record.log.proofs import consistency_proof
from portal.record.verdict import Verdict
from tests.record.chains import PROJECT, SECOND_SIGNER, SIGNER, Record, told, with_new_key

RECORD = told()
ROWS = RECORD.rows
HEAD = RECORD.head()
COUNT = len(ROWS)


def check(rows: list[Row], **more: Any) -> Verdict:
    return verify_record(PROJECT, rows, [HEAD], whole=True, **more)


def rehashed(rows: list[Row]) -> list[Row]:
    """As a forger would keep them who can also write the hashes."""
    return [(sequence, hashlib.sha256(data).hexdigest(), data) for sequence, _, data in rows]


def relinked(contents: list[dict[str, Any]]) -> list[Row]:
    """As a forger would keep them who builds the whole chain anew."""
    rows: list[Row] = []
    for sequence, content in enumerate(contents, 1):
        previous = rows[-1][1] if rows else "0" * 64
        data = canonical(content | {"sequence": sequence, "previous": previous})
        rows.append((sequence, hashlib.sha256(data).hexdigest(), data))
    return rows


def test_a_record_as_it_was_written_holds_and_says_so() -> None:
    verdict = check(ROWS, nodes=RECORD.nodes.items(), trusted=[SIGNER.public_key])
    assert verdict.ok
    when = "from 2026-11-02T14:00:00Z to 2026-11-05T09:00:00Z"
    assert verdict.sentences == (
        f"The record of project 3 has 9 entries, {when}. Each is unchanged and follows the one before.",
        "The clock was set back once. The entries say so; their numbers give the order.",
        "All 16 kept nodes of the tree are those that the entries give.",
        "1 signed head fits the entries; the newest covers all 9 entries.",
        "The head is signed with key KEY, as you expected.".replace("KEY", key_name(SIGNER.public_key)),
    )
    assert str(verdict).endswith("\nAll of it holds.")


def test_an_empty_record_holds() -> None:
    empty = Record()
    assert verify_record(PROJECT, [], nodes=[]).ok
    assert verify_record(PROJECT, [], [empty.head()], whole=True).ok


def test_entries_not_yet_under_a_signature_are_named() -> None:
    verdict = verify_record(PROJECT, ROWS, [told(count=7).head()])
    assert verdict.ok and "the newest covers 7; 2 are not under a signature yet." in str(verdict)
    assert "entries could be missing at the end" in str(verify_record(PROJECT, ROWS))


@pytest.mark.parametrize("sequence", range(1, COUNT + 1))
def test_any_byte_of_any_entry_changed_is_found(sequence: int) -> None:
    number, kept, data = ROWS[sequence - 1]
    for place in range(len(data)):
        changed = data[:place] + bytes([data[place] ^ 1 << place % 6]) + data[place + 1:]
        rows = [*ROWS[:sequence - 1], (number, kept, changed), *ROWS[sequence:]]
        assert not check(rows).ok
        assert not check(rehashed(rows)).ok


@pytest.mark.parametrize("sequence", range(1, COUNT + 1))
def test_a_kept_hash_or_number_changed_is_found(sequence: int) -> None:
    number, kept, data = ROWS[sequence - 1]
    for changed in ((number, "0" + str(kept)[1:] if str(kept)[0] != "0" else "1" + str(kept)[1:], data),
                    (number + 1, kept, data), (number - 1, kept, data), (-number, kept, data)):
        assert not check([*ROWS[:sequence - 1], changed, *ROWS[sequence:]]).ok


@pytest.mark.parametrize("sequence", range(1, COUNT + 1))
def test_any_entry_dropped_or_doubled_is_found_and_named(sequence: int) -> None:
    dropped = check(ROWS[:sequence - 1] + ROWS[sequence:])
    if sequence < COUNT:
        assert dropped.first_fault == f"entry {sequence} is missing: entry {sequence + 1} stands in its place."
    else:
        assert dropped.first_fault == (
            "the head over 9 entries was signed, but only 8 are here: entries are missing at the end."
        )
    assert check(ROWS[:sequence] + ROWS[sequence - 1:]).first_fault == f"entry {sequence} is there twice."


@pytest.mark.parametrize(("one", "other"), list(combinations(range(COUNT), 2)))
def test_any_two_entries_exchanged_are_found(one: int, other: int) -> None:
    rows = list(ROWS)
    rows[one], rows[other] = rows[other], rows[one]
    assert not check(rows).ok
    renumbered = [(sequence, kept, data) for sequence, (_, kept, data) in enumerate(rows, 1)]
    assert f"says that it is entry {other + 1}" in str(check(renumbered))


@pytest.mark.parametrize("sequence", range(1, COUNT + 1))
def test_a_chain_built_anew_without_or_with_another_entry_does_not_fit_the_signed_head(sequence: int) -> None:
    contents = [json.loads(data) for _, _, data in ROWS]
    without = relinked(contents[:sequence - 1] + contents[sequence:])
    assert not check(without).ok
    other = [*contents[:sequence - 1], contents[sequence - 1] | {"body": {"option": "a"}}, *contents[sequence:]]
    assert check(relinked(other)).first_fault == (
        "the head over 9 entries has another root than the entries give: entries or head were replaced."
    )


@pytest.mark.parametrize(("change", "words"), [
    ({"kind": "agreed"}, "entry 9 is of a kind that does not exist: 'agreed'."),
    ({"at": "yesterday"}, "entry 9 has no time in UTC: 'yesterday'."),
    ({"at": "2020-01-01T00:00:00Z"}, "entry 9 does not say rightly whether the clock was set back before it."),
    ({"clock_moved": True}, "entry 9 does not say rightly whether the clock was set back before it."),
    ({"clock_moved": False}, "entry 9: clock_moved: is not a field of this file."),
    ({"actor": {"kind": "person"}}, "entry 9 does not say who did it: id, name of the actor missing."),
    ({"actor": "Marta"}, "entry 9: actor: should be an object."),
    ({"body": []}, "entry 9: body: should be an object."),
    ({"more": 1}, "entry 9: more: is not a field of this file."),
    ({"project": 4}, "entry 9 belongs to project 4, not to project 3."),
    ({"sequence": 8}, "entry 9 says that it is entry 8: it was put in the wrong place."),
    ({"previous": "0" * 64}, "entry 9 does not follow entry 8: it names another hash."),
])
def test_what_an_entry_must_not_say_is_said_in_words(change: dict[str, Any], words: str) -> None:
    data = canonical(json.loads(ROWS[-1][2]) | change)
    assert check(rehashed([*ROWS[:-1], (COUNT, None, data)])).first_fault.startswith(words)


@pytest.mark.parametrize(("old", "new"), [
    (b'"phase":12', b'"phase": 12'), (b'"open":[],', b'"open":[],"open":[],'), (b'"phase":12', b'"phase":12.0'),
    (b'"open":[],"phase":12', b'"phase":12,"open":[]'), (b'"M', b'"\\u004d'),
    (b'"phase":12', b'"phase":9007199254740993'), (b"}", b"} "), (b'"id":7', b'"id":7,"id":7'),
])
def test_an_entry_that_could_be_read_in_two_ways_is_found(old: bytes, new: bytes) -> None:
    data = ROWS[-1][2]
    changed = data[::-1].replace(old[::-1], new[::-1], 1)[::-1]
    assert changed != data
    assert check(rehashed([*ROWS[:-1], (COUNT, None, changed)])).first_fault == (
        "entry 9 is not in its canonical form (RFC 8785), so its hash says nothing."
    )


@pytest.mark.parametrize("change", [
    {"size": 8}, {"size": 10}, {"size": 0}, {"size": -1}, {"project": 4}, {"root": "0" * 64},
    {"at": "2026-11-05T09:00:02Z"},
])
def test_a_head_with_anything_exchanged_is_found(change: dict[str, Any]) -> None:
    forged = dataclasses.replace(HEAD, head=dataclasses.replace(HEAD.head, **change))
    assert not verify_record(PROJECT, ROWS, [forged]).ok


def test_a_head_of_another_project_or_another_record_is_found() -> None:
    assert "belongs to project 4" in str(verify_record(PROJECT, ROWS, [told(4).head()]))
    other = Record()
    other.add("2026-11-02T14:00:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "asked", {})
    assert "has another root" in str(verify_record(PROJECT, ROWS, [HEAD, other.head()]))


def test_every_earlier_head_is_checked_too() -> None:
    heads = [told(count=count).head(f"2026-11-06T00:00:0{count}Z") for count in range(COUNT + 1)]
    assert verify_record(PROJECT, ROWS, heads).ok
    for place, head in enumerate(heads):
        wrong = SIGNER.signed(dataclasses.replace(head.head, root="f" * 64))
        entries = "1 entry" if place == 1 else f"{place} entries"
        assert f"the head over {entries} has another root" in str(
            verify_record(PROJECT, ROWS, [*heads[:place], wrong, *heads[place + 1:]])
        )


def test_any_kept_node_changed_missing_or_doubled_is_found() -> None:
    nodes = list(RECORD.nodes.items())
    for place, (position, made) in enumerate(nodes):
        wrong = bytes([made[0] ^ 1]) + made[1:]
        for changed in ([(position, wrong)], [], [(position, made)] * 2, [((position[0] + 1, position[1] + 9), made)]):
            assert not check(ROWS, nodes=[*nodes[:place], *changed, *nodes[place + 1:]]).ok


def test_a_new_key_signs_from_its_entry_on_and_the_old_one_no_more() -> None:
    record, heads = with_new_key()
    late = record.head(signer=SIGNER)
    assert "was in force then" in str(verify_record(PROJECT, record.rows, [heads[0], late]))
    early = SECOND_SIGNER.signed(heads[0].head)
    assert "was in force then" in str(verify_record(PROJECT, record.rows, [early, heads[1]]))
    vouched = verify_record(PROJECT, record.rows, heads, trusted=[SIGNER.public_key])
    assert vouched.ok and "took over from the key that you trust" in str(vouched)
    new = verify_record(PROJECT, record.rows, heads, trusted=[SECOND_SIGNER.public_key])
    assert new.ok and "as you expected" in str(new)
    untrusted = verify_record(PROJECT, record.rows, heads, trusted=[Signer(bytes(range(64, 96))).public_key])
    assert "none of those that you trust" in str(untrusted)


def test_a_change_of_keys_that_not_both_signed_is_found() -> None:
    record, _ = with_new_key()
    body = dict(record.entries[4].body)
    for change in ({"signed_by_new": body["signed_by_old"]}, {"at": "2026-11-03T09:00:01Z"},
                   {"new_key": "0" * 64}, {"signed_by_old": ""}):
        forged = told(count=4)
        forged.add("2026-11-03T09:00:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "key_rotated", body | change)
        assert "not both keys signed" in str(verify_record(PROJECT, forged.rows))


def test_a_later_head_is_proved_to_extend_an_earlier_one() -> None:
    for first in range(COUNT + 1):
        earlier = told(count=first).head()
        proof = consistency_proof(RECORD.nodes, first, COUNT)
        assert verify_growth(earlier, HEAD, proof).ok
        for wrong in ([*proof, b"x" * 32], [made[::-1] for made in proof] or [b""]):
            assert not verify_growth(earlier, HEAD, wrong).ok
    assert not verify_growth(HEAD, told(count=4).head(), []).ok
    assert not verify_growth(SIGNER.signed(Head(4, 0, "0" * 64, "2026-11-05T09:00:01Z")), HEAD, []).ok


def test_growth_is_said_in_words_and_so_is_what_stands_against_it() -> None:
    earlier = told(count=4).head("2026-11-03T08:00:01Z")
    proof = consistency_proof(RECORD.nodes, 4, COUNT)
    assert str(verify_growth(earlier, HEAD, proof)) == (
        "The record of 9 entries begins with the 4 that were signed on 2026-11-03T08:00:01Z.\nAll of it holds."
    )
    key = key_name(SIGNER.public_key)
    unsigned = dataclasses.replace(earlier, signature="0" * 128)
    for heads, words in (
        ((unsigned, HEAD), f"the signature under the earlier head is not by key {key}, or the head was changed."),
        ((earlier, dataclasses.replace(HEAD, signature="0" * 128)),
         f"the signature under the later head is not by key {key}, or the head was changed."),
        ((told(4, 4).head(), HEAD), "one head is of project 4, the other of project 3."),
        ((HEAD, earlier), "the record of 4 entries does not begin with the 9 that were signed before."),
        ((SIGNER.signed(dataclasses.replace(earlier.head, root="x")), HEAD),
         "the record of 9 entries does not begin with the 4 that were signed before."),
    ):
        verdict = verify_growth(*heads, proof)
        assert verdict.sentences == () and verdict.first_fault == words


def test_one_entry_and_one_head_are_said_in_the_singular() -> None:
    one = told(count=1)
    verdict = verify_record(PROJECT, one.rows, [one.head()], nodes=one.nodes.items())
    assert verdict.sentences[0].startswith("The record of project 3 has 1 entry, from 2026-11-02T14:00:00Z to 2026-11")
    assert len(verdict.sentences) == 4, "no clock was set back"
    assert verify_record(PROJECT, []).sentences[0] == "The record of project 3 has no entries yet."


def test_a_clock_that_was_set_back_twice_is_said_to_be_so() -> None:
    record = told()
    record.add("2026-11-04T09:00:00Z", {"kind": "staff", "id": 1, "name": "Ines"}, "started", {"phase": 1})
    said = verify_record(PROJECT, record.rows).sentences
    assert said[1] == "The clock was set back 2 times. The entries say so; their numbers give the order."


def test_heads_are_told_of_by_their_size_the_newest_last() -> None:
    heads = [HEAD, told(count=4).head("2026-11-03T08:00:01Z")]
    said = verify_record(PROJECT, ROWS, heads, trusted=[SIGNER.public_key], whole=True).sentences
    assert said[-2] == "2 signed heads fit the entries; the newest covers all 9 entries."
    assert "is none of those that you trust" in str(verify_record(PROJECT, ROWS, heads, trusted=["0" * 64]))
    assert "Compare that with the key in your papers." in str(verify_record(PROJECT, ROWS, heads))


def test_kept_nodes_are_each_named_that_do_not_fit() -> None:
    nodes = dict(RECORD.nodes)
    assert check(ROWS, nodes=[*nodes.items(), ((0, 3), nodes[0, 3])]).first_fault == (
        "the kept node 3 of level 0 is there twice."
    )
    swapped = nodes | {(1, 2): nodes[1, 1]}
    assert check(ROWS, nodes=swapped.items()).first_fault == (
        "the kept node 2 of level 1 is not the one that the entries give."
    )
    del nodes[2, 1]
    assert "15 nodes of the tree are kept, but 9 entries give 16." in str(check(ROWS, nodes=nodes.items()))
    doubled = [*nodes.items(), ((0, 0), nodes[0, 0])]
    assert not check(ROWS, nodes=doubled).ok, "one twice does not stand for one that is missing"
