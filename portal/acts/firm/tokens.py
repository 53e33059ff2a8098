"""API tokens at the desk: everybody of the staff makes and ends their own, and managers end those of others."""

import logging

from portal import signing
from portal.acts.actor import Actor, firm_act
from portal.acts.refusals import NotFound
from portal.acts.written import written
from portal.store.rows import staff_rows
from portal.store.rows.accounts import journal_rows
from portal.store.rows.editable import add_row
from portal.store.tables import Token
from portal.words import typed

log = logging.getLogger("portal.accounts")


@firm_act("make_token")
def make_token(actor: Actor, label: str, now: int) -> str:
    """One of the actor's own, with their role. It is shown once; only its digest is kept."""
    token, label = signing.new_bearer(), written("label", label, typed.line)
    add_row(Token, staff=actor.id, digest=signing.digest(token), label=label, made_at=now)
    journal_rows.note(actor.id, "token_made", now, by=actor.id, about=label[:255])
    log.info("token made", extra={"staff": actor.id})
    return token


@firm_act("end_token")
def end_token(actor: Actor, number: int, now: int) -> Token:
    """One of the actor's own, by its number in the list."""
    return _ended(actor, actor.id, number, now)


@firm_act("end_token_of")
def end_token_of(actor: Actor, staff_id: int, number: int, now: int) -> Token:
    """One of somebody else's."""
    return _ended(actor, staff_id, number, now)


def _ended(actor: Actor, staff_id: int, number: int, now: int) -> Token:
    token = staff_rows.revoke_token(staff_id, number, now)
    if token is None:
        raise NotFound(what="working token")
    journal_rows.note(staff_id, "token_ended", now, by=actor.id, about=token.label[:255])
    log.warning("token ended", extra={"staff": staff_id})
    return token
