"""Who has left signs in no more, and none of their tokens opens anything."""

import pytest

from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows import staff_rows
from tests.house import NOW, House


@pytest.fixture
def token(house: House) -> tables.Token:
    return tables.Token.create(staff=house.office.id, digest="9" * 64, label="phone", made_at=NOW)


def test_a_token_is_its_holders(house: House, token: tables.Token) -> None:
    assert staff_rows.bearer("9" * 64) == ("office", house.office.id, "Lou Ferris")
    assert staff_rows.bearer("8" * 64) is None


def test_a_revoked_token_opens_nothing_and_is_revoked_once(house: House, token: tables.Token) -> None:
    with write():
        assert staff_rows.revoke_token(house.manager.id, token.id, NOW) is None, "it is not theirs"
        revoked = staff_rows.revoke_token(house.office.id, token.id, NOW + 5)
        assert revoked is not None and revoked.revoked_at == NOW + 5
        assert staff_rows.revoke_token(house.office.id, token.id, NOW + 9) is None
    assert staff_rows.bearer("9" * 64) is None
    assert [one.revoked_at for one in staff_rows.tokens(house.office.id)] == [NOW + 5]
    assert staff_rows.tokens(house.manager.id) == []


def test_who_leaves_is_found_no_more_but_keeps_the_name(house: House, token: tables.Token) -> None:
    old = tables.Token.create(staff=house.office.id, digest="7" * 64, made_at=NOW, revoked_at=NOW - 1)
    mine = tables.Token.create(staff=house.manager.id, digest="6" * 64, made_at=NOW)
    with write():
        staff_rows.dismiss(house.office.id, NOW + 5)
    assert staff_rows.bearer("9" * 64) is None and staff_rows.bearer("6" * 64) is not None
    assert staff_rows.working(house.office.id) is None
    assert staff_rows.working_by_email("lou@brackwater.example.com") is None
    assert staff_rows.names() == {house.manager.id: "Dana Whitcombe", house.office.id: "Lou Ferris"}
    assert tables.Token.get_by_id(old.id).revoked_at == NOW - 1 and tables.Token.get_by_id(mine.id).revoked_at is None


def test_an_inactive_member_of_staff_has_no_token_that_opens(house: House, token: tables.Token) -> None:
    tables.Staff.update(active=False).where(tables.Staff.id == house.office.id).execute()
    assert staff_rows.bearer("9" * 64) is None


def test_whoever_works_here_is_found_by_address_and_id(house: House) -> None:
    dana = staff_rows.working_by_email("dana@brackwater.example.com")
    assert dana is not None and dana.id == house.manager.id and staff_rows.working(dana.id) == dana
    assert staff_rows.working_by_email("nobody@brackwater.example.com") is None


def test_a_password_is_changed_for_one_alone(house: House) -> None:
    before = tables.Staff.get_by_id(house.office.id).password_hash
    with write():
        staff_rows.set_password_hash(house.manager.id, "another hash")
    assert tables.Staff.get_by_id(house.manager.id).password_hash == "another hash"
    assert tables.Staff.get_by_id(house.office.id).password_hash == before


def test_tokens_come_as_they_were_made_and_the_last_one_made_opens_too(house: House, token: tables.Token) -> None:
    later = tables.Token.create(staff=house.office.id, digest="3" * 64, made_at=NOW - 60)
    tables.Token.update(label="tablet").where(tables.Token.id == token.id).execute()
    assert staff_rows.tokens(house.office.id) == [token, later]
    assert staff_rows.bearer("3" * 64) == staff_rows.bearer("9" * 64) == ("office", house.office.id, "Lou Ferris")


def test_a_token_that_is_not_there_is_not_revoked(house: House, token: tables.Token) -> None:
    with write():
        assert staff_rows.revoke_token(house.office.id, token.id + 100, NOW) is None
    assert staff_rows.bearer("9" * 64) is not None


def test_who_left_is_not_found_by_address_but_whoever_stayed_is(house: House) -> None:
    with write():
        staff_rows.dismiss(house.manager.id, NOW)
    assert staff_rows.working_by_email("dana@brackwater.example.com") is None
    lou = staff_rows.working_by_email("lou@brackwater.example.com")
    assert lou is not None and lou.id == house.office.id and staff_rows.working(house.manager.id) is None
