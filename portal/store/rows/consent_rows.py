"""Who has agreed to deal electronically."""

from portal.store.engine.named_rows import values
from portal.store.tables import Consent

_STANDING = "SELECT 1 FROM consent WHERE person_id = ? AND withdrawn_at IS NULL"


def standing(person_id: int) -> bool:
    """Whether the person has agreed, and has not taken it back."""
    return bool(values(_STANDING, person_id))


def add(person_id: int, version: str, now: int) -> None:
    Consent.create(person=person_id, version=version, at=now)


def withdraw(person_id: int, now: int) -> bool:
    """Whether there was a consent to take back."""
    theirs = (Consent.person == person_id) & Consent.withdrawn_at.is_null()
    return bool(Consent.update(withdrawn_at=now).where(theirs).execute())
