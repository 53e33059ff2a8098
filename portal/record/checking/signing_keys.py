"""Which key has to sign a head: the one in force when it was made, as the record itself tells."""

from collections.abc import Collection, Sequence
from typing import Any

from portal.record.log.heads import SignedHead, key_name
from portal.record.log.rotation import rotation_holds
from portal.record.verdict import Fault

Rotation = tuple[int, dict[str, Any]]
"""Sequence of the entry that changed the key, and its body."""


def keys_in_force(
    rotations: Sequence[Rotation], heads: Sequence[SignedHead], trusted: Collection[str]
) -> list[tuple[int, str]]:
    """List the keys in order, each as (size of the record from which it signs, 64 hex digits). Raises Fault.

    The first is the old key of the first change, else the key of the first head. With `trusted` keys (hex), one of
    those in force has to be among them: each change is signed by the key before and the key after it, so that the first
    vouches for the last, and the last signs a record that names the first.
    """
    if not rotations and not heads:
        return []
    first = rotations[0][1].get("old_key") if rotations else heads[0].public_key
    keys = [(0, str(first))]
    for sequence, body in rotations:
        if not rotation_holds(body):
            raise Fault(f"entry {sequence} changes the key, but not both keys signed that.")
        if body["old_key"] != keys[-1][1]:
            raise Fault(f"entry {sequence} changes a key that was not in force.")
        keys.append((sequence, body["new_key"]))
    if trusted and not any(key in trusted for _, key in keys):
        raise Fault(f"the key {key_name(keys[-1][1])} is none of those that you trust.")
    return keys


def check_signature(signed: SignedHead, name: str, key: str | None = None) -> None:
    """Check that the head is signed, and by `key` (hex) where one is given. `name` is what a Fault calls the head."""
    if key is not None and signed.public_key != key:
        raise Fault(
            f"{name} is signed with key {key_name(signed.public_key)}, but key {key_name(key)} was in force then."
        )
    if not signed.holds:
        raise Fault(f"the signature under {name} is not by key {key_name(signed.public_key)}, or the head was changed.")
