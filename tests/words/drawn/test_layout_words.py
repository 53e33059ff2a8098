"""A check in one sentence, and that a layout does not fit."""

from portal.words.drawn.layout_words import check_numbers, check_sentence, does_not_fit

SEEN = ("hole to edge", "front A", "2 in", "at least", "1 in")


def test_a_check_says_what_was_found_its_limit_and_the_verdict() -> None:
    assert check_sentence(*SEEN, "passes") == "hole to edge, front A: 2 in, at least 1 in: passes"
    assert check_sentence(*SEEN, "fails") == "hole to edge, front A: 2 in, at least 1 in: fails"


def test_without_its_verdict_the_limit_stands_in_brackets() -> None:
    assert check_numbers(*SEEN) == "hole to edge, front A 2 in (at least 1 in)"


def test_what_does_not_fit_says_the_worst_and_by_how_much() -> None:
    assert does_not_fit("hole to edge, A: fails", "1/8 in") == "Does not fit. Hole to edge, A: fails, by 1/8 in."
