"""Which key has to have signed which head is told by the record itself; one that is trusted vouches for the rest."""

import dataclasses
from typing import Any

import pytest

from portal.record.checking.signing_keys import Rotation, check_signature, keys_in_force
from portal.record.log.heads import Signer, key_name
from portal.record.log.rotation import loss, rotation
from portal.record.verdict import Fault
from tests.record.chains import SECOND_SIGNER, SIGNER, told

THIRD_SIGNER = Signer(bytes(range(64, 96)))
FIRST, SECOND, THIRD = (signer.public_key for signer in (SIGNER, SECOND_SIGNER, THIRD_SIGNER))
HEAD = told().head()
CHANGE = Rotation(5, rotation(SIGNER, SECOND_SIGNER, "2026-11-03T09:00:00Z"))
AGAIN = Rotation(8, rotation(SECOND_SIGNER, THIRD_SIGNER, "2026-11-04T09:00:00Z"))


def fault(*arguments: Any) -> str:
    with pytest.raises(Fault) as wrong:
        keys_in_force(*arguments)
    return str(wrong.value)


def test_the_key_of_the_first_head_is_in_force_from_the_beginning() -> None:
    assert keys_in_force([], [], [FIRST]) == []
    assert keys_in_force([], [HEAD, told().head(signer=SECOND_SIGNER)], []) == [(0, FIRST)]


def test_each_change_puts_another_key_in_force_from_its_entry_on() -> None:
    assert keys_in_force([CHANGE], [], []) == [(0, FIRST), (5, SECOND)]
    assert keys_in_force([CHANGE, AGAIN], [HEAD], []) == [(0, FIRST), (5, SECOND), (8, THIRD)]


@pytest.mark.parametrize("trusted", [[FIRST], [SECOND], [THIRD], ["0" * 64, SECOND]])
def test_any_key_that_was_in_force_may_be_the_one_that_is_trusted(trusted: list[str]) -> None:
    assert len(keys_in_force([CHANGE, AGAIN], [HEAD], trusted)) == 3


def test_the_newest_key_is_named_where_none_is_trusted() -> None:
    assert fault([CHANGE], [HEAD], [THIRD]) == f"the key {key_name(SECOND)} is none of those that you trust."


def test_a_change_that_not_both_signed_or_of_a_key_not_in_force_is_said() -> None:
    assert fault([Rotation(5, CHANGE.body | {"at": "2026-11-03T09:00:01Z"})], [], []) == (
        "entry 5 changes the key, but not both keys signed that."
    )
    assert fault([CHANGE, CHANGE], [], []) == "entry 5 changes a key that was not in force."
    assert fault([AGAIN, CHANGE], [], []) == "entry 5 changes a key that was not in force."
    assert fault([Rotation(6, {})], [], []) == "entry 6 changes the key, but not both keys signed that."


LOST = Rotation(5, loss(FIRST, SECOND_SIGNER, "2026-11-03T09:00:00Z"), lost=True)


def test_a_lost_key_is_followed_by_one_that_it_does_not_vouch_for() -> None:
    assert keys_in_force([LOST], [HEAD], []) == [(0, FIRST), (5, SECOND)]
    assert keys_in_force([LOST, AGAIN], [HEAD], [THIRD]) == [(0, FIRST), (5, SECOND), (8, THIRD)]
    assert fault([LOST, AGAIN], [HEAD], [FIRST]) == (
        f"the key {key_name(FIRST)} that you trust was lost before entry 5, so it does not vouch for the key "
        f"{key_name(THIRD)}. Ask whether that is the name in the newest papers."
    )
    assert fault([LOST], [HEAD], [THIRD]) == f"the key {key_name(SECOND)} is none of those that you trust."


def test_where_nobody_knows_the_lost_key_any_more_old_heads_tell_it() -> None:
    unknown = Rotation(5, loss(None, SECOND_SIGNER, "2026-11-03T09:00:00Z"), lost=True)
    assert keys_in_force([unknown], [HEAD], []) == [(0, FIRST), (5, SECOND)]


@pytest.mark.parametrize("change", [
    {"at": "2026-11-03T09:00:01Z"}, {"new_key": FIRST}, {"old_key": SECOND}, {"old_key": 7},
    {"signed_by_new": "0" * 128}, {"more": 1}, {"at": None},
])
def test_a_loss_that_the_new_key_did_not_sign_is_said(change: dict[str, Any]) -> None:
    said = fault([Rotation(5, LOST.body | change, lost=True)], [HEAD], [])
    assert said == "entry 5 says that the key was lost, but the new key did not sign that."


def test_neither_statement_passes_for_the_other() -> None:
    assert "not both keys signed" in fault([LOST._replace(lost=False)], [], [])
    assert "the new key did not sign" in fault([CHANGE._replace(lost=True)], [], [])


def test_a_head_has_to_be_signed_by_the_key_that_was_in_force() -> None:
    check_signature(HEAD, "the head")
    check_signature(HEAD, "the head", FIRST)
    with pytest.raises(Fault) as wrong:
        check_signature(HEAD, "the head", SECOND)
    assert str(wrong.value) == (
        f"the head is signed with key {key_name(FIRST)}, but key {key_name(SECOND)} was in force then."
    )


def test_a_head_that_was_changed_after_it_was_signed_is_said() -> None:
    changed = dataclasses.replace(HEAD, head=dataclasses.replace(HEAD.head, size=8))
    for key in (None, FIRST):
        with pytest.raises(Fault) as wrong:
            check_signature(changed, "the head", key)
        assert str(wrong.value) == (
            f"the signature under the head is not by key {key_name(FIRST)}, or the head was changed."
        )
