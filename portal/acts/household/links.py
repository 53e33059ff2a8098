"""Private links: one for each person, made, renewed and revoked."""

from portal import signing
from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.store.rows import link_rows
from portal.store.rows.editable import in_project
from portal.store.rows.link_rows import Holder
from portal.store.tables import Person


@act("make_link")
def make_link(actor: Actor, project_id: int, person_id: int, *, secret: bytes, now: int) -> str:
    """Make a new private link for a person; whatever link they had stops working. Returns the link."""
    person = in_project(Person, project_id, person_id)
    link_rows.revoke_links(person_id, now)
    salt = signing.new_salt()
    link = signing.link_for(secret, salt)
    row = link_rows.add_link(person_id, salt, signing.digest(link), now)
    keep(actor, project_id, "link_made", {"link": row.id, "person": person_id, "name": person.name}, now)
    return link


@act("revoke_link")
def revoke_link(actor: Actor, project_id: int, person_id: int, *, now: int) -> int:
    """Revoke a person's links; returns how many there were."""
    person = in_project(Person, project_id, person_id)
    gone = link_rows.revoke_links(person_id, now)
    for link in gone:
        body = {"link": link.id, "person": person_id, "name": person.name}
        keep(actor, project_id, "link_revoked", body, now)
    return len(gone)


def holder_of(link: str) -> Holder | None:
    """The person whom this link belongs to, or None: a wrong link reveals nothing."""
    return link_rows.holder_of(signing.digest(link))


def actor_of(holder: Holder) -> Actor:
    return Actor(holder.role, holder.person, holder.name, holder.project, holder.may_approve, holder.reads_prices)
