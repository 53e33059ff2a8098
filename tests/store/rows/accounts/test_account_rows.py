"""Rows of sessions, second factors and what was done to accounts: each person's own, and used up once."""

from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows.accounts import factor_rows, journal_rows, session_rows
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database


def test_a_session_is_found_with_whose_it_is(house: House) -> None:
    with write():
        number = session_rows.begin(house.office.id, "5" * 64, "Firefox, Mac", NOW)
        session_rows.begin(house.manager.id, "6" * 64, "", NOW + 9)
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=7, now=NOW + 3)
    found, other = session_rows.find("5" * 64), session_rows.find("6" * 64)
    assert found is not None and other is not None and session_rows.find("7" * 64) is None
    assert (found.id, found.staff, found.role, found.name) == (number, house.office.id, "office", "Lou Ferris")
    assert (found.email, found.began_at, found.used_at) == ("lou@brackwater.example.com", NOW, NOW)
    assert (found.factor_at, found.proved_at, found.demanded, found.proved) == (None, None, False, False)
    assert (other.factor_at, other.proved) == (NOW + 3, False)
    with refused_by_the_database("(?i)unique"):
        session_rows.begin(house.office.id, "5" * 64, "", NOW)


def test_a_factor_is_proved_by_what_came_after_it(house: House) -> None:
    with write():
        number = session_rows.begin(house.manager.id, "6" * 64, "", NOW)
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=7, now=NOW + 3)
    for at, proved in ((NOW + 2, False), (NOW + 3, True), (NOW + 4, True)):
        session_rows.prove(number, at)
        found = session_rows.find("6" * 64)
        assert found is not None and found.proved is proved and session_rows.proved_at(number) == at
    assert session_rows.end(house.manager.id, number, NOW + 5)
    assert session_rows.proved_at(number) is None and session_rows.find("6" * 64) is None


def test_last_use_goes_forward_only(house: House) -> None:
    with write():
        number = session_rows.begin(house.manager.id, "6" * 64, "", NOW)
        session_rows.use(number, NOW + 60)
        session_rows.use(number, NOW + 30)
    assert tables.StaffSession.get_by_id(number).used_at == NOW + 60
    assert session_rows.last_used() == {house.manager.id: NOW + 60}


def test_ending_all_can_leave_one_and_ends_each_once(house: House) -> None:
    with write():
        numbers = [session_rows.begin(house.manager.id, f"{i}" * 64, "", NOW + i) for i in range(3)]
        session_rows.begin(house.office.id, "9" * 64, "", NOW)
        assert session_rows.end(house.manager.id, numbers[0], NOW + 50)
        assert not session_rows.end(house.manager.id, numbers[0], NOW + 51)
        assert not session_rows.end(house.office.id, numbers[1], NOW + 52)
        assert session_rows.end_all(house.manager.id, NOW + 60, besides=numbers[2]) == 1
        assert session_rows.end_all(house.manager.id, NOW + 70) == 1
    ended = {row.id: row.ended_at for row in session_rows.newest(house.manager.id, 10)}
    assert ended == {numbers[0]: NOW + 50, numbers[1]: NOW + 60, numbers[2]: NOW + 70}
    assert [row.id for row in session_rows.newest(house.manager.id, 2)] == [numbers[2], numbers[1]]
    assert session_rows.find("9" * 64) is not None


def test_a_step_is_taken_once_and_never_an_earlier_one(house: House) -> None:
    with write():
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=7, now=NOW)
        assert [factor_rows.take_step(house.manager.id, step) for step in (6, 7, 9, 9, 8, 10)] == [
            False, False, True, False, False, True]  # fmt: skip
        assert not factor_rows.take_step(house.office.id, 20)
    assert factor_rows.staff_with_one() == {house.manager.id}


def test_a_recovery_code_is_used_once_and_by_its_owner(house: House) -> None:
    with write():
        for actor, salt in ((house.manager, "m"), (house.office, "o")):
            factor_rows.set_up(actor.id, salt="s", codes_salt="c", step=7, now=NOW)
            factor_rows.set_codes(actor.id, salt, [f"{salt}{i}" for i in range(3)])
        assert not factor_rows.use_code(house.office.id, "m1", NOW)
        assert factor_rows.use_code(house.manager.id, "m1", NOW)
        assert not factor_rows.use_code(house.manager.id, "m1", NOW + 1)
    assert (factor_rows.codes_left(house.manager.id), factor_rows.codes_left(house.office.id)) == (2, 3)
    with write():
        factor_rows.set_codes(house.manager.id, "n", ["n1"])
        assert not factor_rows.use_code(house.manager.id, "m2", NOW)
        assert factor_rows.drop(house.manager.id) and not factor_rows.drop(house.manager.id)
    assert factor_rows.codes_left(house.manager.id) == 0 and factor_rows.codes_left(house.office.id) == 3
    assert factor_rows.factor_of(house.manager.id) is None


def test_the_demand_is_kept_with_the_firm(house: House) -> None:
    version = tables.Firm.select().first().version
    assert not factor_rows.is_demanded()
    with write():
        assert factor_rows.set_demand(True)
    assert factor_rows.is_demanded() and tables.Firm.select().first().version == version + 1
    tables.Firm.delete().execute()
    assert not factor_rows.is_demanded() and not factor_rows.set_demand(True)


def test_what_was_done_is_told_the_newest_first_and_by_whom(house: House) -> None:
    with write():
        journal_rows.note(house.manager.id, "password_changed", NOW, by=house.manager.id)
        journal_rows.note(house.office.id, "removed", NOW + 5, by=None, about="left")
    told = [(one.staff_id, one.by_id, one.at, one.kind, one.note) for one in journal_rows.newest(10)]
    assert told == [
        (house.office.id, None, NOW + 5, "removed", "left"),
        (house.manager.id, house.manager.id, NOW, "password_changed", ""),
    ]
    assert [one.kind for one in journal_rows.newest(10, house.manager.id)] == ["password_changed"]
    assert len(journal_rows.newest(1)) == 1
