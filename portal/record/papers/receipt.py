"""The receipt: one entry with all that proves it, to be kept by the homeowner.

The file is one line of canonical JSON: `receipt` (the format, 1), `entry`, `proof` (hashes in hex, the innermost
first), `head`, `public_key`, `signature`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from portal.record.log.canonical import canonical
from portal.record.log.heads import SignedHead
from portal.record.log.strict_reading import Misshapen, fields, hexadecimal, read_canonical, signed_head

FORMAT = 1
_FIELDS = {"receipt": int, "entry": dict, "proof": list, "head": dict, "public_key": str, "signature": str}


@dataclass(frozen=True, slots=True)
class Receipt:
    """An entry's content, its proof of inclusion in the head's tree (hashes of 32 bytes), and the signed head."""

    entry: dict[str, Any]
    proof: Sequence[bytes]
    signed: SignedHead

    @property
    def file(self) -> bytes:
        """Write the receipt file."""
        proof = [made.hex() for made in self.proof]
        return canonical({"receipt": FORMAT, "entry": self.entry, "proof": proof, **self.signed.content})


def parse_receipt(data: bytes) -> Receipt:
    """Read a receipt from its file. Raises Misshapen; whether it proves anything is for verification to say."""
    found = fields(read_canonical(data), "", _FIELDS)
    if found["receipt"] != FORMAT:
        raise Misshapen("receipt", f"is {found['receipt']}, a format unknown here. This reads format {FORMAT}.")
    proof = [hexadecimal(made, 64, f"proof.{place}") for place, made in enumerate(found["proof"])]
    head = {name: found[name] for name in ("head", "public_key", "signature")}
    return Receipt(found["entry"], proof, signed_head(head, ""))
