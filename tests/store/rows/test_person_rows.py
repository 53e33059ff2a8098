"""People by id, as long as they are there."""

from portal.store import tables
from portal.store.rows import person_rows
from tests.house import House


def test_a_name_is_that_of_whoever_has_the_id(house: House) -> None:
    people = (house.homeowner, house.co_owner, house.other_homeowner)
    assert [person_rows.name_of(one.id) for one in people] == ["Maren Okafor", "Jonas Okafor", "Ida Sorensen"]


def test_nobody_has_a_name_any_more_who_was_removed(house: House) -> None:
    pia = tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    assert person_rows.name_of(pia.id) == "Pia Lindqvist"
    pia.delete_instance()
    assert person_rows.name_of(pia.id) is None
