"""People of the households, by id; and those of several houses with how to reach them."""

from collections.abc import Collection
from typing import NamedTuple

from portal.store.engine.named_rows import rows
from portal.store.tables import Person

_OF_HOUSES = """SELECT id, project_id AS project, name, role, phone, email FROM person
    WHERE project_id IN"""
_AT_A_TIME = 500


class Reach(NamedTuple):
    id: int
    project: int
    name: str
    role: str
    phone: str
    email: str

    @property
    def lives_there(self) -> bool:
        return self.role == "homeowner"


def of_houses(project_ids: Collection[int]) -> dict[int, dict[int, Reach]]:
    """By house, then by their own id."""
    found: dict[int, dict[int, Reach]] = {project: {} for project in project_ids}
    ids = list(found)
    for start in range(0, len(ids), _AT_A_TIME):
        some = ids[start:start + _AT_A_TIME]
        for row in rows(f"{_OF_HOUSES} ({', '.join('?' * len(some))}) ORDER BY id", *some):
            found[row["project"]][row["id"]] = Reach(**row)
    return found


def name_of(person_id: int) -> str | None:
    """None: there is no such person any more."""
    person = Person.get_or_none(Person.id == person_id)
    return person.name if person else None


def let_read_prices(person_id: int, may: bool) -> bool:
    """Whether that was anything new."""
    other = (Person.id == person_id) & (Person.reads_prices != may)
    return bool(Person.update(reads_prices=may, version=Person.version + 1).where(other).execute())
