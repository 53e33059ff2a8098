"""Texts that come to an act without a schema in front of it: kept as typed, or refused by their field."""

import pytest

from portal.acts.refusals import FieldRefused
from portal.acts.written import needed, signature, written
from portal.words import typed


def test_a_text_is_kept_without_the_blanks_around_it() -> None:
    assert written("reason", "  The saw\r\nbroke \n") == "The saw\nbroke"
    assert written("reason", "") == ""


def test_a_text_is_refused_and_never_cut() -> None:
    assert len(written("reason", "x" * 4000)) == 4000
    with pytest.raises(FieldRefused, match="This has 4001 characters. Use at most 4000") as refused:
        written("reason", "x" * 4001)
    assert refused.value.field == "reason"
    assert written("reason", " " * 50 + "x" * 4000 + " " * 50) == "x" * 4000
    with pytest.raises(FieldRefused, match="Use at most 3"):
        written("key", "four", longest=3)


def test_what_can_not_be_seen_is_refused_by_its_field() -> None:
    with pytest.raises(FieldRefused, match="can’t be seen") as refused:
        written("note", "a\x07b")
    assert refused.value.field == "note"
    with pytest.raises(FieldRefused, match="line break"):
        written("name", "two\nlines", typed.line)


@pytest.mark.parametrize("blank", ["", "  ", "\n\t", "\u2800", "\u200b"])
def test_a_text_that_must_say_something_is_asked_for(blank: str) -> None:
    with pytest.raises(FieldRefused, match="Say why") as refused:
        needed("reason", blank, "Say why.")
    assert refused.value.field == "reason"


def test_a_text_that_says_something_is_taken() -> None:
    assert needed("reason", " ! ", "Say why.") == "!"
    with pytest.raises(FieldRefused, match="line break"):
        needed("name", "two\nlines", "Say who.", typed.line)


def test_a_name_has_two_letters_that_can_be_seen() -> None:
    assert signature(" Maren   Okafor ", "Type your full name.") == "Maren Okafor"
    assert signature("Bo", "Type your full name.") == "Bo"
    for short in ("", "B", "B \u200b", "\u2800\u2800"):
        with pytest.raises(FieldRefused, match="Type your full name") as refused:
            signature(short, "Type your full name.")
        assert refused.value.field == "name"


def test_a_name_is_one_line_and_no_longer_than_the_page_has_room_for() -> None:
    assert signature("Maren\nOkafor", "Type it.") == "Maren Okafor"
    assert len(signature("x" * 120, "Type it.")) == 120
    with pytest.raises(FieldRefused, match="Use at most 120"):
        signature("x" * 121, "Type it.")
