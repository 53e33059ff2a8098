"""The firm and its staff: an address signs in one person, a token is one person's."""

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database


def test_the_firm_needs_a_name_a_number_and_its_hours(house: House) -> None:
    made = tables.Firm.create(name="Pell Harbor Stone", phone="218-555-0188", office_hours="Mornings")
    found = tables.Firm.get_by_id(made.id)
    assert (found.email, found.address, found.registrations, found.version) == ("", "", [], 1)
    with refused_by_the_database("(?i)not.null"):
        tables.Firm.create(name="Pell Harbor Stone", phone="218-555-0188")


def test_two_of_the_staff_have_two_addresses(house: House) -> None:
    with refused_by_the_database("(?i)unique"):
        tables.Staff.create(name="Dana W.", email="dana@brackwater.example.com", role="office", password_hash="h")
    twin = tables.Staff.create(name="Dana Whitcombe", email="dw@example.com", role="office", password_hash="h")
    assert tables.Staff.get_by_id(twin.id).active is True


def test_a_token_is_one_persons_and_nameless_at_first(house: House) -> None:
    made = tables.Token.create(staff=house.office.id, digest="4" * 64, made_at=NOW)
    found = tables.Token.get_by_id(made.id)
    assert (found.label, found.revoked_at, found.made_at) == ("", None, NOW)
    with refused_by_the_database("(?i)unique"):
        tables.Token.create(staff=house.manager.id, digest="4" * 64, made_at=NOW)


def test_whoever_has_a_token_or_wrote_something_stays_a_member_of_staff(house: House) -> None:
    tables.Token.create(staff=house.office.id, digest="4" * 64, made_at=NOW)
    for actor in (house.office, house.manager):
        with refused_by_the_database("(?i)foreign key"):
            tables.Staff.delete().where(tables.Staff.id == actor.id).execute()
    assert tables.Staff.select().count() == 2
