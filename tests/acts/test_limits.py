"""Limits: counted before anything is done, freed bit by bit, the same over processes and a restart."""

import logging
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from portal.acts import limits
from portal.acts.limits import LIMITS, begin_anew, give_back, take
from portal.store.engine import tallies
from portal.store.engine.database import write
from portal.store.engine.tallies import close_tallies, forget_past, open_tallies
from portal.store.refusals import Busy, TooOften
from tests.house import NOW, House

MANY, SECONDS = LIMITS["check"].many, LIMITS["check"].seconds


@pytest.fixture(autouse=True)
def counted(tmp_path: Path) -> Path:
    open_tallies(tmp_path)
    return tmp_path


def taken(limit: str, whose: str, now: int) -> int:
    """How many come through in a row."""
    for number in range(10_000):
        try:
            take(limit, whose, now)
        except TooOften:
            return number
    raise AssertionError("there is no end")


@pytest.mark.parametrize("limit", sorted(LIMITS))
def test_each_limit_lets_so_many_through_and_says_when_the_next_may_come(limit: str) -> None:
    bound = LIMITS[limit]
    take(limit, "a", NOW, tries=bound.many - 5)
    assert taken(limit, "a", NOW) == 5
    with pytest.raises(TooOften) as refused:
        take(limit, "a", NOW)
    wait = refused.value.retry_after
    assert wait is not None and 0 < wait <= -(-bound.seconds // bound.many)
    assert refused.value.status == 429
    with pytest.raises(TooOften):
        take(limit, "a", NOW + wait - 1)
    take(limit, "a", NOW + wait)
    take(limit, "b", NOW, tries=bound.many)  # of another one nothing was counted


def test_whoever_is_refused_is_not_counted_so_nobody_is_shut_out_by_trying() -> None:
    assert taken("sign_in_account", "dana", NOW) == 30
    for _ in range(200):
        with pytest.raises(TooOften):
            take("sign_in_account", "dana", NOW + 60)
    take("sign_in_account", "dana", NOW + 120)


def test_after_its_time_all_of_it_is_free_again() -> None:
    assert taken("check", "a", NOW) == MANY
    assert taken("check", "a", NOW + SECONDS) == MANY


def test_what_was_no_try_is_given_back() -> None:
    taken("check", "a", NOW)
    give_back("check", "a")
    assert taken("check", "a", NOW) == 1
    begin_anew("check", "a")
    assert taken("check", "a", NOW) == MANY
    give_back("check", "nobody")


def test_several_at_once_count_as_several_or_not_at_all() -> None:
    take("photos", "person:7", NOW, tries=50)
    with pytest.raises(TooOften):
        take("photos", "person:7", NOW, tries=11)
    take("photos", "person:7", NOW, tries=10)


def test_a_clock_that_was_wrong_locks_nobody_out() -> None:
    assert taken("code", "a", NOW + 10**9) == LIMITS["code"].many
    with pytest.raises(TooOften) as refused:
        take("code", "a", NOW)
    assert refused.value.retry_after is not None and refused.value.retry_after <= LIMITS["code"].seconds


def test_another_process_and_one_after_a_restart_count_on(counted: Path) -> None:
    program = (
        "import sys; from pathlib import Path; from portal.acts.limits import take; from portal.store.engine.tallies "
        f"import open_tallies; open_tallies(Path(sys.argv[1])); [take('check', 'a', {NOW}) for _ in range({MANY - 5})]"
    )
    subprocess.run([sys.executable, "-c", program, str(counted)], check=True)
    close_tallies()
    open_tallies(counted)
    assert taken("check", "a", NOW) == 5


def test_threads_at_once_get_no_more_than_there_are() -> None:
    from concurrent.futures import ThreadPoolExecutor

    def one(_: int) -> int:
        try:
            take("code", "a", NOW)
        except TooOften:
            return 0
        return 1

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(one, range(40))) == LIMITS["code"].many


def test_counting_and_writing_keep_nobody_waiting_for_each_other(house: House) -> None:
    """A flood of tries must not take the writers' turn: they are counted in a file of their own."""
    with write():
        assert taken("check", "a", NOW) == MANY


def test_whoever_is_refused_writes_nothing(counted: Path) -> None:
    taken("check", "a", NOW)
    with sqlite3.connect(counted / ".limits" / "tallies.db") as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(TooOften):
            take("check", "a", NOW)
        other.rollback()


def test_no_address_and_no_account_is_readable_in_the_file(counted: Path) -> None:
    take("sign_in_here", "dana@brackwater.example.com 203.0.113.7", NOW)
    close_tallies()
    found = b"".join(path.read_bytes() for path in (counted / ".limits").iterdir())
    assert found and b"dana" not in found and b"203.0" not in found
    assert (counted / ".limits").stat().st_mode & 0o077 == 0


def test_what_can_not_be_counted_is_refused_where_it_guards_something_and_else_let_through(
    counted: Path, caplog: pytest.LogCaptureFixture
) -> None:
    close_tallies()
    with caplog.at_level(logging.WARNING):
        take("check", "a", NOW)
        give_back("check", "a")
        begin_anew("check", "a")
        with pytest.raises(Busy):
            take("code", "a", NOW)
    assert len(caplog.records) == 4
    guarded = {name for name, bound in LIMITS.items() if bound.guards}
    assert guarded == {"sign_in_known", "sign_in_here", "sign_in_account", "sign_in_address", "own_password", "code",
                       "recovery_code", "way_in"}  # fmt: skip


def test_a_file_that_is_spoilt_is_begun_anew(counted: Path) -> None:
    close_tallies()
    (counted / ".limits" / "tallies.db").write_bytes(b"not a database" * 1000)
    open_tallies(counted)
    assert taken("check", "a", NOW) == MANY
    for path in (counted / ".limits").glob("tallies.db*"):
        path.write_bytes(b"spoilt while it is in use" * 1000)
    with pytest.raises(Busy):
        take("code", "a", NOW)
    assert taken("code", "a", NOW) == LIMITS["code"].many


def test_a_folder_that_can_not_be_made_stops_nobody_from_starting(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    open_tallies(tmp_path / "file")
    with pytest.raises(tallies.NotCounted):
        forget_past(NOW)


def test_what_counts_no_longer_is_dropped() -> None:
    take("check", "a", NOW)
    take("photos", "person:7", NOW)
    assert forget_past(NOW + SECONDS + 1) == 1
    assert forget_past(NOW + 24 * 3600) == 1


def test_the_sentence_can_be_read_down_the_phone() -> None:
    said = [str(TooOften(retry_after=wait)) for wait in (1, 60, 121, 7300)]
    waits = ["1 second", "60 seconds", "3 minutes", "3 hours"]
    assert said == [f"That was too often. Wait {wait}, then try again." for wait in waits]
    assert limits.OPEN_QUESTIONS == 20
