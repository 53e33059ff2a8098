"""Whether a loose top stays down, by hand: P o = G (W/2 - o)."""

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts.length import Length
from portal.layouts.stone.tipping import deepest, lifting_load, most_out
from portal.layouts.stone.weights import Weight, weight

POUND = 0.45359237
ISLAND = weight(Length.parse("72 in"), Length.parse("36 in"), Length.parse("30 mm"), 2691)
BAR = weight(Length.parse("96 in"), Length.parse("18 in"), Length.parse("30 mm"), 2691)


@pytest.mark.parametrize(("out", "pounds"), [("10 in", 238.10), ("12 in", 148.81), ("15 in", 59.53), ("18 in", 0.0)])
def test_the_load_that_lifts_an_island(out: str, pounds: float) -> None:
    """36 x 72 in, 30 mm of 2691 kg per cubic meter weigh 297.63 lb; (18 - 10) / 10 of it is 238.10 lb, and so on."""
    assert float(ISLAND.kg) / POUND == pytest.approx(297.63, abs=0.005)
    lifted = lifting_load(ISLAND, Length.parse("36 in"), Length.parse(out))
    assert lifted is not None and float(lifted.kg) / POUND == pytest.approx(pounds, abs=0.005)


def test_a_bar_that_reaches_out_more_than_half_falls_by_itself() -> None:
    """18 x 96 in, 11-1/2 in out: 198.42 lb x (9 - 11.5) / 11.5 = -43.13 lb."""
    lifted = lifting_load(BAR, Length.parse("18 in"), Length.parse("11-1/2 in"))
    assert lifted is not None and float(lifted.kg) / POUND == pytest.approx(-43.13, abs=0.005)


def test_what_reaches_past_nothing_is_lifted_by_nothing() -> None:
    assert lifting_load(BAR, Length.parse("18 in"), Length.parse("0 in")) is None


@pytest.mark.parametrize("pounds", [0, 60, 250])
def test_at_the_furthest_that_a_load_allows_it_lifts_the_top_exactly(pounds: int) -> None:
    width = Length.parse("36 in")
    out = most_out(ISLAND, width, Weight.of_pounds(pounds))
    lifted = lifting_load(ISLAND, width, out)
    assert lifted is not None and lifted.kg == Weight.of_pounds(pounds).kg


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_the_deepest_that_stays_down_grows_with_the_top_and_stays_within_a_tenth(seed: int) -> None:
    """On a base of so many mm a top that reaches out o weighs per_area x length x (base + o): there it is in balance,
    and 0.2 mm further it tips."""
    chance = Random(seed)
    base, length = chance.randint(50, 1500), chance.randint(300, 4000)
    load, per_area = Weight(Fraction(chance.randint(0, 200))), Fraction(chance.randint(20, 110), 10**6)
    out = deepest(Length.of_mm(base), per_area, load, Length.of_mm(length))

    def spare(reach: Fraction) -> Fraction:
        return per_area * length * (base + reach) * ((base + reach) / 2 - reach) - load.kg * reach

    assert out >= 0 and spare(out) >= 0 and spare(out + Fraction(1, 5)) < 0
