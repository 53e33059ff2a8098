"""Mail stopped and begun again, by a person for themselves or by the office for them.

No entry of the record says so, as none says that a letter went out: rows with their times do, and stay.
"""

from portal.acts.actor import Actor, act
from portal.acts.refusals import StoppedTooOften
from portal.store.refusals import NotFound
from portal.store.rows.editable import in_project
from portal.store.rows.letters import mail_rows
from portal.store.tables import Person

_A_DAY, _MOST_STOPS = 24 * 3600, 20


@act("stop_mail")
def stop_mail(actor: Actor, project_id: int, person_id: int, *, now: int) -> None:
    """From now on they are told by phone. Whoever has the address of a letter's foot can do it, so not without end."""
    _theirs(actor, project_id, person_id)
    if mail_rows.stopped(person_id) is not None:
        return
    if mail_rows.stops_since(person_id, now - _A_DAY) >= _MOST_STOPS:
        raise StoppedTooOften()
    mail_rows.stop(person_id, now)


@act("begin_mail")
def begin_mail(actor: Actor, project_id: int, person_id: int, *, now: int) -> None:
    """They get mail again; where it came back, it is tried again."""
    _theirs(actor, project_id, person_id)
    mail_rows.resume(person_id, now, actor.key)


def actor_who_reads(person_id: int) -> Actor | None:
    """The person who has shown a mark of their letters."""
    row = mail_rows.person(person_id)
    return Actor(row["role"], row["id"], row["name"], row["project_id"], row["may_approve"]) if row else None


def _theirs(actor: Actor, project_id: int, person_id: int) -> None:
    in_project(Person, project_id, person_id)
    if not actor.is_staff and actor.id != person_id:
        raise NotFound(what="person")
