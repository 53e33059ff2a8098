"""The words that were shown are found by their hash; what an earlier version named by its beginning may be missing."""

import hashlib

import pytest

from portal.record.checking.wording_check import check_wordings, guidance_of, versions_named
from portal.record.verdict import Fault

WORDS = {text: hashlib.sha256(text.encode()).hexdigest() for text in ("Measure twice.", "You may go back to paper.")}
ONE, OTHER = sorted(WORDS.values())


@pytest.mark.parametrize(("shown", "version"), [
    (b'{"guidance":"abc"}', "abc"), ('{"guidance":"abc"}', "abc"), (b'{"guidance":null}', None), (b"{}", None),
    (b'{"guidance":5}', None), (b'["guidance"]', None), (b"not JSON", None), (b"\xff", None),
])
def test_the_guidance_is_named_in_what_was_shown(shown: bytes | str, version: str | None) -> None:
    assert guidance_of(shown) == version


def test_versions_are_named_by_questions_and_by_consents_and_by_nothing_else() -> None:
    entries = [
        {"kind": "consent_given", "body": {"wording": "c"}}, {"kind": "consent_given", "body": {}},
        {"kind": "consent_given", "body": {"wording": 5}}, {"kind": "asked", "body": {"wording": "not one"}},
    ]  # fmt: skip
    assert versions_named(entries, [b'{"guidance":"g"}', '{"guidance":"h"}', b"{}"]) == {"c", "g", "h"}
    assert versions_named([], []) == set()


def test_words_that_are_there_unchanged_hold() -> None:
    assert check_wordings([], {}) == []
    one = "The version of guidance and consent has the hash that it is named by."
    assert check_wordings([ONE], {ONE: ONE}) == [one]
    assert check_wordings([ONE, OTHER], {ONE: ONE, OTHER: OTHER}) == [
        "Each of the 2 versions of guidance and consent has the hash that it is named by."
    ]
    assert len(check_wordings([ONE], {ONE: ONE, "unasked": OTHER})) == 1, "what nobody names is not looked at"


def test_words_that_are_missing_are_said_the_first_version_first() -> None:
    with pytest.raises(Fault, match=f"^the words that were shown as version {ONE[:12]} are missing[.]$"):
        check_wordings([OTHER, ONE], {})
    with pytest.raises(Fault, match=f"version {OTHER[:12]} are missing"):
        check_wordings([OTHER, ONE], {ONE: ONE})


def test_of_an_old_version_only_the_beginning_is_named_and_its_words_may_be_missing() -> None:
    assert check_wordings([ONE[:16]], {}) == []
    assert len(check_wordings([ONE[:16]], {ONE[:16]: ONE})) == 1
    with pytest.raises(Fault, match=f"^the words that were shown as version {ONE[:12]} were changed: they have"):
        check_wordings([ONE[:16]], {ONE[:16]: OTHER})


def test_words_with_another_hash_or_no_name_are_said() -> None:
    with pytest.raises(Fault, match="were changed"):
        check_wordings([ONE], {ONE: OTHER})
    with pytest.raises(Fault, match="were changed"):
        check_wordings([""], {"": ONE})
