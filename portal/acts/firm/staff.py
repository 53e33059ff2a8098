"""The people of the firm: accounts, passwords, API tokens. Done on the server, by its operator."""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from portal import signing
from portal.acts.actor import STAFF, Actor
from portal.acts.refusals import WrongPassword
from portal.acts.written import needed, written
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import staff_rows
from portal.store.rows.editable import add_row
from portal.store.tables import Staff, Token
from portal.words import typed

SHORTEST_PASSWORD = 10
_hasher = PasswordHasher()


def add_staff(name: str, email: str, role: str, password: str) -> Staff:
    if role not in STAFF:
        raise FieldRefused("role", "The role is manager or office.")
    name = needed("name", name, "Give their name; the pages and the record show it.", typed.line)
    email = written("email", email, typed.email).lower()
    _check_password(password)
    with write():
        return add_row(Staff, name=name, email=email, role=role, password_hash=_hasher.hash(password))


def add_token(email: str, label: str, now: int) -> str:
    """A new bearer token with the role of this member of staff. It is shown once; only its digest is kept."""
    staff = _working(email)
    token = signing.new_bearer()
    with write():
        add_row(Token, staff=staff, digest=signing.digest(token), label=label, made_at=now)
    return token


def tokens_of(email: str) -> list[Token]:
    """The tokens of this member of staff, revoked ones too, in the order in which they were made."""
    return staff_rows.tokens(_working(email).id)


def revoke_token(email: str, number: int, now: int) -> Token:
    """One token, by its number in `tokens_of`, stops at once; their other tokens and sessions go on."""
    staff = _working(email)
    with write():
        token = staff_rows.revoke_token(staff.id, number, now)
    if token is None:
        raise NotFound(what="working token")
    return token


def remove_staff(email: str, now: int) -> Staff:
    """They no longer work here: their sessions and tokens stop at once. What they did keeps their name."""
    staff = _working(email)
    with write():
        staff_rows.dismiss(staff.id, now)
    return staff


def set_password(email: str, password: str) -> Staff:
    staff = _working(email)
    _check_password(password)
    with write():
        staff_rows.set_password_hash(staff.id, _hasher.hash(password))
    return staff


def _working(email: str) -> Staff:
    staff = staff_rows.working_by_email(email.strip().lower())
    if staff is None:
        raise NotFound(what="member of staff")
    return staff


def _check_password(password: str) -> None:
    if len(password) < SHORTEST_PASSWORD:
        raise FieldRefused("password", f"Use at least {SHORTEST_PASSWORD} characters.")


def sign_in(email: str, password: str) -> Actor:
    """Raises WrongPassword, after the same work whether the address is known or not."""
    staff = staff_rows.working_by_email(email.strip().lower())
    try:
        _hasher.verify(staff.password_hash if staff else _nobody(), password)
    except (VerificationError, InvalidHashError) as error:
        raise WrongPassword(field="password") from error
    if staff is None:
        raise WrongPassword(field="password")
    return Actor(staff.role, staff.id, staff.name)


def staff_actor(staff_id: int) -> Actor | None:
    """The member of staff behind a session, if they still work here."""
    staff = staff_rows.working(staff_id)
    return Actor(staff.role, staff.id, staff.name) if staff else None


def bearer_actor(token: str) -> Actor | None:
    found = staff_rows.bearer(signing.digest(token))
    return Actor(role=found.role, id=found.id, name=found.name) if found else None


def _nobody() -> str:
    """A hash that no password fits, made once."""
    global _no_hash
    if not _no_hash:
        _no_hash = _hasher.hash(signing.new_bearer())
    return _no_hash


_no_hash = ""
