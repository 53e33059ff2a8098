"""Rows of private links: found by digest, made, revoked."""

from dataclasses import dataclass

from portal.store.engine.database import execute
from portal.store.tables import Link, Person

_BY_DIGEST = """SELECT l.id, l.person_id, p.name, p.role, p.may_approve, p.project_id FROM link l
    JOIN person p ON p.id = l.person_id WHERE l.digest = ? AND l.revoked_at IS NULL"""
_LIVE = """SELECT l.salt, l.person_id FROM link l JOIN person p ON p.id = l.person_id
    WHERE p.project_id = ? AND l.revoked_at IS NULL ORDER BY l.id"""


@dataclass(frozen=True, slots=True)
class Holder:
    """The person whom a live link belongs to."""

    link: int
    person: int
    name: str
    role: str
    may_approve: bool
    project: int


def holder_of(digest: str) -> Holder | None:
    row = execute(_BY_DIGEST, digest).fetchone()
    return Holder(row[0], row[1], row[2], row[3], bool(row[4]), row[5]) if row else None


def live_links(project_id: int) -> list[tuple[str, int]]:
    """Salt and person of each link of the project that still opens."""
    return execute(_LIVE, project_id).fetchall()


def add_link(person_id: int, salt: str, digest: str, now: int) -> Link:
    return Link.create(person=person_id, salt=salt, digest=digest, made_at=now)


def revoke_links(person_id: int, now: int) -> list[Link]:
    """Revoke whatever links of this person still open; they are returned."""
    live = list(Link.select().where((Link.person == person_id) & Link.revoked_at.is_null()))
    Link.update(revoked_at=now).where(Link.id.in_([link.id for link in live])).execute()
    return live


def person_of_project(project_id: int) -> list[Person]:
    return list(Person.select().where(Person.project == project_id).order_by(Person.id))
