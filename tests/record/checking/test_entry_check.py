"""One entry at its place: whatever does not fit is said, the number first, then the bytes, then the links."""

import hashlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.record.checking.entry_check import Place, Row, check_content, content_at
from portal.record.log.canonical import canonical
from portal.record.log.chain import NO_HASH, next_entry
from portal.record.verdict import Fault
from tests.record.chains import MARTA, PROJECT, told

RECORD = told()
SECOND, THIRD = RECORD.entries[1:3]
PLACE = Place(PROJECT, 2, RECORD.entries[0].hash, RECORD.entries[0].at)
NOON = "2026-11-25T12:00:00Z"
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text() | st.floats(-1e20, 1e20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3), max_leaves=8,
)
ODD = [b"", b" ", b",", b'"', b"\\", b"{", b"}", b"0", b".0", b"1e5", b"9" * 17, b"\xc3", b"\xf0\x9f\x98\x80",
       b',"body":{}', b',"at":"2026-11-25T12:00:00Z"', b',"clock_moved":true', b',"kind":"asked"', b"null", b"[[["]


def row(content: Any, sequence: int = 2) -> Row:
    data = content if isinstance(content, bytes) else canonical(content)
    return sequence, hashlib.sha256(data).hexdigest(), data


def fault(found: Row, place: Place = PLACE) -> str:
    with pytest.raises(Fault) as wrong:
        content_at(place, found)
    return str(wrong.value)


def test_an_entry_at_its_place_is_given_back_as_it_was_written() -> None:
    assert content_at(PLACE, row(SECOND.canonical)) == SECOND.content()
    assert content_at(PLACE, (2, None, SECOND.canonical)) == SECOND.content(), "a hash need not have been kept"
    assert content_at(Place(PROJECT, 1), row(RECORD.entries[0].canonical, 1))["previous"] == NO_HASH
    moved = content_at(Place(PROJECT, 3, SECOND.hash, SECOND.at), row(THIRD.canonical, 3))
    assert moved["clock_moved"] is True


@pytest.mark.parametrize(("number", "words"), [
    (1, "entry 1 is there twice."), (3, "entry 2 is missing: entry 3 stands in its place."),
    (9, "entry 2 is missing: entry 9 stands in its place."),
    (0, "entry 0 is out of order: entry 2 should stand in its place."),
    (-2, "entry -2 is out of order: entry 2 should stand in its place."),
])
def test_a_wrong_number_is_said_first(number: int, words: str) -> None:
    assert fault((number, "0" * 64, b"not JSON")) == words


def test_then_bytes_that_lost_their_hash_or_are_no_json() -> None:
    assert fault((2, "0" * 64, b"not JSON")) == (
        "entry 2 was changed: its bytes no longer have the hash that was kept of it."
    )
    assert fault(row(b"not JSON")) == "entry 2 is not JSON: its bytes were changed."
    assert fault(row(b"[" * 50_000)) == "entry 2 is not JSON: its bytes were changed."


def test_then_what_it_says_and_how_it_is_written() -> None:
    content = SECOND.content()
    assert fault(row(content | {"kind": "agreed", "more": 1})) == "entry 2: more: is not a field of this file."
    assert fault(row(content | {"kind": "agreed"})) == "entry 2 is of a kind that does not exist: 'agreed'."
    assert fault(row(canonical(content | {"project": 9}) + b" ")) == (
        "entry 2 is not in its canonical form (RFC 8785), so its hash says nothing."
    )


@pytest.mark.parametrize(("change", "words"), [
    ({"project": 9}, "entry 2 belongs to project 9, not to project 3."),
    ({"sequence": 3}, "entry 2 says that it is entry 3: it was put in the wrong place."),
    ({"previous": "1" * 64},
     "entry 2 does not follow entry 1: it names another hash. One of the two was changed or replaced."),
    ({"clock_moved": True}, "entry 2 does not say rightly whether the clock was set back before it."),
    ({"at": "2026-11-02T13:59:59Z"}, "entry 2 does not say rightly whether the clock was set back before it."),
])
def test_then_what_links_it_to_the_others(change: dict[str, Any], words: str) -> None:
    assert fault(row(SECOND.content() | change)) == words


def test_the_first_entry_follows_nothing() -> None:
    content = RECORD.entries[0].content() | {"previous": "1" * 64}
    assert fault(row(content, 1), Place(PROJECT, 1)).startswith("entry 1 does not follow nothing: ")


@pytest.mark.parametrize(("change", "words"), [
    ({"project": "3"}, "the entry: project: should be a whole number."),
    ({"sequence": True}, "the entry: sequence: should be a whole number."),
    ({"actor": []}, "the entry: actor: should be an object."),
    ({"body": None}, "the entry: body: should be an object."),
    ({"at": "2026-11-25T12:00:00+00:00"}, "the entry has no time in UTC: '2026-11-25T12:00:00+00:00'."),
    ({"actor": {}}, "the entry does not say who did it: id, kind, name of the actor missing."),
    ({"actor": {"id": 1, "kind": "x"}}, "the entry does not say who did it: name of the actor missing."),
    ({"clock_moved": False}, "the entry: clock_moved: is not a field of this file."),
    ({"clock_moved": 1}, "the entry: clock_moved: is not a field of this file."),
])
def test_what_an_entry_must_say_is_checked_without_its_place_too(change: dict[str, Any], words: str) -> None:
    content = SECOND.content()
    assert check_content(content, "the entry") is content
    assert check_content(content | {"clock_moved": True}, "the entry")
    with pytest.raises(Fault) as wrong:
        check_content(content | change, "the entry")
    assert str(wrong.value) == words


@pytest.mark.parametrize("value", [None, 5, "x", [], {}])
def test_what_is_no_entry_at_all_is_said(value: Any) -> None:
    with pytest.raises(Fault, match="^the entry: "):
        check_content(value, "the entry")


@settings(max_examples=60)
@given(st.dictionaries(st.text(max_size=5), VALUES, max_size=4))
def test_whatever_was_written_holds(body: dict[str, Any]) -> None:
    entry = next_entry(PROJECT, None, NOON, MARTA, "approved", body)
    assert canonical(content_at(Place(PROJECT, 1), row(entry.canonical, 1))) == entry.canonical


@settings(max_examples=60)
@given(st.data(), st.sampled_from(ODD), st.sampled_from(ODD))
def test_bytes_put_into_an_entry_are_found_unless_it_is_written_so(data: st.DataObject, one: bytes, two: bytes) -> None:
    body = {"answer": "Yes: 1⅜″", "mm": 34.925, "open": []}
    entry = next_entry(PROJECT, None, NOON, MARTA, "answered", body).canonical
    start, end = sorted(data.draw(st.tuples(st.integers(0, len(entry)), st.integers(0, len(entry)))))
    for changed in (entry[:start] + one + entry[start:], entry[:start] + one + entry[start:end] + two + entry[end:],
                    entry[:start] + one + entry[min(start + 1, end):]):
        try:
            content = content_at(Place(PROJECT, 1), row(changed, 1))
        except Fault:
            continue
        assert canonical(content) == changed
