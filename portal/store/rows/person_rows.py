"""People of the households, by id."""

from portal.store.tables import Person


def name_of(person_id: int) -> str | None:
    """None: there is no such person any more."""
    person = Person.get_or_none(Person.id == person_id)
    return person.name if person else None
