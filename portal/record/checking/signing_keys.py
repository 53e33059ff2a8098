"""Which key has to sign a head: the one in force when it was made, as the record itself tells."""

from collections.abc import Collection, Sequence
from typing import Any, NamedTuple

from portal.record.log.heads import SignedHead, key_name
from portal.record.log.rotation import loss_holds, rotation_holds
from portal.record.verdict import Fault


class Rotation(NamedTuple):
    """A change of keys: sequence and body of its entry. `lost`: the old key was lost, so that it did not sign that."""

    sequence: int
    body: dict[str, Any]
    lost: bool = False


def keys_in_force(
    rotations: Sequence[Rotation], heads: Sequence[SignedHead], trusted: Collection[str]
) -> list[tuple[int, str]]:
    """List the keys in order, each as (size of the record from which it signs, 64 hex digits). Raises Fault.

    The first is the old key of the first change, else the key of the first head. With `trusted` keys (hex), one of
    those in force has to be among them: each change is signed by the key before and the key after it, so that the first
    vouches for the last, and the last signs a record that names the first. No key vouches for one before or after it
    where it was lost: then it has to be one since.
    """
    if not rotations and not heads:
        return []
    first = rotations[0].body.get("old_key") if rotations else heads[0].public_key
    keys, vouched = [(0, str(first or heads[0].public_key if heads else first))], 0
    for sequence, body, lost in rotations:
        _check_change(sequence, body, lost, keys[-1][1])
        vouched = len(keys) if lost else vouched
        keys.append((sequence, body["new_key"]))
    _check_trusted(keys, vouched, trusted)
    return keys


def _check_change(sequence: int, body: dict[str, Any], lost: bool, before: str) -> None:
    if lost and not loss_holds(body):
        raise Fault(f"entry {sequence} says that the key was lost, but the new key did not sign that.")
    if not lost and not rotation_holds(body):
        raise Fault(f"entry {sequence} changes the key, but not both keys signed that.")
    if body["old_key"] not in (None, before):
        raise Fault(f"entry {sequence} changes a key that was not in force.")


def _check_trusted(keys: Sequence[tuple[int, str]], vouched: int, trusted: Collection[str]) -> None:
    if not trusted or any(key in trusted for _, key in keys[vouched:]):
        return
    newest, before = keys[-1][1], next((key for _, key in keys[:vouched] if key in trusted), None)
    if before is not None:
        raise Fault(f"the key {key_name(before)} that you trust was lost before entry {keys[vouched][0]}, so it does "
                    f"not vouch for the key {key_name(newest)}. Ask whether that is the name in the newest papers.")
    raise Fault(f"the key {key_name(newest)} is none of those that you trust.")


def check_signature(signed: SignedHead, name: str, key: str | None = None) -> None:
    """Check that the head is signed, and by `key` (hex) where one is given. `name` is what a Fault calls the head."""
    if key is not None and signed.public_key != key:
        raise Fault(
            f"{name} is signed with key {key_name(signed.public_key)}, but key {key_name(key)} was in force then."
        )
    if not signed.holds:
        raise Fault(f"the signature under {name} is not by key {key_name(signed.public_key)}, or the head was changed.")
