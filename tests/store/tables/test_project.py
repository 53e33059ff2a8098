"""A project's rooms, people and links are its own; a name is one room's, and a digest one link's."""

from datetime import date

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

BARE = {"address": "5 Alder Row", "timezone": "America/Denver", "calendar": {}, "starts_on": date(2027, 1, 11)}


def test_a_project_begins_with_nothing_promised_and_no_change(house: House) -> None:
    found = tables.Project.get_by_id(tables.Project.create(name="Lindqvist porch", **BARE).id)
    assert (found.phone, found.office_hours, found.changed, found.version) == ("", "", 0, 1)
    assert [found.promised_on, found.signed_on, found.contract_cents, found.closed_at] == [None] * 4
    assert (found.starts_on, found.calendar) == (date(2027, 1, 11), {})


def test_a_contract_of_more_than_two_thousand_million_cents_is_kept(house: House) -> None:
    made = tables.Project.create(name="Lindqvist hotel", contract_cents=3_000_000_000, closed_at=NOW, **BARE)
    assert tables.Project.get_by_id(made.id).contract_cents == 3_000_000_000


def test_a_room_has_its_name_alone_in_its_project(house: House) -> None:
    with refused_by_the_database("(?i)unique"):
        tables.Room.create(project=house.project, name="Hall bath")
    there = tables.Room.create(project=house.other_project, name="Hall bath")
    assert (there.position, there.version) == (0, 1)


def test_a_room_belongs_to_a_project_that_is_there(house: House) -> None:
    with refused_by_the_database("(?i)foreign key"):
        tables.Room.create(project=999, name="Pantry")


def test_a_person_begins_as_a_homeowner_who_may_approve(house: House) -> None:
    found = tables.Person.get_by_id(tables.Person.create(project=house.other_project, name="Per Sorensen").id)
    assert (found.role, found.may_approve, found.phone, found.email) == ("homeowner", True, "", "")


def test_two_people_may_have_one_name(house: House) -> None:
    twin = tables.Person.create(project=house.project, name="Maren Okafor")
    assert twin.id not in (house.homeowner.id, house.co_owner.id)


def test_a_digest_opens_one_link(house: House) -> None:
    first = tables.Link.create(person=house.homeowner.id, salt="one", digest="5" * 64, made_at=NOW)
    assert tables.Link.get_by_id(first.id).revoked_at is None
    with refused_by_the_database("(?i)unique"):
        tables.Link.create(person=house.co_owner.id, salt="two", digest="5" * 64, made_at=NOW)


def test_a_project_without_a_record_goes_with_what_is_its_own(house: House) -> None:
    other, ours = house.other_project, house.project
    tables.Room.create(project=other, name="Bath")
    before = tables.Room.select().where(tables.Room.project == ours).count()
    tables.Project.delete().where(tables.Project.id == other).execute()
    assert tables.Person.get_or_none(tables.Person.id == house.other_homeowner.id) is None
    assert {link.person_id for link in tables.Link.select()} == {house.homeowner.id, house.co_owner.id}
    assert tables.Room.select().count() == before


def test_a_room_stays_while_something_is_in_it(house: House) -> None:
    with refused_by_the_database("(?i)foreign key"):
        tables.Room.delete().where(tables.Room.id == house.rooms["laundry"]).execute()
    assert tables.Room.get_or_none(tables.Room.id == house.rooms["laundry"])
