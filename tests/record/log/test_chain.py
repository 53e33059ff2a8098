"""The chain of entries: each names the one before, the order is the sequence, and a moved clock is said."""

import dataclasses
import hashlib
import json
from typing import Any

import pytest

from portal.record.log.chain import NO_HASH, Entry, Newest, NotATime, UnknownKind, is_earlier, next_entry
from portal.record.log.entry_kinds import KINDS
from portal.record.log.unrecordable import IntegerTooLarge

MARTA = {"kind": "person", "id": 7, "name": "Marta", "role": "homeowner"}
NOON = "2026-11-25T12:00:00Z"


def after(entry: Entry | None, at: str = NOON, body: dict[str, Any] | None = None) -> Entry:
    last = Newest(entry.sequence, entry.hash, entry.at) if entry else None
    return next_entry(3, last, at, MARTA, "approved", body or {"option": "b"})


def test_an_entry_says_nothing_of_a_moved_clock_unless_it_is_told() -> None:
    plain = Entry(3, 1, NO_HASH, NOON, MARTA, "approved", {"option": "b"})
    assert plain == after(None) and "clock_moved" not in plain.content()


def test_the_first_entry_follows_nothing() -> None:
    first = after(None)
    assert (first.project, first.sequence, first.previous) == (3, 1, NO_HASH)
    assert not first.clock_moved


def test_each_entry_names_the_one_before() -> None:
    first = after(None)
    second = after(first)
    assert (second.sequence, second.previous) == (2, first.hash)


def test_the_hash_is_the_sha256_of_the_canonical_bytes_which_say_it_all() -> None:
    entry = after(None)
    assert entry.hash == hashlib.sha256(entry.canonical).hexdigest()
    assert json.loads(entry.canonical) == {
        "actor": MARTA, "at": NOON, "body": {"option": "b"}, "kind": "approved", "previous": NO_HASH, "project": 3,
        "sequence": 1,
    }


@pytest.mark.parametrize("change", [
    {"project": 4}, {"sequence": 2}, {"previous": "1" * 64}, {"at": "2026-11-25T12:00:01Z"},
    {"actor": {**MARTA, "name": "Jonas"}}, {"kind": "withdrawn"}, {"body": {"option": "a"}}, {"clock_moved": True},
])
def test_whatever_an_entry_says_is_in_its_hash(change: dict[str, Any]) -> None:
    entry = after(None)
    assert dataclasses.replace(entry, **change).hash != entry.hash


def test_a_clock_that_was_set_back_is_said_in_the_entry() -> None:
    first = after(None)
    second = after(first, "2026-11-25T11:59:59Z")
    assert second.clock_moved and json.loads(second.canonical)["clock_moved"] is True
    assert second.sequence == 2
    assert not after(second, "2026-11-25T11:59:59Z").clock_moved


@pytest.mark.parametrize(("at", "than", "earlier"), [
    ("2026-11-25T12:00:00Z", "2026-11-25T12:00:00Z", False),
    ("2026-11-25T12:00:00.5Z", "2026-11-25T12:00:00Z", False),
    ("2026-11-25T12:00:00Z", "2026-11-25T12:00:00.5Z", True),
    ("2026-11-25T12:00:00.5Z", "2026-11-25T12:00:00.500000Z", False),
    ("2026-11-25T12:00:00.500000Z", "2026-11-25T12:00:00.5Z", False),
    ("2026-11-25T12:00:00.49Z", "2026-11-25T12:00:00.5Z", True),
    ("2026-11-25T12:00:00.000Z", "2026-11-25T12:00:00Z", False),
    ("2026-12-01T00:00:00Z", "2026-11-30T23:59:59.999999Z", False),
])
def test_times_compare_however_many_digits_they_have(at: str, than: str, earlier: bool) -> None:
    assert is_earlier(at, than) is earlier


@pytest.mark.parametrize("at", ["", "2026-11-25 12:00:00Z", "2026-11-25T12:00:00", "2026-11-25T12:00:00+01:00",
                                "2026-11-25T12:00:00.1234567Z", "2026-11-25T12:00:00Z\n", "２026-11-25T12:00:00Z"])
def test_a_time_that_is_not_utc_is_refused(at: str) -> None:
    with pytest.raises(NotATime, match="^at: "):
        after(None, at)


def test_a_kind_outside_the_set_is_refused_and_the_set_is_named() -> None:
    with pytest.raises(UnknownKind, match="'agreed'.* approved, withdrawn"):
        next_entry(3, None, NOON, MARTA, "agreed", {})


def test_a_body_that_json_would_round_is_refused() -> None:
    with pytest.raises(IntegerTooLarge, match=r"^body\.cents: "):
        after(None, body={"cents": 2**60})


def test_every_kind_is_one_word_and_explained() -> None:
    assert all(kind.replace("_", "").isalpha() and kind.islower() and said for kind, said in KINDS.items())
