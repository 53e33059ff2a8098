"""The accounts of the invented house's staff with something to act on, and each act on them called as it is meant."""

from collections.abc import Callable
from typing import Any

from portal import signing
from portal.acts.actor import Actor
from portal.acts.firm import colleagues, first_day, second_factor, sessions, staff, tokens, ways_in
from portal.acts.firm.second_factor import NewFactor
from portal.acts.firm.staff import NewPassword
from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows.accounts import factor_rows
from tests.house import NOW, SECRET, House

SALT = "salt of a test"
KEY = signing.second_factor_key(SECRET, SALT)
MADE = NewFactor(SALT, KEY, "")

SAM = {"name": "Sam Park", "email": "sam@brackwater.example.com", "role": "manager"}


def code_now(at: int = NOW, key: str = KEY) -> str:
    """What a phone that has the key shows at this moment."""
    return second_factor.code_at(key, at // second_factor.STEP_SECONDS)


def furnish_accounts(house: House) -> None:
    """The manager and the office have a second factor, and two sessions each."""
    for actor in (house.manager, house.office):
        for name in ("phone", "desk"):
            tables.StaffSession.create(staff=actor.id, digest=signing.digest(f"{name} {actor.id}"), device=name,
                                       began_at=NOW, used_at=NOW)  # fmt: skip
        with write():
            factor_rows.set_up(actor.id, salt=SALT, codes_salt="codes", step=0, now=NOW)
        tables.Token.create(staff=actor.id, digest=signing.digest(f"token {actor.id}"), label="Accounts", made_at=NOW)


def session_of(actor: Actor) -> int:
    """One of theirs; 0 where they can have none."""
    row = tables.StaffSession.get_or_none(tables.StaffSession.staff == actor.id)
    return row.id if row else 0


def _token_of(actor: Actor) -> int:
    row = tables.Token.get_or_none((tables.Token.staff == actor.id) & tables.Token.revoked_at.is_null())
    return row.id if row else 0


def _set_up(actor: Actor, given: Any) -> list[str]:
    factor_rows.drop(actor.id)
    return second_factor.set_up_second_factor(actor, MADE, code_now(), session_of(actor), SECRET, NOW)


def _new_password(actor: Actor) -> NewPassword:
    row = tables.Staff.get_or_none(tables.Staff.id == actor.id)
    return NewPassword("another hash", row.password_hash if row else "")


ACCOUNTS: dict[str, Callable[[Actor, Any], object]] = {
    "change_password": lambda actor, f: staff.change_password(actor, _new_password(actor), session_of(actor), NOW),
    "set_up_second_factor": _set_up,
    "renew_recovery_codes": lambda actor, f: second_factor.renew_recovery_codes(actor, SECRET, NOW),
    "drop_second_factor": lambda actor, f: second_factor.drop_own_second_factor(actor, session_of(actor), NOW),
    "end_session": lambda actor, f: sessions.end_own_session(actor, session_of(actor), NOW),
    "end_sessions": lambda actor, f: sessions.end_own_sessions(actor, NOW),
    "note_mail_tried": lambda actor, f: first_day.note_mail_tried(actor, "", NOW),
    "add_colleague": lambda actor, f: colleagues.add_colleague(actor, dict(SAM), NOW),
    "change_colleague": lambda actor, f: colleagues.change_colleague(
        actor, f.house.office.id, 1, SAM | {"role": "office"}, NOW
    ),
    "end_account": lambda actor, f: colleagues.end_account(actor, f.house.office.id, None, NOW),
    "sign_colleague_out": lambda actor, f: colleagues.sign_colleague_out(actor, f.house.office.id, None, NOW),
    "take_factor_away": lambda actor, f: colleagues.take_factor_away(actor, f.house.office.id, NOW),
    "make_way_in": lambda actor, f: ways_in.make_way_in(actor, f.house.office.id, NOW),
    "make_token": lambda actor, f: tokens.make_token(actor, "Accounts", NOW),
    "end_token": lambda actor, f: tokens.end_token(actor, _token_of(actor), NOW),
    "end_token_of": lambda actor, f: tokens.end_token_of(actor, f.house.office.id, _token_of(f.house.office), NOW),
    "demand_second_factor": lambda actor, f: second_factor.demand_second_factor(actor, True, NOW),
}
