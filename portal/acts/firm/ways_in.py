"""A link by which one of the staff sets a password: it works once, within a day, and a newer one ends it.

It is as long and random as an API token, and only its digest is kept. Whoever looks after the accounts never learns the
password; whoever has a second factor still gives its code.
"""

import logging

from portal import signing
from portal.acts.actor import Actor, firm_act
from portal.acts.firm import passwords
from portal.acts.firm.colleagues import working
from portal.acts.refusals import NotFound
from portal.store.engine.database import write
from portal.store.rows import staff_rows
from portal.store.rows.accounts import journal_rows, session_rows, way_in_rows
from portal.store.tables import Staff, WayIn

log = logging.getLogger("portal.accounts")

LASTS = 24 * 3600
AGAIN = 600  # seconds; for a double click


@firm_act("make_way_in")
def make_way_in(actor: Actor, staff_id: int, now: int) -> str:
    """The link's last part; it is shown or sent once. The password from before goes on until another one is set."""
    staff = working(staff_id)
    link = signing.new_bearer()
    way_in_rows.make(staff.id, signing.digest(link), now, actor.id)
    journal_rows.note(staff.id, "way_in_made", now, by=actor.id)
    log.warning("a way to set a password was made", extra={"staff": staff.id})
    return link


def way_in(link: str, now: int) -> WayIn:
    """Raises NotFound for one that is wrong, used, ended or older than a day: it reveals nothing of which."""
    found = way_in_rows.find(signing.digest(link), now - LASTS)
    if found is None:
        raise NotFound(what="way in")
    return found


def whose(link: str, now: int, *, again: bool = False) -> Staff:
    """Raises NotFound as `way_in`. `again`: also of one that was used a moment ago, for a form that comes twice."""
    used = way_in_rows.used_digest(signing.digest(link)) if again else None
    if used is not None and 0 <= now - (used.used_at or 0) <= AGAIN:
        return working(used.staff_id)
    return working(way_in(link, now).staff_id)


def set_by_link(link: str, password: str, now: int) -> Actor:
    """The account whose it is, with this password from now on; its sessions end. Sent twice, it is done once. Raises
    NotFound, FieldRefused."""
    again = _again(link, password, now)
    if again is not None:
        return again
    found = way_in(link, now)
    staff = working(found.staff_id)
    passwords.check_new(password, staff.name, staff.email)
    password_hash = passwords.hashed(password)
    with write():
        if not way_in_rows.use(found.id, now - LASTS, now):
            raise NotFound(what="way in")
        staff_rows.set_password_hash(staff.id, password_hash)
        ended = session_rows.end_all(staff.id, now)
        journal_rows.note(staff.id, "password_set_by_link", now, by=staff.id)
    log.warning("password set by a link", extra={"staff": staff.id, "sessions": ended})
    return Actor(staff.role, staff.id, staff.name)


def _again(link: str, password: str, now: int) -> Actor | None:
    """Whoever pressed twice is let in by the second answer, too, if the password is the one just set."""
    used = way_in_rows.used_digest(signing.digest(link))
    if used is None or not 0 <= now - (used.used_at or 0) <= AGAIN:
        return None
    staff = staff_rows.working(used.staff_id)
    return Actor(staff.role, staff.id, staff.name) if staff and passwords.fits(password, staff.password_hash) else None
