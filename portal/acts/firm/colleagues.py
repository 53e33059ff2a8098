"""The people of the firm, looked after at the desk by its managers: who works here, as what, and until when.

Whatever is done to an account stands in the journal, with who did it. The last manager who can sign in stays one: else
nobody could let anybody in, but for whoever has the server.
"""

import logging
from typing import Any

from portal.acts.actor import MANAGER, STAFF, Actor, firm_act
from portal.acts.firm.responsible import hand_over_house
from portal.acts.refusals import NotFound, Refused
from portal.acts.written import needed
from portal.store.engine.database import take_turns
from portal.store.refusals import FieldRefused
from portal.store.rows import staff_rows
from portal.store.rows.accounts import factor_rows, first_day_rows, journal_rows, session_rows, way_in_rows
from portal.store.rows.editable import add_row, change_row
from portal.store.tables import Staff
from portal.words import typed

log = logging.getLogger("portal.accounts")


class LastManager(Refused):
    status = 409
    sentence = (
        "{name} is the last manager who can sign in. Make somebody else a manager first, and let them set their "
        "password."
    )


@firm_act("add_colleague")
def add_colleague(actor: Actor, values: dict[str, Any], now: int) -> Staff:
    """`values`: name, email, role. They have no password, and so no way in, until a link to set one is made. Whoever
    worked here before comes back under the same address."""
    name, email, role = _checked(values)
    left = staff_rows.left_with(email)
    if left is not None:
        factor_rows.drop(left.id)
        staff = staff_rows.come_back(left.id, name, role)
    else:
        staff = add_row(Staff, name=name, email=email, role=role, password_hash="")
    journal_rows.note(staff.id, "came_back" if left else "added", now, by=actor.id)
    first_day_rows.note("colleague", now)
    log.info("account made", extra={"staff": staff.id})
    return staff


@firm_act("change_colleague")
def change_colleague(actor: Actor, staff_id: int, seen: int, values: dict[str, Any], now: int) -> Staff:
    """Name, address and role. What they did before keeps the name that they had then. Raises LastManager."""
    before = working(staff_id)
    name, email, role = _checked(values)
    if before.role == MANAGER != role:
        _not_the_last(before)
    staff = change_row(Staff, staff_id, seen, {"name": name, "email": email, "role": role})
    if (before.name, before.email, before.role) != (name, email, role):
        about = f"{before.name}, {before.email}, {before.role}"
        journal_rows.note(staff_id, "changed", now, by=actor.id, about=about[:255])
        log.warning("account changed", extra={"staff": staff_id})
    return staff


@firm_act("end_account")
def end_account(actor: Actor, staff_id: int, houses_to: int | None, now: int) -> Staff:
    """They no longer work here: their sessions, tokens and ways in stop at once, and the houses that they run go to
    another manager, or to nobody. What they did keeps their name. Raises LastManager."""
    staff = working(staff_id)
    _not_the_last(staff)
    if houses_to == staff_id:
        raise FieldRefused("houses_to", "Choose somebody else: they no longer work here.")
    for project, _, version in staff_rows.houses_run_by(staff_id):
        hand_over_house(actor, project, version, houses_to, now=now)
    staff_rows.dismiss(staff_id, now)
    session_rows.end_all(staff_id, now)
    way_in_rows.end_all(staff_id, now)
    journal_rows.note(staff_id, "removed", now, by=actor.id)
    log.warning("account ended", extra={"staff": staff_id})
    return staff


@firm_act("sign_colleague_out")
def sign_colleague_out(actor: Actor, staff_id: int, session: int | None, now: int) -> int:
    """One of their sessions, or all of them. Returns how many ended."""
    staff = working(staff_id)
    if session is None:
        ended = session_rows.end_all(staff.id, now)
    elif session_rows.end(staff.id, session, now):
        ended = 1
    else:
        raise NotFound(what="open session")
    journal_rows.note(staff.id, "signed_out" if session is None else "session_ended", now, by=actor.id)
    log.warning("signed out by a manager", extra={"staff": staff.id, "sessions": ended})
    return ended


@firm_act("take_factor_away")
def take_factor_away(actor: Actor, staff_id: int, now: int) -> int:
    """For a phone that was lost. Sessions end, since the phone may have one. Returns how many did."""
    staff = working(staff_id)
    if not factor_rows.drop(staff.id):
        raise NotFound(what="second factor")
    journal_rows.note(staff.id, "second_factor_taken_away", now, by=actor.id)
    log.warning("second factor taken away by a manager", extra={"staff": staff.id})
    return session_rows.end_all(staff.id, now)


def working(staff_id: int) -> Staff:
    """Raises NotFound."""
    staff = staff_rows.working(staff_id)
    if staff is None:
        raise NotFound(what="member of staff")
    return staff


def _checked(values: dict[str, Any]) -> tuple[str, str, str]:
    if values["role"] not in STAFF:
        raise FieldRefused("role", "The role is manager or office.")
    name = needed("name", values["name"], "Give their name; the pages and the record show it.", typed.line)
    email = needed("email", values["email"], "Give their e-mail address; they sign in with it.", typed.email).lower()
    return name, email, values["role"]


def _not_the_last(staff: Staff) -> None:
    """Two who end each other take turns: one of them stays."""
    take_turns("staff")
    can = staff_rows.managers_who_can_sign_in()
    if staff.role == MANAGER and not [one for one in can if one != staff.id]:
        raise LastManager(name=staff.name)
