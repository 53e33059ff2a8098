"""The second factor: set up with a code of its own key, used once a step, recovered, taken away."""

import logging
from urllib.parse import parse_qs, unquote, urlsplit

import pytest
from pyotp import TOTP

from portal import signing
from portal.acts.actor import Actor
from portal.acts.firm import staff
from portal.acts.firm.second_factor import (
    CODES,
    SHOWN_AGAIN,
    NewFactor,
    WrongCode,
    demand_second_factor,
    drop_own_second_factor,
    is_recovery_code,
    new_factor,
    prove,
    renew_recovery_codes,
    set_up_second_factor,
)
from portal.acts.firm.sessions import CODE, SET_UP, begin_session, standing_of
from portal.acts.refusals import FieldRefused, NotFound
from portal.store.engine.database import execute
from portal.store.rows.accounts.session_rows import SessionFact
from portal.store.tables import AccountEntry, Firm, SecondFactor
from tests.acts.accounts import code_now
from tests.house import NOW, SECRET, House

DANA = "dana@brackwater.example.com"


def session(mark: str, now: int = NOW) -> SessionFact:
    found = standing_of(mark, now)
    assert found is not None
    return found.session


def made_for(mark: str, now: int = NOW) -> NewFactor:
    return new_factor(SECRET, session(mark, now), signing.digest(mark), "Brackwater Remodeling")


@pytest.fixture
def mark(house: House) -> str:
    return begin_session(house.manager.id, "Safari, iPhone", NOW)


def set_up(actor: Actor, mark: str, now: int = NOW) -> tuple[str, list[str]]:
    made = made_for(mark, now)
    codes = set_up_second_factor(actor, made, code_now(now, made.key), session(mark, now).id, SECRET, now)
    return made.key, codes


def test_a_page_that_is_opened_twice_shows_the_same_key_and_keeps_none(house: House, mark: str) -> None:
    before = execute("SELECT * FROM staff_session").fetchall()
    assert made_for(mark) == made_for(mark)
    assert made_for(mark) != made_for(begin_session(house.manager.id, "", NOW))
    assert execute("SELECT COUNT(*) FROM second_factor").fetchone() == (0,) and before


def test_what_the_square_says_is_what_programs_for_codes_read(house: House, mark: str) -> None:
    """The parameters of otpauth://totp/ that they share; those left out are the defaults: SHA-1, 6 digits, 30 s."""
    made = made_for(mark)
    parts = urlsplit(made.address)
    assert (parts.scheme, parts.netloc, unquote(parts.path)) == ("otpauth", "totp", f"/Brackwater Remodeling:{DANA}")
    assert parse_qs(parts.query) == {"secret": [made.key], "issuer": ["Brackwater Remodeling"]}
    assert TOTP(made.key).at(NOW) == code_now(NOW, made.key)


def test_it_is_set_up_with_a_code_and_this_session_has_given_it(house: House, mark: str) -> None:
    other = begin_session(house.manager.id, "Chrome, Windows", NOW)
    _, codes = set_up(house.manager, mark)
    assert len(set(codes)) == CODES == 8
    here, there = standing_of(mark, NOW), standing_of(other, NOW)
    assert here is not None and here.step == "" and there is not None and there.step == CODE


def test_a_wrong_code_sets_nothing_up(house: House, mark: str) -> None:
    made = made_for(mark)
    for wrong in ("000000", code_now(NOW - 120, made.key), code_now(NOW)):
        with pytest.raises(WrongCode):
            set_up_second_factor(house.manager, made, wrong, session(mark).id, SECRET, NOW)
    assert SecondFactor.select().count() == 0


def test_neither_key_nor_recovery_code_is_in_the_database(house: House, mark: str) -> None:
    key, codes = set_up(house.manager, mark)
    kept = "\n".join(house_dump())
    assert not any(secret in kept for secret in [key, *codes, *(code.replace("-", "") for code in codes)])


def house_dump() -> list[str]:
    return [str(row) for table in ("second_factor", "recovery_code", "staff_session", "account_entry")
            for row in execute(f"SELECT * FROM {table}").fetchall()]  # fmt: skip


def test_sent_twice_it_gives_the_same_codes_for_a_while_and_elsewhere_none(house: House, mark: str) -> None:
    _, codes = set_up(house.manager, mark)
    again = set_up_second_factor(house.manager, made_for(mark), "", session(mark).id, SECRET, NOW + SHOWN_AGAIN)
    assert again == codes
    other = begin_session(house.manager.id, "", NOW)
    for number, now in ((session(mark).id, NOW + SHOWN_AGAIN + 1), (session(other).id, NOW)):
        with pytest.raises(FieldRefused, match="You have a second factor already"):
            set_up_second_factor(house.manager, made_for(mark), "", number, SECRET, now)


def test_a_code_opens_the_session_once(house: House, mark: str) -> None:
    key, _ = set_up(house.manager, mark)
    used = code_now(NOW, key)
    one, other = (begin_session(house.manager.id, "", NOW) for _ in range(2))
    with pytest.raises(WrongCode):
        prove(session(one), used, SECRET, NOW)
    later = NOW + 30
    prove(session(one, later), code_now(later, key), SECRET, later)
    assert standing_of(one, later).step == ""  # type: ignore[union-attr]
    prove(session(one, later), code_now(later, key), SECRET, later)  # the form sent twice: nothing is left to refuse
    with pytest.raises(WrongCode):
        prove(session(other, later), code_now(later, key), SECRET, later)
    with pytest.raises(WrongCode):
        prove(session(other, later), used, SECRET, later)
    assert standing_of(other, later).step == CODE  # type: ignore[union-attr]


