"""Each symbol keeps to the field that all share, and says by its data only."""

import re

import pytest

from portal.drawings.symbols.shapes import FIELD, MARKS, SYMBOLS, THINGS
from tests.drawings.symbols.path_points import points

COMMANDS = re.compile(r"^[MmLlHhVvCcQqTtAaZz0-9 .,-]+$")


@pytest.mark.parametrize("key", SYMBOLS)
def test_a_symbol_stays_in_its_field(key: str) -> None:
    for line in SYMBOLS[key]:
        assert COMMANDS.match(line.d)
        for x, y in points(line.d):
            assert 0 <= x <= FIELD and 0 <= y <= FIELD, (key, x, y)


@pytest.mark.parametrize("key", SYMBOLS)
def test_a_symbol_fills_most_of_its_field(key: str) -> None:
    """So that all are of one size beside each other."""
    found = [point for line in SYMBOLS[key] for point in points(line.d)]
    tall = max(y for _, y in found) - min(y for _, y in found)
    wide = max(x for x, _ in found) - min(x for x, _ in found)
    assert max(tall, wide) >= 0.7 * FIELD


def test_no_two_symbols_are_drawn_alike() -> None:
    assert len({tuple(line.d for line in lines) for lines in SYMBOLS.values()}) == len(SYMBOLS)


def test_things_and_marks_share_no_name() -> None:
    assert not set(THINGS) & set(MARKS)
