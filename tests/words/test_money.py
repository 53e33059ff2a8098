"""Sums of money, and what an option does to the price."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.words.money import money, price_change, price_changed, price_words


@pytest.mark.parametrize(
    ("cents", "said"),
    [(0, "$0"), (5, "$0.05"), (99, "$0.99"), (4500, "$45"), (4505, "$45.05"), (99_999, "$999.99"), (100_000, "$1,000"),
     (124_000_000, "$1,240,000"), (-3000, "−$30"), (-1, "−$0.01"), (-669_556, "−$6,695.56")],
)  # fmt: skip
def test_a_sum_is_whole_unless_it_is_not_and_keeps_its_sign(cents: int, said: str) -> None:
    assert money(cents) == said


@given(st.integers(-10**13, 10**13))
def test_no_two_sums_are_said_alike(cents: int) -> None:
    said = money(cents)
    sign, _, figures = said.partition("$")
    whole, _, rest = figures.replace(",", "").partition(".")
    assert (int(whole) * 100 + int(rest or 0)) * (-1 if sign == "−" else 1) == cents


@pytest.mark.parametrize(
    ("cents", "inside", "alone"),
    [
        (None, "says nothing about the price", ""),
        (0, "does not change the price", "Does not change the price."),
        (4500, "adds $45 to the price", "Adds $45 to the price."),
        (1, "adds $0.01 to the price", "Adds $0.01 to the price."),
        (-769_555, "takes $7,695.55 off the price", "Takes $7,695.55 off the price."),
    ],
)  # fmt: skip
def test_what_an_option_does_to_the_price(cents: int | None, inside: str, alone: str) -> None:
    assert price_change(cents) == inside and price_words(cents) == alone


@pytest.mark.parametrize(("cents", "said"), [(None, ""), (0, "no change"), (4500, "$45 more"), (-1, "$0.01 less")])
def test_a_change_of_the_price_in_two_words(cents: int | None, said: str) -> None:
    assert price_changed(cents) == said
