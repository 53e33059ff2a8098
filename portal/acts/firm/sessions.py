"""Sessions of the staff: begun, looked up, proved by a second factor, ended.

How long one lasts: 14 days at most, and 3 days without use. NIST SP 800-63B-4 asks for an end after 30 days at most
where a password is all (2.1.3), and recommends 24 hours and one hour without use where there is a second factor, too
(2.2.3). We depart from that recommendation: managers answer from a phone on site, several times a day and with dust on
their hands, and the phone has its own lock; a weekend (Friday evening to Monday morning) keeps them signed in. Instead,
whatever changes how somebody gets in asks for the password once more, and every session can be ended from any other.
Any number of sessions may be open at once; their owner sees them all.
"""

import logging
from dataclasses import dataclass

from portal import signing
from portal.acts.actor import Actor, firm_act
from portal.acts.refusals import CannotWrite, NotFound
from portal.store.engine.database import write
from portal.store.refusals import Busy
from portal.store.rows.accounts import journal_rows, session_rows
from portal.store.rows.accounts.session_rows import SessionFact
from portal.store.tables import StaffSession

log = logging.getLogger("portal.accounts")

_MINUTE, _DAY = 60, 24 * 3600
LONGEST = 14 * _DAY
IDLE = 3 * _DAY
TO_PROVE = 10 * _MINUTE
"""How long after the password a code is asked for; then it is the password once more."""
FRESH = 10 * _MINUTE
"""How long after signing in nobody is asked for the password again."""
KEPT = 30 * _DAY
SEEN_EVERY = _MINUTE
"""Last use is written no more often than this."""
_PATIENCE = 0.2  # seconds; a reading does not wait for the turn of writers
_SHOWN = 30

CODE, SET_UP = "code", "set_up"


@dataclass(frozen=True, slots=True)
class Standing:
    """Who a browser's session is of, and what they still have to do before anything else: give a code, or set up the
    second factor that the firm demands. `fresh`: they have just signed in."""

    actor: Actor
    session: SessionFact
    step: str
    fresh: bool


def begin_session(staff_id: int, device: str, now: int) -> str:
    """The random mark of a new session, for its cookie; only the digest is kept."""
    mark = signing.new_salt()
    with write():
        session_rows.begin(staff_id, signing.digest(mark), device, now)
    return mark


def standing_of(mark: str, now: int) -> Standing | None:
    """Whose session this is; None where it was ended, has run out, or its owner has left. Notes that it was used."""
    found = session_rows.find(signing.digest(mark)) if mark else None
    if found is None or not _open(found, now):
        return None
    step = _step(found)
    if step == CODE and now - found.began_at > TO_PROVE:
        return None
    _note_use(found, now)
    return Standing(Actor(found.role, found.staff, found.name), found, step, now - found.began_at <= FRESH)


def _open(found: SessionFact | StaffSession, now: int) -> bool:
    return 0 <= now - found.began_at <= LONGEST and now - found.used_at <= IDLE


def _step(found: SessionFact) -> str:
    if found.factor_at is not None:
        return "" if found.proved else CODE
    return SET_UP if found.demanded else ""


def _note_use(found: SessionFact, now: int) -> None:
    if now - found.used_at < SEEN_EVERY:
        return
    try:
        with write(_PATIENCE):
            session_rows.use(found.id, now)
    except (Busy, CannotWrite):  # whoever only reads is not to wait for it: the next request notes it
        log.info("a session's last use could not be noted")


def end_session(mark: str, now: int) -> None:
    """Whoever has it is signed out, also where its cookie was copied."""
    found = session_rows.find(signing.digest(mark)) if mark else None
    if found is not None:
        with write():
            session_rows.end(found.staff, found.id, now)
        log.info("signed out", extra={"staff": found.staff})


@firm_act("end_session")
def end_own_session(actor: Actor, session_id: int, now: int) -> None:
    """One of the actor's own, by its number in the list."""
    if not session_rows.end(actor.id, session_id, now):
        raise NotFound(what="open session")
    log.info("signed out", extra={"staff": actor.id})


@firm_act("end_sessions")
def end_own_sessions(actor: Actor, now: int) -> int:
    """All of the actor's own, this one included. Returns how many."""
    ended = session_rows.end_all(actor.id, now)
    journal_rows.note(actor.id, "signed_out_everywhere", now, by=actor.id)
    log.info("signed out everywhere", extra={"staff": actor.id, "sessions": ended})
    return ended


def whose_it_was(digest: str) -> int:
    """Of which member of staff a session is or was, as long as it is remembered; 0 of nobody."""
    return session_rows.whose(digest) or 0


def sessions_of(staff_id: int) -> list[StaffSession]:
    """The newest, those that have ended lately or run out included, as `is_open` tells."""
    return session_rows.newest(staff_id, _SHOWN)


def is_open(session: StaffSession, now: int) -> bool:
    return session.ended_at is None and _open(session, now)


def forget_sessions(now: int) -> int:
    """Drop those that nobody needs to see any more; returns how many."""
    with write():
        return session_rows.forget(now - KEPT, now - LONGEST - KEPT)
