"""A file of the record is read in one way only: canonical, with the expected fields of the expected types."""

from typing import Any

import pytest

from portal.record.log.strict_reading import Misshapen, fields, hexadecimal, is_canonical, read_canonical, signed_head
from tests.record.chains import SIGNER, told

HEAD = told().head()
NAMES = {"name": str, "count": int, "list": list, "object": dict}
GOOD = {"name": "x", "count": 1, "list": [], "object": {}}


def refused(call: Any) -> Misshapen:
    with pytest.raises(Misshapen) as found:
        call()
    return found.value


def test_canonical_json_is_read_as_its_value() -> None:
    assert read_canonical(b'{"a":[1,2.5,"\xc3\xa9"]}') == {"a": [1, 2.5, "é"]}


@pytest.mark.parametrize("data", [
    b'{"a": 1}', b'{"b":1,"a":1}', b'{"a":1}\n', b'{"a":1.0}', b'{"a":1,"a":1}', b'"\\u0041"', b"9007199254740993",
    b"NaN", b"-0", b"1e1",
])
def test_json_that_is_written_otherwise_is_refused(data: bytes) -> None:
    words = "it is not in its canonical form (RFC 8785): a space, an order or a letter was changed."
    wrong = refused(lambda: read_canonical(data))
    assert (str(wrong), wrong.field) == (words, "")


@pytest.mark.parametrize("data", [b"", b"{", b"\xff", b"[" * 50_000, b"{'a':1}"])
def test_what_is_not_json_is_refused(data: bytes) -> None:
    assert str(refused(lambda: read_canonical(data))) == (
        "it is not JSON. The file was cut off or changed; get it again."
    )


def test_a_value_that_has_no_canonical_form_is_canonical_in_no_bytes() -> None:
    assert is_canonical({"a": 1}, b'{"a":1}')
    assert not is_canonical({"a": 1}, b'{"a":2}') and not is_canonical(float("nan"), b"NaN")


def test_an_object_with_exactly_these_fields_is_returned() -> None:
    assert fields(GOOD, "", NAMES) is GOOD


@pytest.mark.parametrize(("value", "where", "field", "words"), [
    ([], "", "", "should be an object."),
    ("x", "head", "head", "head: should be an object."),
    (GOOD | {"more": 1}, "", "more", "more: is not a field of this file."),
    (GOOD | {"more": 1}, "head", "head.more", "head.more: is not a field of this file."),
    (GOOD | {"name": 1}, "", "name", "name: should be text."),
    (GOOD | {"count": True}, "", "count", "count: should be a whole number."),
    (GOOD | {"count": 1.5}, "", "count", "count: should be a whole number."),
    (GOOD | {"list": {}}, "", "list", "list: should be a list."),
    (GOOD | {"object": None}, "", "object", "object: should be an object."),
    ({"count": 1}, "", "name", "name: is missing."),
    ({"name": "x"}, "head", "head.count", "head.count: is missing."),
])
def test_the_first_field_that_is_not_as_it_should_be_is_named(value: Any, where: str, field: str, words: str) -> None:
    wrong = refused(lambda: fields(value, where, NAMES))
    assert (wrong.field, str(wrong)) == (field, words)


def test_hashes_are_read_from_lower_case_digits_alone() -> None:
    assert hexadecimal("0aff", 4, "root") == b"\x0a\xff"
    for wrong in ("0AFF", "0af", "0afff", 5, None, ["0aff"]):
        assert str(refused(lambda wrong=wrong: hexadecimal(wrong, 4, "root"))) == (
            "root: should be 4 lower-case hex digits."
        )


def test_a_signed_head_is_read_back() -> None:
    assert signed_head(HEAD.content, "") == HEAD
    unsigned = HEAD.content | {"signature": "0" * 128}
    assert not signed_head(unsigned, "").holds, "whether it holds is another question"


@pytest.mark.parametrize(("change", "field"), [
    ({"head": 5}, "heads.0.head"), ({"public_key": "x"}, "heads.0.public_key"),
    ({"signature": SIGNER.public_key}, "heads.0.signature"), ({"more": 1}, "heads.0.more"),
    ({"head": HEAD.content["head"] | {"root": "x"}}, "heads.0.head.root"),
    ({"head": HEAD.content["head"] | {"size": "9"}}, "heads.0.head.size"),
    ({"head": HEAD.content["head"] | {"more": 9}}, "heads.0.head.more"),
])
def test_whatever_is_wrong_with_a_signed_head_is_named_by_its_path(change: dict[str, Any], field: str) -> None:
    assert refused(lambda: signed_head(HEAD.content | change, "heads.0")).field == field
