"""A check in one sentence: numbers that a reader can follow."""

import pytest

from portal.layouts.check import AT_LEAST, Check, Measure, check
from portal.layouts.content_tables.reading import TableError
from portal.layouts.length import Length
from portal.words.drawn.layout_words import does_not_fit


def _of(measured: str, required: str) -> Check:
    return check(Measure("deck.hole-to-hole"), "A and B", Length.parse(measured), AT_LEAST, Length.parse(required))


def test_a_failure_that_a_rule_does_not_show_is_told_in_millimeters() -> None:
    close = _of("2-5/8 in", "66.7 mm")
    assert close.sentence == "hole to hole, A and B: 66.675 mm, at least 66.7 mm: fails"
    assert does_not_fit(close.sentence, close.lacks).endswith("fails, by 0.025 mm.")
    assert close.to_json()["measured"] == {"text": "66.675 mm", "mm": 66.675}


def test_what_a_rule_shows_is_told_as_on_the_rule() -> None:
    assert _of("2-1/2 in", "2-5/8 in").sentence == "hole to hole, A and B: 2-1/2 in, at least 2-5/8 in: fails"
    assert _of("2-1/2 in", "2-5/8 in").lacks == "1/8 in"
    assert _of("2-5/8 in", "66.6 mm").sentence == "hole to hole, A and B: 2-5/8 in, at least about 2-5/8 in: passes"


def test_what_fails_says_what_would_make_it_pass() -> None:
    assert _of("2-1/2 in", "2-5/8 in").mend == "Hole to hole, A and B: 1/8 in more."


def test_a_rule_fails_and_an_advice_is_not_followed() -> None:
    knees = check(Measure("overhang.knee-depth"), "at 36 in", Length.parse("14 in"), AT_LEAST, Length.parse("15 in"))
    assert knees.sentence.endswith(": not as advised") and knees.to_json()["stops"] is False
    assert _of("2-1/2 in", "2-5/8 in").to_json()["stops"] is True


def test_a_check_without_an_entry_in_the_table_is_no_check() -> None:
    with pytest.raises(TableError, match=r"no entry \[deck.luck\]"):
        Measure("deck.luck")


def test_a_distance_below_zero_is_said_as_reaching_past_never_as_a_negative_width() -> None:
    over = check(Measure("pulls.within-front"), "A", Length.of_inches(-1), AT_LEAST, Length.of_inches(0))
    assert over.sentence == "pull within its front, A: 1 in past it, at least 0 in: fails"
    assert over.in_numbers == "pull within its front, A 1 in past it (at least 0 in)"
    assert over.to_json()["measured"] == {"text": "-1 in", "mm": -25.4}
