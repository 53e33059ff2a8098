"""How many of a thing: one is never several."""

import pytest

from portal.words.plurals import all_of, counted, each_of, plural, spelled, times


@pytest.mark.parametrize(
    ("number", "said"),
    [(0, "0 holes"), (1, "1 hole"), (2, "2 holes"), (1200000, "1200000 holes")],
)
def test_a_count_and_its_noun_agree(number: int, said: str) -> None:
    assert counted(number, "hole") == said


def test_a_plural_that_no_s_makes_is_given() -> None:
    assert counted(2, "entry", "entries") == "2 entries" and counted(1, "entry", "entries") == "1 entry"
    assert plural(1, "is", "are") == "is" and plural(0, "is", "are") == plural(2, "is", "are") == "are"
    assert plural(3, "pull") == "pulls"


@pytest.mark.parametrize(
    ("hours", "said"), [(1.0, "1 hour"), (1.5, "1.5 hours"), (0.5, "0.5 hours"), (72.0, "72 hours")]
)
def test_hours_are_counted_in_parts(hours: float, said: str) -> None:
    assert counted(hours, "hour") == said


@pytest.mark.parametrize(
    ("number", "said"),
    [(0, "no holes"), (1, "one hole"), (2, "two holes"), (3, "three holes"), (4, "four holes"), (5, "five holes"),
     (6, "six holes"), (7, "seven holes"), (8, "eight holes"), (9, "9 holes"), (-1, "-1 holes")],
)  # fmt: skip
def test_small_numbers_are_written_out(number: int, said: str) -> None:
    assert spelled(number, "hole") == said


def test_a_plural_is_given_to_a_number_in_words_too() -> None:
    assert spelled(2, "entry", "entries") == "two entries" and spelled(12, "entry", "entries") == "12 entries"


def test_what_is_true_of_all_is_true_of_one() -> None:
    assert each_of(1, "photo") == "the photo" and each_of(3, "photo") == "each of the 3 photos"
    assert all_of(1, "entry", "entries") == "the one entry" and all_of(3, "entry", "entries") == "all 3 entries"
    assert each_of(2, "entry", "entries") == "each of the 2 entries"


def test_once_is_not_one_times() -> None:
    assert times(1) == "once" and times(2) == "2 times" and times(0) == "0 times"
