"""Hashing: the same work for whoever tries, never more than two at a time, and never within the writers' turn."""

import threading

import pytest
from argon2 import PasswordHasher

from portal.acts.firm import passwords, staff
from portal.acts.firm.passwords import fits, hashed
from portal.acts.refusals import NotYourPassword, WrongPassword
from portal.store.engine.database import database
from portal.store.refusals import Busy
from portal.store.tables import Staff
from tests.house import NOW, PASSWORD, House

EMAIL = "dana@brackwater.example.com"


class Counting(PasswordHasher):
    """Counts what it computes, and refuses to while a transaction is open."""

    def __init__(self) -> None:
        super().__init__(time_cost=1, memory_cost=8, parallelism=1)
        self.computed: list[str] = []

    def hash(self, password: str | bytes, *, salt: bytes | None = None) -> str:
        assert not database.in_transaction()
        self.computed.append("hash")
        return super().hash(password, salt=salt)

    def verify(self, hash: str | bytes, password: str | bytes) -> bool:
        assert not database.in_transaction()
        self.computed.append(str(hash).rpartition("$")[0].rpartition("$")[0])
        return super().verify(hash, password)


@pytest.fixture
def counting(monkeypatch: pytest.MonkeyPatch) -> Counting:
    found = Counting()
    monkeypatch.setattr(passwords, "hasher", found)
    return found


@pytest.mark.parametrize(
    ("email", "password"),
    [(EMAIL, PASSWORD), (EMAIL, "a guess"), ("nobody@example.com", "a guess")],
)
def test_one_hash_of_the_same_cost_whether_there_is_an_account_or_not(
    house: House, counting: Counting, email: str, password: str
) -> None:
    """Counted, not timed: machines are noisy. What argon2 is told to do is the same, so it takes the same time."""
    Staff.update(password_hash=PasswordHasher().hash(PASSWORD)).execute()
    try:
        staff.sign_in(email, password)
    except WrongPassword:
        assert password != PASSWORD
    assert counting.computed == ["$argon2id$v=19$m=65536,t=3,p=4"]


def test_no_password_fits_where_there_is_no_account(house: House) -> None:
    assert not fits("", None) and not fits(PASSWORD, None)


def test_a_hash_that_can_not_be_read_fits_nothing(house: House) -> None:
    assert not fits(PASSWORD, "of an old program")


def test_a_password_is_compared_to_its_last_letter(house: House) -> None:
    long = "plumb line to the wall " * 40
    kept = hashed(long)
    assert fits(long, kept)
    assert not fits(long[:-1], kept) and not fits(long.upper(), kept) and not fits(long.strip(), kept)


def test_nothing_is_hashed_while_something_is_written(house: House, counting: Counting) -> None:
    """`Counting` refuses to compute within a transaction."""
    Staff.update(password_hash=counting.hash(PASSWORD)).execute()
    made = staff.new_password(house.manager.id, PASSWORD, "plumb and square in the attic")
    assert staff.change_password(house.manager, made, None, NOW) == 0
    staff.set_password(EMAIL, "four old maple boards", NOW)
    staff.add_staff("Ivo Brand", "ivo@example.com", "office", "four old maple boards")
    assert staff.sign_in("ivo@example.com", "four old maple boards").name == "Ivo Brand"


def test_two_at_a_time_two_wait_and_the_next_is_told_to_come_again(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_once, most, go = [0], [0], threading.Event()

    class Slow(PasswordHasher):
        def verify(self, hash: str | bytes, password: str | bytes) -> bool:
            at_once[0] += 1
            most[0] = max(most[0], at_once[0])
            assert go.wait(10)
            at_once[0] -= 1
            return True

    monkeypatch.setattr(passwords, "hasher", Slow())
    done: list[str] = []

    def one() -> None:
        try:
            fits("x", "y")
            done.append("done")
        except Busy:
            done.append("busy")
            if done.count("busy") == 3:
                go.set()

    threads = [threading.Thread(target=one) for _ in range(7)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(20)
    assert (sorted(done), most[0]) == (["busy"] * 3 + ["done"] * 4, 2)


def test_the_old_password_is_asked_for_and_the_same_form_twice_is_done_once(house: House) -> None:
    new = "plumb and square in the attic"
    with pytest.raises(NotYourPassword):
        staff.new_password(house.manager.id, "a guess", new)
    made = staff.new_password(house.manager.id, PASSWORD, new)
    staff.change_password(house.manager, made, None, NOW)
    again = staff.new_password(house.manager.id, PASSWORD, new)
    assert again.password_hash is None
    before = Staff.get_by_id(house.manager.id).password_hash
    staff.change_password(house.manager, again, None, NOW)
    assert Staff.get_by_id(house.manager.id).password_hash == before


def test_of_two_changes_at_once_one_counts(house: House) -> None:
    one, other = (staff.new_password(house.manager.id, PASSWORD, f"plumb and square in {where}")
                  for where in ("the attic", "the yard"))
    staff.change_password(house.manager, one, None, NOW)
    with pytest.raises(NotYourPassword):
        staff.change_password(house.manager, other, None, NOW)
    assert staff.sign_in(EMAIL, "plumb and square in the attic").id == house.manager.id
