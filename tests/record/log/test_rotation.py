"""A change of keys holds with both signatures on the very same statement, and with nothing else."""

import pytest

from portal.record.log.heads import Head, signature_holds
from portal.record.log.rotation import rotation, rotation_holds
from tests.record.chains import SECOND_SIGNER, SIGNER

AT = "2026-11-03T09:00:00Z"
BODY = rotation(SIGNER, SECOND_SIGNER, AT)


def test_both_keys_sign_who_takes_over_from_whom_and_when() -> None:
    assert rotation_holds(BODY)
    assert {name: BODY[name] for name in ("old_key", "new_key", "at")} == {
        "old_key": SIGNER.public_key, "new_key": SECOND_SIGNER.public_key, "at": AT,
    }  # fmt: skip
    said = (
        f'{{"rotation":{{"at":"{AT}","new_key":"{SECOND_SIGNER.public_key}","old_key":"{SIGNER.public_key}"}}}}'
    ).encode()
    assert signature_holds(SIGNER.public_key, BODY["signed_by_old"], said)
    assert signature_holds(SECOND_SIGNER.public_key, BODY["signed_by_new"], said)


@pytest.mark.parametrize("change", [
    {"old_key": SECOND_SIGNER.public_key}, {"new_key": SIGNER.public_key}, {"at": "2026-11-03T09:00:01Z"},
    {"signed_by_old": BODY["signed_by_new"]}, {"signed_by_new": BODY["signed_by_old"]}, {"signed_by_new": ""},
    {"old_key": 5}, {"at": None}, {"more": "x"}, {"old_key": BODY["new_key"], "signed_by_old": BODY["signed_by_new"]},
])
def test_a_statement_with_anything_exchanged_or_added_does_not_hold(change: dict[str, object]) -> None:
    assert not rotation_holds(BODY | change)


@pytest.mark.parametrize("gone", sorted(BODY))
def test_a_statement_with_anything_missing_does_not_hold(gone: str) -> None:
    assert not rotation_holds({name: value for name, value in BODY.items() if name != gone})
    assert not rotation_holds({})


def test_a_signature_on_one_thing_is_none_on_another() -> None:
    head = Head(3, 1, "0" * 64, AT)
    assert not signature_holds(SIGNER.public_key, BODY["signed_by_old"], head.canonical)
