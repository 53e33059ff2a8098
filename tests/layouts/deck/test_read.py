"""A deck out of JSON: the window, which is for the picture alone."""

import pytest

from portal.layouts.deck.read import from_json
from portal.layouts.kinds import lay_out
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json


def test_a_window_changes_no_layout() -> None:
    with_window = deck_json() | {"window": {"left": "10 in", "right": "40 in"}}
    told = [[one.to_json() for one in lay_out("deck", data)] for data in (with_window, deck_json())]
    assert told[0] == told[1]
    assert from_json(with_window).window and from_json(deck_json()).window is None


def test_a_window_whose_sides_are_crossed_is_refused_by_name() -> None:
    with pytest.raises(DimensionError, match="is not right of left") as refused:
        from_json(deck_json() | {"window": {"left": "40 in", "right": "10 in"}})
    assert refused.value.field == "window.right"
