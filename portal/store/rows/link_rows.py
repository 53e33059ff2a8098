"""Rows of private links: found by digest, made, revoked."""

from dataclasses import dataclass
from typing import NamedTuple

from portal.store.engine.named_rows import first_row, rows
from portal.store.tables import Link, Person

_BY_DIGEST = """SELECT l.id AS link, l.person_id AS person, p.name, p.role, p.may_approve, p.reads_prices,
    p.project_id AS project
    FROM link l JOIN person p ON p.id = l.person_id WHERE l.digest = ? AND l.revoked_at IS NULL"""
_LIVE = """SELECT l.salt, l.person_id FROM link l JOIN person p ON p.id = l.person_id
    WHERE p.project_id = ? AND l.revoked_at IS NULL ORDER BY l.id"""

_NEWEST = "SELECT salt, digest FROM link ORDER BY id DESC LIMIT 1"


@dataclass(frozen=True, slots=True)
class Holder:
    """The person whom a live link belongs to."""

    link: int
    person: int
    name: str
    role: str
    may_approve: bool
    reads_prices: bool
    project: int


def holder_of(digest: str) -> Holder | None:
    """Whose link has this digest; None where there is none, or it was revoked."""
    row = first_row(_BY_DIGEST, digest, may_approve=bool, reads_prices=bool)
    return Holder(**row) if row else None


class LiveLink(NamedTuple):
    """A link that still opens: the salt that it is made from, and whose it is."""

    salt: str
    person_id: int


def link_id(digest: str) -> int:
    """The id of the link with this digest, whether it still opens or not."""
    return int(Link.get(Link.digest == digest).id)


def salt_of(link: int) -> str:
    """What the link of this id is made from, whether it still opens or not."""
    return str(Link.get_by_id(link).salt)


def live_links(project_id: int) -> list[LiveLink]:
    """Each link of the project that still opens, in the order in which they were made."""
    return [LiveLink(**row) for row in rows(_LIVE, project_id)]


class MadeLink(NamedTuple):
    """What a link was made from, besides the secret, and its digest."""

    salt: str
    digest: str


def newest_link() -> MadeLink | None:
    """The link that was made last, of any project, even if it was revoked since."""
    row = first_row(_NEWEST)
    return MadeLink(**row) if row else None


def add_link(person_id: int, salt: str, digest: str, now: int) -> Link:
    return Link.create(person=person_id, salt=salt, digest=digest, made_at=now)


def revoke_links(person_id: int, now: int) -> list[Link]:
    """Revoke whatever links of this person still open; they are returned."""
    live = list(Link.select().where((Link.person == person_id) & Link.revoked_at.is_null()))
    Link.update(revoked_at=now).where(Link.id.in_([link.id for link in live])).execute()
    return live


def person_of_project(project_id: int) -> list[Person]:
    return list(Person.select().where(Person.project == project_id).order_by(Person.id))
