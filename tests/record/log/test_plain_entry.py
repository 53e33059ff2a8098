"""The short way to check an entry never says yes where the careful way says no."""

import hashlib
import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.record.checking.entry_check import Place, content_at
from portal.record.log.canonical import canonical
from portal.record.log.chain import NO_HASH, next_entry
from portal.record.log.plain_entry import PlainCheck
from portal.record.verdict import Fault
from tests.record.chains import MARTA, OFFICE

NOON = "2026-11-25T12:00:00Z"
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text() | st.floats(-1e20, 1e20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3), max_leaves=8,
)
ODD = [b"", b" ", b",", b'"', b"\\", b"{", b"}", b"0", b".0", b"1e5", b"9" * 17, b"\xc3", b"\xf0\x9f\x98\x80",
       b',"body":{}', b',"at":"2026-11-25T12:00:00Z"', b',"clock_moved":true', b',"kind":"asked"', b"null", b"[[["]


def short(data: bytes) -> str | None:
    check = PlainCheck(3)
    assert check.time_of(data, 1, NO_HASH, "") == check.time_of(data, 1, NO_HASH, "")
    return check.time_of(data, 1, NO_HASH, "")


def careful(data: bytes) -> str | None:
    try:
        return content_at(Place(3, 1), (1, hashlib.sha256(data).hexdigest(), data))["at"]
    except Fault:
        return None


@settings(max_examples=60)
@given(st.dictionaries(st.text(max_size=5), VALUES, max_size=4))
def test_whatever_was_written_holds_both_ways_or_only_the_careful_one(body: dict[str, Any]) -> None:
    data = next_entry(3, None, NOON, MARTA, "approved", body).canonical
    assert careful(data) == NOON
    assert short(data) in (NOON, None)


@settings(max_examples=60)
@given(st.data(), st.sampled_from(ODD), st.sampled_from(ODD))
def test_bytes_put_into_an_entry_never_pass_only_the_short_way(data: st.DataObject, one: bytes, other: bytes) -> None:
    entry = next_entry(3, None, NOON, OFFICE, "answered", {"answer": "Yes: 1⅜″", "mm": 34.925, "open": []}).canonical
    start, end = sorted(data.draw(st.tuples(st.integers(0, len(entry)), st.integers(0, len(entry)))))
    for changed in (entry[:start] + one + entry[start:], entry[:start] + one + entry[start:end] + other + entry[end:],
                    entry[:start] + one + entry[min(start + 1, end):]):
        assert short(changed) is None or careful(changed) == short(changed)


@pytest.mark.parametrize("body", [
    {"decision": 1, "option": "b", "cents": -12500}, {"text": "1⅜″ für Löwe"}, {"mm": 34.925, "deep": [{"é": None}]},
])
def test_everyday_entries_take_the_short_way(body: dict[str, Any]) -> None:
    assert short(next_entry(3, None, NOON, MARTA, "approved", body).canonical) == NOON


@pytest.mark.parametrize("body", [
    '{"a":1.0}', '{"a":1e-7}', '{"a":9007199254740993}', '{"\U0001f602":1}', '{"a":1,"a":1}', '{"b":1,"a":1}',
    '{"a":NaN}', '{"a":"\\u0041"}', "[]", "null", '{"a":1}{}', "{}}",
])
def test_what_the_short_way_cannot_judge_it_leaves(body: str) -> None:
    whole = json.loads(next_entry(3, None, NOON, MARTA, "approved", {}).canonical)
    data = canonical(whole).decode().replace('"body":{}', f'"body":{body}').encode()
    assert short(data) is None
