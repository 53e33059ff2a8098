"""The people of the firm: accounts, passwords, API tokens. What has no actor is done on the server, by its operator."""

import logging
from dataclasses import dataclass

from portal import signing
from portal.acts.actor import STAFF, Actor, firm_act
from portal.acts.firm import passwords
from portal.acts.refusals import NotYourPassword, WrongPassword
from portal.acts.written import needed, written
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import staff_rows
from portal.store.rows.accounts import factor_rows, journal_rows, session_rows
from portal.store.rows.editable import add_row
from portal.store.tables import Staff, Token
from portal.words import typed

log = logging.getLogger("portal.accounts")


def add_staff(name: str, email: str, role: str, password: str) -> Staff:
    if role not in STAFF:
        raise FieldRefused("role", "The role is manager or office.")
    name = needed("name", name, "Give their name; the pages and the record show it.", typed.line)
    email = written("email", email, typed.email).lower()
    passwords.check_new(password, name, email)
    password_hash = passwords.hashed(password)
    with write():
        return add_row(Staff, name=name, email=email, role=role, password_hash=password_hash)


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
        session_rows.end_all(staff.id, now)
        journal_rows.note(staff.id, "removed", now, by=None)
    log.warning("account ended", extra={"staff": staff.id})
    return staff


def set_password(email: str, password: str, now: int) -> tuple[Staff, int]:
    """Their sessions end, all of them: whoever knew the old one is out. Returns how many did, too."""
    staff = _working(email)
    passwords.check_new(password, staff.name, staff.email)
    password_hash = passwords.hashed(password)
    with write():
        staff_rows.set_password_hash(staff.id, password_hash)
        ended = session_rows.end_all(staff.id, now)
        journal_rows.note(staff.id, "password_set", now, by=None)
    log.warning("password set by the operator", extra={"staff": staff.id, "sessions": ended})
    return staff, ended


def sign_out(email: str, now: int, *, tokens: bool = False) -> tuple[Staff, int, int]:
    """End all sessions of an account, and with `tokens` its API tokens. Returns how many of each ended."""
    staff = _working(email)
    with write():
        ended = session_rows.end_all(staff.id, now)
        revoked = staff_rows.revoke_tokens(staff.id, now) if tokens else 0
        journal_rows.note(staff.id, "tokens_ended" if tokens else "signed_out", now, by=None)
    log.warning("signed out by the operator", extra={"staff": staff.id, "sessions": ended, "tokens": revoked})
    return staff, ended, revoked


def take_second_factor_away(email: str, now: int) -> tuple[Staff, int]:
    """For a phone that was lost. Sessions end, since the phone may have one. Returns how many did."""
    staff = _working(email)
    with write():
        if not factor_rows.drop(staff.id):
            raise NotFound(what="second factor")
        ended = session_rows.end_all(staff.id, now)
        journal_rows.note(staff.id, "second_factor_taken_away", now, by=None)
    log.warning("second factor taken away by the operator", extra={"staff": staff.id, "sessions": ended})
    return staff, ended


@dataclass(frozen=True, slots=True)
class NewPassword:
    """A hash, and the one that it is to replace. None: it is the account's password already."""

    password_hash: str | None
    before: str


def new_password(staff_id: int, old: str, new: str) -> NewPassword:
    """Compare the old one and hash the new one, which takes long and so is done before anything is written.

    Whoever sent the same form twice is told that it is done, and not that the old one is wrong.
    """
    staff = staff_rows.working(staff_id)
    if staff is None:
        raise NotFound(what="member of staff")
    if not passwords.fits(old, staff.password_hash):
        if old != new and passwords.fits(new, staff.password_hash):
            return NewPassword(None, staff.password_hash)
        log.warning("wrong password", extra={"staff": staff_id})
        raise NotYourPassword(field="old")
    passwords.check_new(new, staff.name, staff.email)
    return NewPassword(passwords.hashed(new), staff.password_hash)


@firm_act("change_password")
def change_password(actor: Actor, made: NewPassword, session: int | None, now: int) -> int:
    """The actor's own; all their sessions but this one end. Returns how many did."""
    if made.password_hash is None:
        return 0
    if not staff_rows.replace_password_hash(actor.id, made.before, made.password_hash):
        raise NotYourPassword(field="old")
    journal_rows.note(actor.id, "password_changed", now, by=actor.id)
    ended = session_rows.end_all(actor.id, now, besides=session)
    log.info("password changed", extra={"staff": actor.id, "sessions": ended})
    return ended


def check_own_password(staff_id: int, password: str) -> None:
    """Whoever is signed in is who they say, still: before what changes how they get in. Raises NotYourPassword."""
    staff = staff_rows.working(staff_id)
    if not passwords.fits(password, staff.password_hash if staff else None):
        log.warning("wrong password", extra={"staff": staff_id})
        raise NotYourPassword(field="password")


def _working(email: str) -> Staff:
    staff = staff_rows.working_by_email(email.strip().lower())
    if staff is None:
        raise NotFound(what="member of staff")
    return staff


def sign_in(email: str, password: str, origin: str = "") -> Actor:
    """Raises WrongPassword, after the same work whether the address is known or not. `origin`: for the log."""
    staff = staff_rows.working_by_email(email.strip().lower())
    if not passwords.fits(password, staff.password_hash if staff else None):
        log.warning("wrong password", extra={"staff": staff.id if staff else None, "origin": origin})
        raise WrongPassword(field="password")
    assert staff is not None
    log.info("right password", extra={"staff": staff.id, "origin": origin})
    return Actor(staff.role, staff.id, staff.name)


def staff_actor(staff_id: int) -> Actor | None:
    """The member of staff behind a session, if they still work here."""
    staff = staff_rows.working(staff_id)
    return Actor(staff.role, staff.id, staff.name) if staff else None


def bearer_actor(token: str) -> Actor | None:
    found = staff_rows.bearer(signing.digest(token))
    return Actor(role=found.role, id=found.id, name=found.name) if found else None
