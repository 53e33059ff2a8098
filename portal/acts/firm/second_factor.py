"""The second factor of the staff: codes by time (RFC 6238), and recovery codes for when the phone is lost.

It guards the desk. API tokens go on without it: they are random and long, and a program has no phone.

Like a private link, the key is made from the server's secret and a salt, and only the salt is in the database: a dump
of it, or a PostgreSQL server that others look after, gives nobody a code. A backup has both, and is kept as a secret.
"""

import hmac
import logging
from dataclasses import dataclass

from pyotp import HOTP, TOTP

from portal import signing
from portal.acts.actor import Actor, firm_act
from portal.acts.refusals import NotFound, Refused
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused
from portal.store.rows.accounts import factor_rows, journal_rows, session_rows
from portal.store.rows.accounts.session_rows import SessionFact

log = logging.getLogger("portal.accounts")

STEP_SECONDS = 30
DIGITS = 6
WINDOW = 1
"""Steps before and after: the clock of a phone may be off, and typing takes time (RFC 6238, 5.2)."""
CODES = 8
SHOWN_AGAIN = 600  # seconds; for a double click, or whoever goes back a page


class WrongCode(Refused):
    status = 403
    sentence = (
        "That code is not right, or was used already. Wait until your phone shows a new one, and type that. If it is "
        "never right, the phone’s clock is wrong: have it set by itself."
    )


@dataclass(frozen=True, slots=True)
class NewFactor:
    """What is shown once while it is set up. `salt`: from which `key` is made."""

    salt: str
    key: str
    address: str  # for the square code: otpauth://totp/...


def new_factor(secret: bytes, session: SessionFact, digest: str, firm: str) -> NewFactor:
    """The same for a session until it has been set up or dropped in it: to look at it changes nothing."""
    salt = signing.digest(f"second factor of {session.staff} in {digest}, {session.proved_at}")[:32]
    key = signing.second_factor_key(secret, salt)
    issuer = (firm or "Portal").replace(":", " ")  # which would end it: it stands before a colon in the address
    address = TOTP(key, digits=DIGITS, interval=STEP_SECONDS).provisioning_uri(name=session.email, issuer_name=issuer)
    return NewFactor(salt, key, address)


def step_of(key: str, code: str, now: int) -> int | None:
    """The time step that this code is of, if it is one of those that are taken now."""
    typed = "".join(code.split())
    current = now // STEP_SECONDS
    steps = range(max(0, current - WINDOW), current + WINDOW + 1)
    right = [step for step in steps if hmac.compare_digest(code_at(key, step).encode(), typed.encode())]
    return right[-1] if right else None


def code_at(key: str, step: int, digits: int = DIGITS) -> str:
    return HOTP(key, digits=digits).at(step)


@firm_act("set_up_second_factor")
def set_up_second_factor(actor: Actor, made: NewFactor, code: str, session: int, secret: bytes, now: int) -> list[str]:
    """From now on a code is asked for; this session has given it, all others have to. Returns the recovery codes.

    Sent twice by the session in which it was set up, it gives the same codes again for a while.
    """
    before = factor_rows.factor_of(actor.id)
    if before is not None:
        if session_rows.proved_at(session) != before.made_at or now - before.made_at > SHOWN_AGAIN:
            raise FieldRefused("code", "You have a second factor already. To set up another one, take it away first.")
        return signing.recovery_codes(secret, before.codes_salt, CODES)
    step = step_of(made.key, code, now)
    if step is None:
        raise WrongCode(field="code")
    codes_salt = signing.new_salt()
    factor_rows.set_up(actor.id, salt=made.salt, codes_salt=codes_salt, step=step, now=now)
    session_rows.prove(session, now)
    journal_rows.note(actor.id, "second_factor_set_up", now, by=actor.id)
    log.info("second factor set up", extra={"staff": actor.id})
    return _new_codes(actor.id, codes_salt, secret)


def _new_codes(staff_id: int, codes_salt: str, secret: bytes) -> list[str]:
    codes = signing.recovery_codes(secret, codes_salt, CODES)
    factor_rows.set_codes(staff_id, codes_salt, [signing.digest(code) for code in codes])
    return codes


@firm_act("renew_recovery_codes")
def renew_recovery_codes(actor: Actor, secret: bytes, now: int) -> list[str]:
    """New ones; those from before work no longer."""
    if factor_rows.factor_of(actor.id) is None:
        raise NotFound(what="second factor")
    journal_rows.note(actor.id, "codes_renewed", now, by=actor.id)
    log.info("recovery codes renewed", extra={"staff": actor.id})
    return _new_codes(actor.id, signing.new_salt(), secret)


@firm_act("drop_second_factor")
def drop_own_second_factor(actor: Actor, session: int, now: int) -> int:
    """The actor's own, for another phone, say; where the firm demands one, they are led to set it up at once. Their
    other sessions end. Returns how many did."""
    if not factor_rows.drop(actor.id):
        raise NotFound(what="second factor")
    journal_rows.note(actor.id, "second_factor_dropped", now, by=actor.id)
    log.info("second factor dropped", extra={"staff": actor.id})
    return session_rows.end_all(actor.id, now, besides=session)


@firm_act("demand_second_factor")
def demand_second_factor(actor: Actor, demanded: bool, now: int) -> bool:
    """Whether the firm asks a second factor of everybody who works at the desk. Whoever has none is led to set one up
    before anything else, also where they are signed in already. Returns whether that is new."""
    if factor_rows.is_demanded() == demanded:
        return False
    if not factor_rows.set_demand(demanded):
        raise FieldRefused("demanded", "Write down the firm’s details first.")
    kind = "demand_on" if demanded else "demand_off"
    journal_rows.note(actor.id, kind, now, by=actor.id)
    log.warning("whether a second factor is demanded was changed", extra={"staff": actor.id, "kind": kind})
    return True


def is_recovery_code(code: str) -> bool:
    """Whether what was typed is meant for one: longer than what a phone shows."""
    return len(_plain(code)) > 2 * DIGITS


def prove(session: SessionFact, code: str, secret: bytes, now: int) -> None:
    """A code of the phone or a recovery code, after the password: the session is open from then on. Raises WrongCode.

    Sent twice, it counts once and refuses nothing: a session that is proved stays so.
    """
    with write():
        if (session_rows.proved_at(session.id) or 0) >= (session.factor_at or 0):
            return
        way = _taken(session.staff, code, secret, now)
        if way:
            session_rows.prove(session.id, now)
        if way == "recovery_code":
            journal_rows.note(session.staff, "recovery_code_used", now, by=session.staff)
    if not way:
        log.warning("wrong code", extra={"staff": session.staff})
        raise WrongCode(field="code")
    log.info("signed in", extra={"staff": session.staff, "second_factor": way})


def _taken(staff_id: int, code: str, secret: bytes, now: int) -> str:
    if is_recovery_code(code):
        plain = _plain(code)
        written = "-".join(plain[i:i + 4] for i in range(0, len(plain), 4))
        return "recovery_code" if factor_rows.use_code(staff_id, signing.digest(written), now) else ""
    factor = factor_rows.factor_of(staff_id)
    step = step_of(signing.second_factor_key(secret, factor.salt), code, now) if factor else None
    return "code" if step is not None and factor_rows.take_step(staff_id, step) else ""


def _plain(code: str) -> str:
    return "".join(letter for letter in code.lower() if letter.isascii() and letter.isalnum())
