"""Who has agreed to deal electronically."""

from portal.store.engine.database import execute
from portal.store.engine.named_rows import values

_STANDING = "SELECT 1 FROM consent WHERE person_id = ? AND withdrawn_at IS NULL"
_ADD = "INSERT INTO consent (person_id, version, at) VALUES (?, ?, ?)"
_WITHDRAW = "UPDATE consent SET withdrawn_at = ? WHERE person_id = ? AND withdrawn_at IS NULL"


def standing(person_id: int) -> bool:
    """Whether the person has agreed, and has not taken it back."""
    return bool(values(_STANDING, person_id))


def add(person_id: int, version: str, now: int) -> None:
    execute(_ADD, person_id, version, now)


def withdraw(person_id: int, now: int) -> bool:
    """Whether there was a consent to take back."""
    return bool(execute(_WITHDRAW, now, person_id).rowcount)
