"""The staff of the firm and their tokens. `working`: who has left is no longer found."""

from typing import NamedTuple

from portal.store.engine.named_rows import first_row, rows
from portal.store.tables import Project, Staff, Token

_BEARER = """SELECT s.role, s.id, s.name FROM token t JOIN staff s ON s.id = t.staff_id
    WHERE t.digest = ? AND t.revoked_at IS NULL AND s.active = TRUE"""


class Bearer(NamedTuple):
    """Who of the staff holds a token."""

    role: str
    id: int
    name: str


def bearer(digest: str) -> Bearer | None:
    """Whoever holds the token of this digest. Every request to the API asks, so it goes past the
    mapper, which takes longer than all the rest of it."""
    found = first_row(_BEARER, digest)
    return Bearer(**found) if found else None


def names() -> dict[int, str]:
    """Of all who have ever been of the staff, by id."""
    return {row["id"]: row["name"] for row in rows("SELECT id, name FROM staff")}


def names_and_roles() -> dict[int, tuple[str, str]]:
    """Of all who have ever been of the staff, by id."""
    return {row["id"]: (row["name"], row["role"]) for row in rows("SELECT id, name, role FROM staff")}


def working_by_email(email: str) -> Staff | None:
    return Staff.get_or_none((Staff.email == email) & Staff.active)


def working(staff_id: int) -> Staff | None:
    return Staff.get_or_none((Staff.id == staff_id) & Staff.active)


def set_password_hash(staff_id: int, password_hash: str) -> None:
    Staff.update(password_hash=password_hash).where(Staff.id == staff_id).execute()


def replace_password_hash(staff_id: int, before: str, password_hash: str) -> bool:
    """Whether it was still the one from before."""
    same = (Staff.id == staff_id) & (Staff.password_hash == before) & Staff.active
    return bool(Staff.update(password_hash=password_hash).where(same).execute())


def every_working() -> list[Staff]:
    """By name."""
    return list(Staff.select().where(Staff.active).order_by(Staff.name, Staff.id))


def every_left() -> list[Staff]:
    """Who works here no more, by name."""
    return list(Staff.select().where(~Staff.active).order_by(Staff.name, Staff.id))


def left_with(email: str) -> Staff | None:
    """Who has left, and signed in with this address."""
    return Staff.get_or_none((Staff.email == email) & ~Staff.active)


def come_back(staff_id: int, name: str, role: str) -> Staff:
    """With a password to be set anew."""
    Staff.update(active=True, name=name, role=role, password_hash="", version=Staff.version + 1).where(
        Staff.id == staff_id
    ).execute()
    return Staff.get_by_id(staff_id)


def managers_who_can_sign_in() -> list[int]:
    """Ids: those with a password."""
    can = Staff.active & (Staff.role == "manager") & (Staff.password_hash != "")
    return [one.id for one in Staff.select(Staff.id).where(can).order_by(Staff.id)]


def houses_run_by(staff_id: int) -> list[tuple[int, str, int]]:
    """Id, name and version of each house that they run and that is not closed."""
    found = Project.select().where((Project.responsible == staff_id) & Project.closed_at.is_null())
    return [(one.id, one.name, one.version) for one in found.order_by(Project.id)]


def dismiss(staff_id: int, now: int) -> None:
    """No longer active, and none of their tokens opens anything from now on."""
    Staff.update(active=False).where(Staff.id == staff_id).execute()
    revoke_tokens(staff_id, now)


def revoke_tokens(staff_id: int, now: int) -> int:
    """Returns how many worked until now."""
    revoked: int = Token.update(revoked_at=now).where(
        (Token.staff == staff_id) & Token.revoked_at.is_null()
    ).execute()
    return revoked


def tokens(staff_id: int) -> list[Token]:
    """All that were ever made, in that order."""
    return list(Token.select().where(Token.staff == staff_id).order_by(Token.id))


def revoke_token(staff_id: int, token_id: int, now: int) -> Token | None:
    """None: there is no such token of theirs, or it was revoked before."""
    theirs = (Token.id == token_id) & (Token.staff == staff_id) & Token.revoked_at.is_null()
    return Token.get_by_id(token_id) if Token.update(revoked_at=now).where(theirs).execute() else None
