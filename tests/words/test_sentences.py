"""Pieces of sentences."""

from datetime import date

import pytest

from portal.store.facts import VisitFact
from portal.words import sentences
from tests.house import ZONE, at


@pytest.mark.parametrize(
    ("given", "said"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists_read_like_a_sentence(given: list[str], said: str) -> None:
    assert sentences.listed(given) == said


@pytest.mark.parametrize(
    ("cents", "said"), [(0, "$0"), (4500, "$45"), (4505, "$45.05"), (124_000_000, "$1,240,000"), (-3000, "$30")]
)
def test_money_is_whole_unless_it_is_not(cents: int, said: str) -> None:
    assert sentences.money(cents) == said


def test_what_costs_nothing_says_so_and_what_is_not_known_says_nothing() -> None:
    assert sentences.cost_words(0) == "Does not change the price." and sentences.cost_words(None) == ""
    assert sentences.days_words(0) == "Does not change the time." and sentences.days_words(None) == ""
    assert sentences.days_words(-2) == "Saves 2 working days."
    assert sentences.days_words(1) == "Takes 1 working day more."


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 12, 2), "today, Wed Dec 2"), (date(2026, 12, 3), "tomorrow, Thu Dec 3"),
        (date(2026, 12, 1), "Tue Dec 1"), (date(2027, 1, 4), "Mon Jan 4"), (date(2027, 12, 2), "Thu Dec 2, 2027"),
        (date(2026, 1, 5), "Mon Jan 5, 2026"),
    ],
)  # fmt: skip
def test_dates_say_what_a_reader_would_ask(day: date, said: str) -> None:
    assert sentences.near_words(day, date(2026, 12, 2)) == said


def test_hours_are_those_of_the_house_over_a_clock_change() -> None:
    """On Sun Nov 1, 2026 the clocks of America/Chicago go back at 2 am (zoneinfo)."""
    visit = VisitFact(1, None, "", "", at("2026-10-31T23:00"), at("2026-11-01T08:00"))
    assert sentences.hours_words(visit, ZONE) == "11:00 pm to Sun Nov 1, 8:00 am"


def test_a_check_code_is_read_in_three_groups() -> None:
    assert sentences.short_code("3fa901bc77de" + "0" * 52) == "3fa9-01bc-77de"


def test_a_telephone_number_becomes_its_address() -> None:
    """RFC 3966 allows separators, but dials the digits."""
    assert sentences.telephone("+1 (218) 555-0142") == "+12185550142"
