"""The canonical form and its digest, where no outside source speaks."""

import hashlib
from enum import IntEnum, StrEnum
from typing import Any

import pytest

from portal.record.log.canonical import canonical, digest, read
from portal.record.log.unrecordable import BrokenText, NestedTooDeep, NotJson, NotRecordable


class Size(IntEnum):
    BIG = 3


class Word(StrEnum):
    YES = "yes"


def test_the_order_in_which_a_value_was_built_leaves_no_trace() -> None:
    assert canonical({"b": 1, "a": [{"d": 2, "c": 3}]}) == canonical({"a": [{"c": 3, "d": 2}], "b": 1})


def test_the_digest_is_the_sha256_of_the_canonical_form_and_one_letter_changes_it() -> None:
    assert digest({}) == "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"
    assert digest({"b": 1, "a": "é"}) == hashlib.sha256('{"a":"é","b":1}'.encode()).hexdigest()
    assert digest({"question": "Two holes?"}) != digest({"question": "Two hole?"})


@pytest.mark.parametrize(("value", "written"), [
    ((1, [2]), b"[1,[2]]"), ([Size.BIG, Word.YES], b'[3,"yes"]'), (True, b"true"), ({"a": 1.0}, b'{"a":1}'),
    ({"mm": 34.925}, b'{"mm":34.925}'), ({"": {}}, b'{"":{}}'),
])
def test_values_close_to_json_are_written_as_json(value: Any, written: bytes) -> None:
    assert canonical(value) == written


@pytest.mark.parametrize(("value", "error", "field"), [
    ({"rooms": [{"name": "Bath", "area": object()}]}, NotJson, "rooms.0.area"),
    ({"options": {1: "one"}}, NotJson, "options"),
    ({"at": {"x": {1, 2}}}, NotJson, "at.x"),
    ({"name": "half \ud83d"}, BrokenText, "name"),
    ({"deep": {"\udc00": 1}}, BrokenText, "deep"),
    (b"bytes", NotJson, ""),
])
def test_a_refusal_names_the_field(value: Any, error: type[NotRecordable], field: str) -> None:
    with pytest.raises(error) as refused:
        canonical(value)
    assert refused.value.field == field


def test_a_list_that_holds_itself_is_refused() -> None:
    loop: list[Any] = []
    loop.append(loop)
    with pytest.raises(NestedTooDeep):
        canonical(loop)


@pytest.mark.parametrize("value", [2.0**53, -1e20, 1e300, 5e-324, 2**53 - 1, [0.1, {"mm": 34.925}], -0.0])
def test_what_was_written_is_read_back_and_written_alike(value: Any) -> None:
    assert canonical(read(canonical(value))) == canonical(value)


def test_a_whole_number_that_was_rounded_by_reading_is_not_written_alike() -> None:
    assert canonical(read(b"9007199254740993")) == b"9007199254740992"


@pytest.mark.parametrize("data", [b"", b"{", b"[" * 100_000, b"\xff", b"9" * 5000 + b"x"])
def test_what_is_not_json_is_an_error_of_one_kind(data: bytes) -> None:
    with pytest.raises(ValueError):
        read(data)
