"""Whoever has agreed to deal electronically stays so until they take it back."""

from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows import consent_rows
from tests.house import NOW, House


def test_a_consent_stands_until_it_is_taken_back_and_can_be_given_anew(house: House) -> None:
    person = house.homeowner.id
    with write():
        assert not consent_rows.withdraw(person, NOW), "there is none"
        consent_rows.add(person, "v1", NOW)
        assert consent_rows.standing(person) and not consent_rows.standing(house.co_owner.id)
        assert consent_rows.withdraw(person, NOW + 5) and not consent_rows.standing(person)
        consent_rows.add(person, "v2", NOW + 9)
    assert consent_rows.standing(person)
    kept = tables.Consent.select().order_by(tables.Consent.id)
    assert [(one.version, one.withdrawn_at) for one in kept] == [("v1", NOW + 5), ("v2", None)]


def test_what_one_takes_back_is_their_own_and_what_was_taken_back_stays_so(house: House) -> None:
    with write():
        for person in (house.homeowner.id, house.co_owner.id):
            consent_rows.add(person, "v1", NOW)
        assert consent_rows.withdraw(house.homeowner.id, NOW + 5)
        assert not consent_rows.withdraw(house.homeowner.id, NOW + 9), "it was taken back before"
    assert consent_rows.standing(house.co_owner.id)
    assert {(one.person_id, one.withdrawn_at) for one in tables.Consent.select()} == {
        (house.homeowner.id, NOW + 5), (house.co_owner.id, None),
    }  # fmt: skip
