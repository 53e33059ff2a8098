"""Heads are signed as RFC 8032 has it, in one way to write each thing; tests/published holds its vectors."""

import dataclasses
import hashlib
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from portal.record.log.heads import Head, SignedHead, Signer, is_hex, key_name, signature_holds
from tests.record.chains import SECOND_SIGNER, SIGNER

HEAD = Head(3, 9, "0f" * 32, "2026-11-05T09:00:01Z")
SIGNED = SIGNER.signed(HEAD)


def test_what_is_signed_says_what_it_is() -> None:
    assert HEAD.canonical == (
        b'{"head":{"at":"2026-11-05T09:00:01Z","project":3,"root":"' + b"0f" * 32 + b'","size":9}}'
    )
    Ed25519PublicKey.from_public_bytes(bytes.fromhex(SIGNED.public_key)).verify(
        bytes.fromhex(SIGNED.signature), HEAD.canonical
    )
    assert SIGNED.content == {
        "head": {"project": 3, "size": 9, "root": "0f" * 32, "at": "2026-11-05T09:00:01Z"},
        "public_key": SIGNER.public_key, "signature": SIGNED.signature,
    }  # fmt: skip


def test_the_same_head_always_gets_the_same_signature() -> None:
    assert SIGNER.signed(HEAD) == SIGNED and Signer(bytes(range(32))).signed(HEAD) == SIGNED


@pytest.mark.parametrize("change", [
    {"project": 4}, {"size": 8}, {"root": "0e" * 32}, {"at": "2026-11-05T09:00:02Z"},
])
def test_a_signature_holds_for_its_head_alone(change: dict[str, Any]) -> None:
    assert SIGNED.holds
    assert not dataclasses.replace(SIGNED, head=dataclasses.replace(HEAD, **change)).holds


@pytest.mark.parametrize("signed", [
    SignedHead(HEAD, SECOND_SIGNER.public_key, SIGNED.signature), SignedHead(HEAD, SIGNED.public_key, "0" * 128),
    SignedHead(HEAD, SIGNED.public_key, SIGNED.signature.upper()), SignedHead(HEAD, SIGNED.public_key, ""),
    SignedHead(HEAD, SIGNED.public_key.upper(), SIGNED.signature), SignedHead(HEAD, "", SIGNED.signature),
    SignedHead(HEAD, SIGNED.public_key, SIGNED.signature + "00"), SignedHead(HEAD, "f" * 64, SIGNED.signature),
    SignedHead(HEAD, SIGNED.public_key, 5),  # type: ignore[arg-type]
])
def test_what_is_no_signature_of_this_key_does_not_hold_and_raises_nothing(signed: SignedHead) -> None:
    assert not signed.holds


def test_a_key_that_is_no_point_of_the_curve_holds_for_nothing() -> None:
    assert not signature_holds("02" + "0" * 62, SIGNED.signature, HEAD.canonical)


@pytest.mark.parametrize("length", [0, 31, 33, 64])
def test_a_private_key_of_another_length_is_refused(length: int) -> None:
    with pytest.raises(ValueError, match="32 bytes"):
        Signer(bytes(length))


@pytest.mark.parametrize("text", ["", "A" * 64, "a" * 63, "a" * 65, " " + "a" * 63, "g" * 64, "٣" * 64, 5, None])
def test_a_hash_is_written_in_one_way_only(text: object) -> None:
    assert not is_hex(text, 64)
    assert is_hex("0123456789abcdef" * 4, 64) and is_hex("", 0)


def test_a_key_has_a_short_name_to_read_out() -> None:
    digits = hashlib.sha256(bytes.fromhex(SIGNER.public_key)).hexdigest()
    assert key_name(SIGNER.public_key) == f"{digits[:4]}-{digits[4:8]}-{digits[8:12]}-{digits[12:16]}"
    assert key_name(SIGNER.public_key) != key_name(SECOND_SIGNER.public_key)
