"""Sessions: how long they last, what ends them, what is kept of them."""

import pytest

from portal import signing
from portal.acts.firm import sessions, staff
from portal.acts.firm.sessions import (
    CODE,
    IDLE,
    KEPT,
    LONGEST,
    SEEN_EVERY,
    SET_UP,
    TO_PROVE,
    begin_session,
    end_own_session,
    end_own_sessions,
    end_session,
    forget_sessions,
    standing_of,
)
from portal.acts.refusals import NotFound
from portal.store.engine.database import execute, is_sqlite, turn, write
from portal.store.rows.accounts import factor_rows
from portal.store.tables import AccountEntry, Firm, StaffSession
from tests.house import NOW, PASSWORD, House

DANA = "dana@brackwater.example.com"


@pytest.fixture
def mark(house: House) -> str:
    return begin_session(house.manager.id, "Safari, iPhone", NOW)


def used_at(mark: str) -> int:
    return int(StaffSession.get(StaffSession.digest == signing.digest(mark)).used_at)


def test_only_the_digest_of_a_mark_is_kept(house: House, mark: str) -> None:
    assert len(bytes.fromhex(mark)) * 8 >= 128, "OWASP ASVS 5.0, 7.2.3"
    assert mark not in str(execute("SELECT * FROM staff_session").fetchall())
    found = standing_of(mark, NOW)
    assert found is not None and (found.actor, found.step, found.fresh) == (house.manager, "", True)


@pytest.mark.parametrize("none", ["", "0" * 32, "made up"])
def test_a_mark_of_no_session_is_nobodys(house: House, mark: str, none: str) -> None:
    assert standing_of(none, NOW) is None


def test_it_ends_without_use_and_after_its_longest(house: House, mark: str) -> None:
    """The figures and their reasons stand on top of portal/acts/firm/sessions.py."""
    assert standing_of(mark, NOW + IDLE + 1) is None
    assert standing_of(mark, NOW + IDLE) is not None
    assert standing_of(mark, NOW + 2 * IDLE) is not None, "it was used, so the time begins anew"
    for day in range(6, LONGEST // (24 * 3600)):
        assert standing_of(mark, NOW + day * 24 * 3600) is not None
    assert standing_of(mark, NOW + LONGEST) is not None and standing_of(mark, NOW + LONGEST + 1) is None
    assert LONGEST <= 30 * 24 * 3600, "NIST SP 800-63B-4, 2.1.3"


def test_a_session_of_tomorrow_is_none(house: House, mark: str) -> None:
    assert standing_of(mark, NOW - 1) is None


def test_last_use_is_written_once_a_minute(house: House, mark: str) -> None:
    standing_of(mark, NOW + SEEN_EVERY - 1)
    assert used_at(mark) == NOW
    standing_of(mark, NOW + SEEN_EVERY)
    assert used_at(mark) == NOW + SEEN_EVERY
    standing_of(mark, NOW + SEEN_EVERY + 30)
    assert used_at(mark) == NOW + SEEN_EVERY


def test_whoever_reads_does_not_wait_for_the_writers_turn(house: House, mark: str) -> None:
    with turn():
        assert standing_of(mark, NOW + 600) is not None
    assert used_at(mark) == (NOW if is_sqlite() else NOW + 600), "only SQLite has one turn for all"


def test_signed_out_is_signed_out_wherever_the_cookie_was_copied(house: House, mark: str) -> None:
    other = begin_session(house.manager.id, "Chrome, Windows", NOW)
    end_session(mark, NOW + 5)
    assert standing_of(mark, NOW + 6) is None and standing_of(other, NOW + 6) is not None
    end_session(mark, NOW + 9)
    end_session("", NOW)
    assert StaffSession.get(StaffSession.digest == signing.digest(mark)).ended_at == NOW + 5


def test_one_of_several_is_ended_by_its_owner_alone(house: House, mark: str) -> None:
    theirs = StaffSession.get(StaffSession.digest == signing.digest(mark)).id
    with pytest.raises(NotFound):
        end_own_session(house.office, theirs, NOW)
    end_own_session(house.manager, theirs, NOW)
    assert standing_of(mark, NOW) is None
    with pytest.raises(NotFound):
        end_own_session(house.manager, theirs, NOW)


def test_everywhere_is_everywhere_and_nobody_elses(house: House, mark: str) -> None:
    others = [begin_session(house.manager.id, "", NOW), begin_session(house.office.id, "", NOW)]
    assert end_own_sessions(house.manager, NOW) == 2
    assert [standing_of(one, NOW) is not None for one in [mark, *others]] == [False, False, True]


def test_a_new_password_ends_all_others(house: House, mark: str) -> None:
    here = begin_session(house.manager.id, "", NOW)
    number = StaffSession.get(StaffSession.digest == signing.digest(here)).id
    made = staff.new_password(house.manager.id, PASSWORD, "plumb and square in the attic")
    assert staff.change_password(house.manager, made, number, NOW) == 1
    assert standing_of(mark, NOW) is None and standing_of(here, NOW) is not None
    assert staff.set_password(DANA, "four old maple boards", NOW)[1] == 1
    assert standing_of(here, NOW) is None


def test_who_leaves_is_out_at_once(house: House, mark: str) -> None:
    staff.remove_staff(DANA, NOW)
    assert standing_of(mark, NOW) is None
    execute("UPDATE staff SET active = TRUE")
    assert standing_of(mark, NOW) is None, "coming back does not open what was open before"


def test_the_operator_ends_sessions_and_tokens_if_asked(house: House, mark: str) -> None:
    token = staff.add_token(DANA, "phone", NOW)
    assert staff.sign_out(DANA, NOW)[1:] == (1, 0)
    assert standing_of(mark, NOW) is None and staff.bearer_actor(token) is not None
    assert staff.sign_out(DANA, NOW, tokens=True)[1:] == (0, 1)
    assert staff.bearer_actor(token) is None
    assert [(one.kind, one.by_id) for one in AccountEntry.select()] == [("signed_out", None), ("tokens_ended", None)]


def test_with_a_second_factor_a_code_is_asked_for_and_not_for_long(house: House, mark: str) -> None:
    with write():
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=0, now=NOW)
    found = standing_of(mark, NOW + TO_PROVE)
    assert found is not None and found.step == CODE
    assert standing_of(mark, NOW + TO_PROVE + 1) is None, "then it is the password once more"


def test_a_factor_that_is_set_up_anew_is_asked_for_anew(house: House, mark: str) -> None:
    execute("UPDATE staff_session SET proved_at = ?", NOW - 1)
    with write():
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=0, now=NOW)
    found = standing_of(mark, NOW)
    assert found is not None and found.step == CODE


def test_where_the_firm_demands_one_it_is_set_up_first(house: House, mark: str) -> None:
    Firm.update(demands_second_factor=True).execute()
    found = standing_of(mark, NOW)
    assert found is not None and found.step == SET_UP


def test_old_sessions_are_forgotten(house: House, mark: str) -> None:
    end_session(mark, NOW)
    begin_session(house.office.id, "", NOW)
    assert forget_sessions(NOW + KEPT) == 0
    assert forget_sessions(NOW + KEPT + 1) == 1
    assert forget_sessions(NOW + LONGEST + KEPT + 1) == 1
    assert StaffSession.select().count() == 0


def test_no_address_is_kept() -> None:
    assert set(StaffSession._meta.fields) == {
        "id", "staff", "digest", "device", "began_at", "used_at", "proved_at", "ended_at",
    }  # fmt: skip
    assert sessions.KEPT <= 30 * 24 * 3600
