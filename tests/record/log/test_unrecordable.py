"""A value without a canonical form is refused with the path to the field and what to do."""

from typing import Any

import pytest

from portal.record.log.unrecordable import (
    BrokenText,
    IntegerTooLarge,
    NotJson,
    NotRecordable,
    NumberNotFinite,
    refusal_of,
)

NAN = float("nan")


@pytest.mark.parametrize("value", [
    None, True, False, 0, 2**53 - 1, 1 - 2**53, 1.5, 1e300, "", "é😀", [], {}, (1, [2]), {"a": {"b": [None]}},
])
def test_what_json_can_say_is_not_refused(value: Any) -> None:
    assert refusal_of(value) is None


@pytest.mark.parametrize(("value", "error", "words"), [
    (2**53, IntegerTooLarge, "the value: 9007199254740992 is beyond 9007199254740991, where JSON loses digits."),
    ({"a": [0, -(2**53)]}, IntegerTooLarge, "a.1: -9007199254740992 is beyond 9007199254740991"),
    ([1, NAN], NumberNotFinite, "1: nan is no number that JSON can write. Leave it out."),
    ({"a": float("-inf")}, NumberNotFinite, "a: -inf is no number that JSON can write."),
    ({"a": "\ud83d"}, BrokenText, "a: holds half a character. Send valid Unicode."),
    ({"a": {"\udc00": 1}}, BrokenText, "a: the key '\\udc00' holds half a character. Send valid Unicode."),
    ({"a": {5: 1}}, NotJson, "a: the key 5 is not text. Write it as text."),
    ({"a": [{"b": b""}]}, NotJson, "a.0.b: bytes is not JSON. Send text, numbers, lists, or objects with text keys."),
    ({1, 2}, NotJson, "the value: set is not JSON."),
    ((1, object()), NotJson, "1: object is not JSON."),
])
def test_the_reason_is_named_with_the_path(value: Any, error: type[NotRecordable], words: str) -> None:
    refusal = refusal_of(value)
    assert type(refusal) is error and str(refusal).startswith(words)


def test_the_first_of_several_reasons_is_named_and_the_path_may_begin_elsewhere() -> None:
    refusal = refusal_of({"fine": 1, "one": NAN, "other": object()}, "body")
    assert refusal is not None and refusal.field == "body.one"
    nested = refusal_of([[["x", NAN]]])
    assert nested is not None and nested.field == "0.0.1"
