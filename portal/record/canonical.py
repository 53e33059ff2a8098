"""Canonical JSON (RFC 8785): one value, one sequence of bytes, so that a hash means what was shown."""

from hashlib import sha256
from typing import Any

import rfc8785


def canonical(value: Any) -> bytes:
    """The RFC 8785 bytes of a JSON value."""
    return rfc8785.dumps(value)


def digest(value: Any) -> str:
    """SHA-256 of the canonical bytes, as 64 hex digits: the check code in full."""
    return sha256(canonical(value)).hexdigest()
