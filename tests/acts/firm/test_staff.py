"""Accounts of the firm's people: who has left gets in no more, and a new password replaces the old one."""

import pytest

from portal.acts.firm.staff import (
    add_staff,
    add_token,
    bearer_actor,
    remove_staff,
    revoke_token,
    set_password,
    sign_in,
    staff_actor,
    tokens_of,
)
from portal.acts.refusals import FieldRefused, NotFound, WrongPassword
from tests.house import NOW, PASSWORD, House

EMAIL = "dana@brackwater.example.com"


def test_who_has_left_gets_in_no_more(house: House) -> None:
    token = add_token(EMAIL, "phone", NOW)
    assert bearer_actor(token)
    remove_staff(EMAIL, NOW)
    assert bearer_actor(token) is None and staff_actor(house.manager.id) is None
    with pytest.raises(WrongPassword):
        sign_in(EMAIL, PASSWORD)
    with pytest.raises(NotFound):
        add_token(EMAIL, "again", NOW)


def test_a_token_that_was_lost_is_ended_alone(house: House) -> None:
    lost, kept = (add_token(EMAIL, label, NOW) for label in ("phone", "laptop"))
    phone, laptop = tokens_of(EMAIL)
    assert revoke_token(EMAIL, phone.id, NOW + 60).revoked_at == NOW + 60
    assert bearer_actor(lost) is None and bearer_actor(kept) and staff_actor(house.manager.id)
    assert [(one.label, one.revoked_at) for one in tokens_of(EMAIL)] == [("phone", NOW + 60), ("laptop", None)]
    for email, number in ((EMAIL, phone.id), ("lou@brackwater.example.com", laptop.id), (EMAIL, 2**40)):
        with pytest.raises(NotFound):
            revoke_token(email, number, NOW + 120)
    assert bearer_actor(kept)


def test_a_new_password_replaces_the_old_one(house: House) -> None:
    assert set_password(EMAIL, "plumb and square", NOW)[0].name == house.manager.name
    assert sign_in(EMAIL, "plumb and square").id == house.manager.id
    with pytest.raises(WrongPassword):
        sign_in(EMAIL, PASSWORD)


def test_a_short_password_is_refused_and_the_old_one_stays(house: House) -> None:
    with pytest.raises(FieldRefused) as refused:
        set_password(EMAIL, "short", NOW)
    assert refused.value.field == "password"
    assert sign_in(EMAIL, PASSWORD).id == house.manager.id


@pytest.mark.parametrize(
    ("values", "field"),
    [(("A", "no address", "office", PASSWORD), "email"), (("A", "a@example.com", "crew", PASSWORD), "role"),
     (("A", "a@example.com", "office", "short"), "password"), (("A", EMAIL, "office", PASSWORD), "email")],
)
def test_an_account_that_can_not_be_is_refused_by_its_field(house: House, values: tuple[str, ...], field: str) -> None:
    with pytest.raises(FieldRefused) as refused:
        add_staff(*values)
    assert refused.value.field == field
