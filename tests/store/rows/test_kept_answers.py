"""A request that comes again gets the answer that it got, for as long as answers are kept."""

import pytest
from peewee import IntegrityError

from portal.store.engine.database import write
from portal.store.rows import kept_answers
from tests.house import NOW, House


def keep(who: str, key: str, now: int = NOW) -> None:
    with write():
        kept_answers.keep(who, key, "POST /visits 1a2b", 201, '{"ETag": "x"}', '{"id": 5}', now)


def test_the_answer_is_found_by_who_asked_and_their_key(house: House) -> None:
    keep("staff 301", "k")
    with write():
        found = kept_answers.find("staff 301", "k")
        assert found == kept_answers.Answer("POST /visits 1a2b", 201, '{"ETag": "x"}', '{"id": 5}')
        assert kept_answers.find("staff 302", "k") is None and kept_answers.find("staff 301", "l") is None


def test_two_answers_to_one_request_are_refused(house: House) -> None:
    keep("staff 301", "k")
    with pytest.raises(IntegrityError):
        keep("staff 301", "k")
    keep("staff 302", "k")


def test_what_is_older_is_forgotten_and_counted(house: House) -> None:
    for second, key in enumerate(("a", "b", "c")):
        keep("staff 301", key, NOW + second)
    with write():
        assert kept_answers.forget_before(NOW + 2) == 2
        assert kept_answers.find("staff 301", "b") is None and kept_answers.find("staff 301", "c") is not None


def test_whoever_asks_the_same_again_waits_for_the_first_and_nobody_else_does(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On SQLite all writers take turns in any case; on PostgreSQL those who say the same here."""
    waited: list[str] = []
    monkeypatch.setattr(kept_answers, "take_turns", waited.append)
    for who, key in (("staff 301", "k"), ("staff 301", "k"), ("staff 301", "l"), ("staff 302", "k")):
        assert kept_answers.find(who, key) is None
    assert waited[0] == waited[1] and len(set(waited)) == 3
