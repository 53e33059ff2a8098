"""The form of a homeowner's copy, and the seal around it: whatever byte of the zip is changed, added or lost shows.

A copy of form 2 says so in a file that its signed list names, and its zip ends in a comment: a signature (RFC 8032)
over every byte before. Form 1 had neither; its zip is checked by how ours was laid out (`record.checking.zip_layout`).
The comment of a record without entries, which has no key yet, holds the SHA-256 instead.
"""

import hashlib
import re

from portal.record.log.heads import Signer, signature_holds
from portal.record.verdict import Fault

FORM = 2
_FORM_FILE = re.compile(rb"copy of form ([0-9]{1,4})\n")
_SEAL = re.compile(rb"copy of form 2, (signed ([0-9a-f]{128})|hash ([0-9a-f]{64}))\Z")
_END = 22  # bytes of a zip's end record, whose last two are the length of the comment
_LONGEST = 200


def form_file(form: int = FORM) -> bytes:
    """Write the file that says which form a copy has."""
    return f"copy of form {form}\n".encode()


def form_in(data: bytes | None) -> int:
    """Read the form of a copy from its file; None: there is no such file, as in form 1. Raises Fault."""
    if data is None:
        return 1
    found = _FORM_FILE.fullmatch(data)
    form = int(found[1]) if found else 0
    if form != FORM:
        raise Fault(f"the copy is of form {form}, which is unknown here." if form > FORM else
                    "the file that says the form of the copy was changed.")
    return form


def sealed(archive: bytes, signer: Signer | None) -> bytes:
    """Put the seal around a zip that has no comment. None: the record has no entries, so no key."""
    empty = _comment("0" * 128 if signer else None, b"")
    covered = archive[:-2] + len(empty).to_bytes(2, "little")
    return covered + _comment(signer.signature(_signed(covered)) if signer else None, covered)


def check_seal(data: bytes, public_key: str | None) -> None:
    """Check that no byte of a copy of form 2 is another. Raises Fault.

    `public_key`: that of the record's head, 64 hex digits; None: it has no head.
    """
    seal = _SEAL.search(data, max(0, len(data) - _LONGEST))
    covered = data[:seal.start()] if seal else b""
    if seal is None or len(covered) < _END or covered[-2:] != len(seal[0]).to_bytes(2, "little"):
        raise Fault("the zip was changed or packed anew: the seal at its end is not there.")
    if public_key is None:
        holds = seal[0] == _comment(None, covered)
    else:
        holds = signature_holds(public_key, (seal[2] or b"").decode(), _signed(covered))
    if not holds:
        raise Fault("the zip was changed or packed anew: the seal at its end is not that of these bytes.")


def _comment(signature: str | None, covered: bytes) -> bytes:
    said = f"hash {hashlib.sha256(covered).hexdigest()}" if signature is None else f"signed {signature}"
    return f"copy of form {FORM}, {said}".encode()


def _signed(covered: bytes) -> bytes:
    """What is signed says what it is, so that no seal can pass for a head or a list."""
    return b"copy of form 2\n" + hashlib.sha256(covered).digest()