def test_the_code_of_somebody_else_opens_nothing(house: House, mark: str) -> None:
    set_up(house.manager, mark)
    lou = begin_session(house.office.id, "", NOW)
    lous, codes = set_up(house.office, lou)
    dana = begin_session(house.manager.id, "", NOW)
    for code in (code_now(NOW + 30, lous), codes[0]):
        with pytest.raises(WrongCode):
            prove(session(dana), code, SECRET, NOW + 30)


@pytest.mark.parametrize("typed", [str, str.upper, lambda code: code.replace("-", ""), lambda code: f" {code} "])
def test_a_recovery_code_opens_once_however_it_is_typed(house: House, mark: str, typed: "type[str]") -> None:
    _, codes = set_up(house.manager, mark)
    one, other = (begin_session(house.manager.id, "", NOW) for _ in range(2))
    assert is_recovery_code(typed(codes[3])) and not is_recovery_code("123 456")
    prove(session(one), typed(codes[3]), SECRET, NOW)
    assert standing_of(one, NOW).step == ""  # type: ignore[union-attr]
    with pytest.raises(WrongCode):
        prove(session(other), codes[3], SECRET, NOW)
    prove(session(other), codes[4], SECRET, NOW)
    assert [one.kind for one in AccountEntry.select()][1:] == ["recovery_code_used"] * 2


def test_new_recovery_codes_end_the_old_ones(house: House, mark: str) -> None:
    _, codes = set_up(house.manager, mark)
    new = renew_recovery_codes(house.manager, SECRET, NOW)
    assert not set(codes) & set(new)
    again = begin_session(house.manager.id, "", NOW)
    with pytest.raises(WrongCode):
        prove(session(again), codes[0], SECRET, NOW)
    prove(session(again), new[0], SECRET, NOW)
    with pytest.raises(NotFound):
        renew_recovery_codes(house.office, SECRET, NOW)


def test_taken_away_it_is_asked_for_no_more_and_other_sessions_end(house: House, mark: str) -> None:
    key, _ = set_up(house.manager, mark)
    other = begin_session(house.manager.id, "", NOW)
    assert drop_own_second_factor(house.manager, session(mark).id, NOW) == 1
    assert standing_of(other, NOW) is None and standing_of(mark, NOW).step == ""  # type: ignore[union-attr]
    assert made_for(mark).key != key, "a phone that is gone has no part in the next one"
    with pytest.raises(NotFound):
        drop_own_second_factor(house.manager, session(mark).id, NOW)


def test_the_operator_takes_it_away_on_the_record_and_ends_sessions(
    house: House, mark: str, caplog: pytest.LogCaptureFixture
) -> None:
    set_up(house.manager, mark)
    with caplog.at_level(logging.INFO, "portal.accounts"):
        assert staff.take_second_factor_away(DANA, NOW)[1] == 1
    assert standing_of(mark, NOW) is None
    assert standing_of(begin_session(house.manager.id, "", NOW), NOW).step == ""  # type: ignore[union-attr]
    last = AccountEntry.select().order_by(AccountEntry.id.desc()).first()
    assert (last.kind, last.staff_id, last.by_id, last.at) == (
        "second_factor_taken_away", house.manager.id, None, NOW)  # fmt: skip
    assert [(one.getMessage(), one.__dict__["staff"]) for one in caplog.records] == [
        ("second factor taken away by the operator", house.manager.id)]  # fmt: skip
    with pytest.raises(NotFound):
        staff.take_second_factor_away(DANA, NOW)


def test_demanded_it_is_set_up_before_anything_else_by_all_who_have_none(house: House, mark: str) -> None:
    set_up(house.manager, mark)
    lou = begin_session(house.office.id, "", NOW)
    token = staff.add_token("lou@brackwater.example.com", "phone", NOW)
    assert demand_second_factor(house.manager, True, NOW)
    assert not demand_second_factor(house.manager, True, NOW), "pressed twice, it is demanded once"
    assert [standing_of(one, NOW).step for one in (mark, lou)] == ["", SET_UP]  # type: ignore[union-attr]
    assert staff.bearer_actor(token) == house.office, "API tokens go on"
    set_up(house.office, lou)
    assert standing_of(lou, NOW).step == ""  # type: ignore[union-attr]
    drop_own_second_factor(house.office, session(lou).id, NOW)
    assert standing_of(lou, NOW).step == SET_UP, "another phone is set up at once"  # type: ignore[union-attr]
    demand_second_factor(house.manager, False, NOW)
    assert standing_of(lou, NOW).step == ""  # type: ignore[union-attr]


def test_without_a_firm_there_is_nobody_to_demand_it(house: House) -> None:
    Firm.delete().execute()
    with pytest.raises(FieldRefused, match="Write down the firm’s details first"):
        demand_second_factor(house.manager, True, NOW)


def test_no_password_no_code_and_no_key_gets_into_the_log(
    house: House, mark: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.DEBUG):
        key, codes = set_up(house.manager, mark)
        again = begin_session(house.manager.id, "", NOW)
        for typed in ("123456", codes[0]):
            try:
                prove(session(again), typed, SECRET, NOW)
            except WrongCode:
                assert typed == "123456"
        staff.sign_in(DANA, "level to a sixteenth", "203.0.113.7")
    told = " ".join(str(one.__dict__) for one in caplog.records if one.name.startswith("portal"))
    assert "wrong code" in told and "recovery_code" in told and "203.0.113.7" in told
    assert not any(secret in told for secret in [key, *codes, "123456", "level to a sixteenth", mark, again])
