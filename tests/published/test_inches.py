"""Lengths against NIST and ISO: the exact inch, sixteenths, rounding to even, metric centers and their inch names."""

from fractions import Fraction

import pytest

from portal.layouts.length import Length

SIXTEENTHS = ("1.5875", "3.175", "4.7625", "6.35", "7.9375", "9.525", "11.1125", "12.7", "14.2875", "15.875", "17.4625",
              "19.05", "20.6375", "22.225", "23.8125", "25.4")


@pytest.mark.parametrize(("sixteenth", "mm"), list(enumerate(SIXTEENTHS, 1)))
def test_each_sixteenth_is_exact(sixteenth: int, mm: str) -> None:
    """NIST SP 811, appendix B: 1 in = 25.4 mm exactly."""
    assert Length.parse(f"{sixteenth // 16}-{sixteenth % 16}/16 in").mm == Fraction(mm)


@pytest.mark.parametrize(("inches", "mm"), [
    ("1-3/8 in", "34.925"), ("1-1/4 in", "31.75"), ("1-1/2 in", "38.1"), ("1/64 in", "0.396875"), ("36 in", "914.4"),
    ("1/16 in", "1.5875"), ("1 ft", "304.8")])
def test_an_inch_is_25_4_mm(inches: str, mm: str) -> None:
    """NIST SP 811, appendix B; the first is the faucet hole of trade guides."""
    assert Length.parse(inches).mm == Fraction(mm)


@pytest.mark.parametrize(("mm", "inches", "off"), [
    (96, "about 3-3/4 in", "-0.75"), (128, "about 5-1/16 in", "0.5875"), (160, "about 6-5/16 in", "0.3375"),
    (192, "about 7-9/16 in", "0.0875"), (224, "about 8-13/16 in", "-0.1625"), (256, "about 10-1/16 in", "-0.4125"),
    (320, "about 12-5/8 in", "0.675"), (76, "about 3 in", "0.2")])
def test_metric_centers_and_the_nearest_sixteenth(mm: int, inches: str, off: str) -> None:
    """check-values section 4, exact 25.4 arithmetic (also NIST SP 811)."""
    shown = Length.of_mm(mm).inches(16)
    assert (shown.text, shown.off_mm) == (inches, Fraction(off))


@pytest.mark.parametrize(("halves", "even"), [("3.5", "4"), ("4.5", "4"), ("0.5", "0"), ("1.5", "2")])
def test_a_half_goes_to_the_even_digit(halves: str, even: str) -> None:
    """NIST SP 811, B.7 (from memory): 3.5 -> 4, 4.5 -> 4. Here in whole millimeters and in sixteenths alike."""
    assert Length.of_mm(halves).millimeters(0).text == f"about {even} mm"
    in_sixteenths = Length.of_inches(Fraction(halves) / 16).inches(16)
    assert in_sixteenths.text.removeprefix("about ") == Length.of_inches(Fraction(even) / 16).text


def test_a_sixteenth_is_off_by_a_thirty_second_at_most() -> None:
    """Arithmetic: 1/32 in = 0.79375 mm."""
    worst = max(abs(Length.of_mm(Fraction(n, 100)).inches(16).off_mm) for n in range(0, 20000, 7))
    assert Fraction("0.7") < worst <= Fraction("0.79375")


def test_the_record_keeps_millimeters_while_the_display_rounds() -> None:
    """NIST LC 1137 style: a display doesn't overstate, the value stays (1-3/8 in is sold as 35 mm and is 34.925)."""
    length = Length.parse("1-3/8 in")
    assert length.millimeters(0).text == "about 35 mm" and length.mm == Fraction("34.925")
