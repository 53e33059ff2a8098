"""Words that were shown are kept once for each version, and stay as they were."""

import pytest
from peewee import IntegrityError

from portal.content import Piece
from portal.store import tables
from portal.store.engine.database import execute, write
from portal.store.rows import wording_rows
from tests.house import NOW, House

PIECE = Piece("grout", "Grout", "", "", "Cures take a day.", "a" * 64)


def test_words_are_kept_once(house: House) -> None:
    for _ in range(2):
        with write():
            wording_rows.keep_wording(PIECE)
    assert wording_rows.wording("a" * 64) == "Cures take a day." and wording_rows.wording("b" * 64) is None
    assert tables.Wording.select().where(tables.Wording.version == "a" * 64).count() == 1
    assert wording_rows.wordings(["b" * 64, "a" * 64, "a" * 64]) == {"a" * 64: "Cures take a day."}


@pytest.mark.parametrize("doing", ["UPDATE wording SET text = 'Two days.'", "DELETE FROM wording"])
def test_kept_words_are_never_changed(house: House, doing: str) -> None:
    with write():
        wording_rows.keep_wording(PIECE)
    with pytest.raises(IntegrityError, match="wording is only added to"), write():
        execute(doing)
    assert wording_rows.wording("a" * 64) == "Cures take a day."


def test_the_guidance_of_a_revision_is_what_was_shown_beside_it(house: House) -> None:
    with write():
        wording_rows.keep_wording(PIECE)
    tables.Revision.create(
        decision=house.decisions[1], number=2, question="?", options=[], shown='{"guidance":"%s"}' % ("a" * 64),
        check_code="c" * 64, asked_at=NOW,
    )  # fmt: skip
    assert wording_rows.guidance_shown(house.decisions[1], 2) == "Cures take a day."
    assert wording_rows.guidance_shown(house.decisions[1], 1) is None, "laid down without its words"
    assert wording_rows.guidance_shown(house.decisions[1], 3) is None


def test_of_two_that_show_words_first_at_once_the_second_waits_and_finds_them(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    def while_we_wait(over: str) -> None:
        assert PIECE.version in over
        tables.Wording.create(version=PIECE.version, text=PIECE.text)

    monkeypatch.setattr(wording_rows, "take_turns", while_we_wait)
    with write():
        wording_rows.keep_wording(PIECE)
    assert wording_rows.wording(PIECE.version) == "Cures take a day."
