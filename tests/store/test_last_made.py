"""What was made of a house is handed out again while its rows are the same, however many houses there are."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.store import last_made
from portal.store.last_made import LastMade


def test_going_through_all_houses_again_makes_nothing_anew() -> None:
    kept, made = LastMade[str, str](), list[str]()

    def make(text: str) -> str:
        made.append(text)
        return text.upper()

    for _ in range(3):
        assert [kept.of(house, f"h{house}", make) for house in range(5000)] == [f"H{house}" for house in range(5000)]
    assert len(made) == 5000
    assert kept.of(7, "moved", make) == "MOVED" and kept.of(7, "h7", make) == "H7", "nothing of what it was before"


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 3))))
def test_it_is_always_what_would_be_made_now(asked: list[tuple[int, int]]) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(last_made, "MOST_HOUSES", 3)
        kept = LastMade[int, int]()
        assert [kept.of(house, given, lambda one: one * 2) for house, given in asked] == [one * 2 for _, one in asked]
        assert len(kept._of) <= 3
