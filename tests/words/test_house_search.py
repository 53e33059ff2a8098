"""What a caller says of a house, as words to look for."""

from difflib import get_close_matches

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.words.house_search import MOST_WORDS, is_found, nearest, nearest_numbers, said_words
from portal.words.names import words_of

HOUSE = frozenset(words_of("Okafor house, 14 Tamarack Lane, Pell Harbor; Zoë O’Brien"))


@pytest.mark.parametrize(
    ("text", "words"),
    [("the Okafors", ["Okafors"]), ("The Okafor House", ["Okafor"]), ("Mr. Okafor", ["Okafor"]),
     ("the house", ["the", "house"]), ("%", []), ("", []), ("on Tamarack", ["Tamarack"])],
)
def test_idle_words_are_left_out_unless_nothing_else_is_said(text: str, words: list[str]) -> None:
    assert said_words(text) == words


def test_no_more_words_are_looked_for_than_anyone_says() -> None:
    assert len(said_words(" ".join(f"w{i}" for i in range(1000)))) == MOST_WORDS == 8


@pytest.mark.parametrize(
    "word", ["okafors", "Okafor's", "kafo", "14", "ln", "LANE", "Ln.", "zoe", "ZOË", "obrien", "o'brien"]
)
def test_a_word_is_found_as_it_is_said(word: str) -> None:
    assert is_found(word, HOUSE, ())


@pytest.mark.parametrize("word", ["4", "st", "road", "sorensen", "arbor-x", "_kafor", "las", "pes"])
def test_another_word_is_not(word: str) -> None:
    assert not is_found(word, HOUSE, ())


# USPS Publication 28, appendix C1; from memory.
@pytest.mark.parametrize(
    ("said", "kept"),
    [("ln", "Lane"), ("st", "Street"), ("ave", "Avenue"), ("rd", "Road"), ("dr", "Drive"), ("ct", "Court"),
     ("blvd", "Boulevard"), ("cir", "Circle"), ("hwy", "Highway"), ("pkwy", "Parkway"), ("pl", "Place"),
     ("ter", "Terrace"), ("trl", "Trail"), ("sq", "Square"), ("n", "North"), ("sw", "Southwest")],
)
def test_short_and_long_names_of_streets_are_the_same(said: str, kept: str) -> None:
    assert is_found(said, frozenset(words_of(f"9 Foundry {kept}")), ())
    assert is_found(kept, frozenset(words_of(f"9 Foundry {said.upper()}.")), ())


def test_an_abbreviation_is_no_part_of_another_word() -> None:
    assert not is_found("st", frozenset(words_of("5 Oak Estates")), ())


def test_digits_are_found_in_a_number_three_at_least() -> None:
    assert is_found("555-0161", frozenset(), ["2185550161"]) and not is_found("16", frozenset(), ["2185550161"])


def test_the_nearest_words_are_those_that_sound_like_it() -> None:
    assert nearest(["Sorenson"], ["sorensen", "okafor", "tamarack"]) == ["sorensen"]
    assert nearest(["zzyzx"], ["sorensen", "okafor"]) == []


def test_no_more_words_are_compared_than_anyone_says() -> None:
    assert nearest([*["zzyzx"] * MOST_WORDS, "Sorenson"], ["sorensen"]) == []
    assert nearest([*["zzyzx"] * (MOST_WORDS - 1), "Sorenson"], ["sorensen"]) == ["sorensen"]


def test_words_too_short_to_sound_like_anything_are_like_none() -> None:
    assert nearest(["Bo"], ["bo", "boe"]) == [] and nearest(["Boe"], ["bo", "boe"]) == ["boe", "bo"]


def test_the_best_of_the_first_word_comes_first_and_each_once() -> None:
    known = ["okafor", "okafer", "sorensen", "okafor"]
    assert nearest(["Okafor", "Sorenson", "okafors"], known) == ["okafor", "okafer", "sorensen"]
    many = [f"okafo{letter}" for letter in "abcdefg"]
    assert len(nearest(["okafor"], many)) == 5


def test_three_digits_in_a_row_are_enough() -> None:
    assert is_found("161", frozenset(), ["2185550161"]) and not is_found("611", frozenset(), ["2185550161"])


@given(st.lists(st.text("abcdé奥1", min_size=1, max_size=9), max_size=30), st.text("abcdé奥1", min_size=1, max_size=9))
def test_the_nearest_words_are_those_of_comparing_with_each(known: list[str], said: str) -> None:
    vocabulary = {word for one in known for word in words_of(one)}
    wanted = [
        one for part in words_of(said) if len(part) > 2 for one in get_close_matches(part, vocabulary, 5, 0.7)
    ]
    assert nearest([said], vocabulary) == list(dict.fromkeys(wanted))


def test_a_slip_in_a_phone_number_finds_the_number_most_like_it() -> None:
    phones = ["2185550161", "2185550199", "2185550142"]
    assert nearest_numbers("0616", phones)[0] == "2185550161"
    assert nearest_numbers("218-555-0116", phones)[0] == "2185550161"
    assert nearest_numbers("616", phones) == nearest_numbers("7777", phones) == []
