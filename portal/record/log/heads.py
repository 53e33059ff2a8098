"""Signed heads: the size and root of a project's tree at one moment, under an Ed25519 signature (RFC 8032).

Keys and signatures travel as lower-case hex, the raw 32 and 64 bytes of RFC 8032. What is signed is canonical
JSON that says what it is, so that no signature can pass for one on something else.
"""

import hashlib
from dataclasses import dataclass
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from portal.record.log.canonical import canonical


@dataclass(frozen=True, slots=True)
class Head:
    """The tree of a project: `size` entries with this root (64 hex digits), as of `at` (RFC 3339 in UTC)."""

    project: int
    size: int
    root: str
    at: str

    @property
    def content(self) -> dict[str, Any]:
        """Collect the fields as they stand in a file."""
        return {"project": self.project, "size": self.size, "root": self.root, "at": self.at}

    @property
    def canonical(self) -> bytes:
        """Write the bytes that are signed: the fields below `head`, in canonical JSON."""
        return canonical({"head": self.content})


@dataclass(frozen=True, slots=True)
class SignedHead:
    """A head with the public key (64 hex digits) and the signature (128) under it."""

    head: Head
    public_key: str
    signature: str

    @property
    def holds(self) -> bool:
        """Tell whether the signature is this key's on this head. Whose key it is, the reader must know."""
        return signature_holds(self.public_key, self.signature, self.head.canonical)

    @property
    def content(self) -> dict[str, Any]:
        """Collect the fields as they stand in a file."""
        return {"head": self.head.content, "public_key": self.public_key, "signature": self.signature}


class Signer:
    """Signs with one private key, its 32 raw bytes. `public_key` is the key that checks it, as 64 hex digits.

    Loading costs as much as signing: keep it. Raises ValueError for a key of another length.
    """

    def __init__(self, private_key: bytes) -> None:
        self._key = Ed25519PrivateKey.from_private_bytes(private_key)
        self.public_key = self._key.public_key().public_bytes_raw().hex()

    def signature(self, data: bytes) -> str:
        """Sign these bytes (RFC 8032, 5.1.6), as 128 hex digits: the same bytes always get the same signature."""
        return self._key.sign(data).hex()

    def signed(self, head: Head) -> SignedHead:
        """Sign a head."""
        return SignedHead(head, self.public_key, self.signature(head.canonical))


def signature_holds(public_key: str, signature: str, data: bytes) -> bool:
    """Tell whether a signature (128 hex digits) is this key's (64 hex digits) on these bytes (RFC 8032, 5.1.7).

    False, too, for what is no signature or no key; nothing is raised.
    """
    if not (is_hex(public_key, 64) and is_hex(signature, 128)):
        return False
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(public_key)).verify(bytes.fromhex(signature), data)
    except (ValueError, InvalidSignature):
        return False
    return True


def is_hex(text: object, digits: int) -> bool:
    """Tell whether this is text of so many lower-case hex digits.

    There is one way to write each hash, so that a change shows.
    """
    return isinstance(text, str) and len(text) == digits and not set(text) - set("0123456789abcdef")


def key_name(public_key: str) -> str:
    """Name a key, to be read out and compared: `3fa9-01bc-77de-0c41`, the first 64 bits of the SHA-256 of its bytes.

    `public_key`: hex digits. Raises ValueError for what is no hex.
    """
    digits = hashlib.sha256(bytes.fromhex(public_key)).hexdigest()
    return "-".join(digits[i:i + 4] for i in range(0, 16, 4))
