"""What keeps a visit from being kept, in the words of the desk: each thing once."""

import pytest

from portal.planning.conflicts.unkept_visits import Conflict
from portal.web.desk.conflict_words import conflict_words
from tests.house import ZONE, at

WAIT = "The wait after “Set the stone top” is not over before Tue Dec 8, 1:40 pm."


@pytest.mark.parametrize(
    ("works", "words"),
    [("2026-12-08T13:40", f"{WAIT} Then it works."),
     ("2026-12-09T08:00", f"{WAIT} The first time that works: Wed Dec 9, 8:00 am."), (None, WAIT)],
)
def test_when_it_works_is_said_once(works: str | None, words: str) -> None:
    first = None if works is None else at(works) // 60
    assert conflict_words(Conflict(1, "cure", WAIT, first), ZONE) == words
