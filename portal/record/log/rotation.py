"""Another key takes over: a statement signed by the old key and by the new one, kept as an entry (`key_rotated`); or,
where the old one was lost, by the new one alone (`key_lost`)."""

from typing import Any

from portal.record.log.canonical import canonical
from portal.record.log.heads import Signer, signature_holds


def rotation(old: Signer, new: Signer, at: str) -> dict[str, Any]:
    """Make the body of the entry: both keys, the time (RFC 3339 in UTC), and both signatures on that."""
    said = {"old_key": old.public_key, "new_key": new.public_key, "at": at}
    signed = canonical({"rotation": said})
    return {**said, "signed_by_old": old.signature(signed), "signed_by_new": new.signature(signed)}


def rotation_holds(body: dict[str, Any]) -> bool:
    """Tell whether both keys signed the change. False, too, for what is no such statement."""
    names = ("old_key", "new_key", "at", "signed_by_old", "signed_by_new")
    if set(body) != set(names) or not all(isinstance(body[name], str) for name in names):
        return False
    signed = canonical({"rotation": {name: body[name] for name in names[:3]}})
    return all(signature_holds(body[f"{who}_key"], body[f"signed_by_{who}"], signed) for who in ("old", "new"))


def loss(old_key: str | None, new: Signer, at: str) -> dict[str, Any]:
    """Make the body of the entry that says that the old key was lost: it can't sign, so it vouches for nothing.

    `old_key`: 64 hex digits; None where nothing tells any more which it was. `at`: RFC 3339 in UTC.
    """
    said = {"old_key": old_key, "new_key": new.public_key, "at": at}
    return {**said, "signed_by_new": new.signature(canonical({"loss": said}))}


def loss_holds(body: dict[str, Any]) -> bool:
    """Tell whether the new key signed that the old one was lost. False, too, for what is no such statement."""
    names = ("old_key", "new_key", "at", "signed_by_new")
    if set(body) != set(names) or not all(isinstance(body[name], str) for name in names[1:]):
        return False
    if body["old_key"] is not None and not isinstance(body["old_key"], str):
        return False
    said = canonical({"loss": {name: body[name] for name in names[:3]}})
    return signature_holds(body["new_key"], body["signed_by_new"], said)
