"""Lengths as tradespeople write them: read exactly, shown with their rounding, refused when unclear."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts.length import FUZZ, Length, LengthError, Unit


@pytest.mark.parametrize(("written", "mm"), [
    ("1-3/8 in", "34.925"), ('1 3/8"', "34.925"), ("1-3/8", "34.925"), ("1⅜″", "34.925"), ("1 ⅜ in.", "34.925"),
    ("1-⅜ in", "34.925"), ("2'-3½\"", "698.5"), ("35 millimeters", "35"), ("1 centimeter", "10"),
    ("1–3⁄8 inches", "34.925"), ("1.375 in", "34.925"), ("3/4''", "19.05"), ("½ in", "12.7"), (".5 in", "12.7"),
    ("2' 3-1/2\"", "698.5"), ("2′3½″", "698.5"), ("2 ft 3-1/2 in", "698.5"), ("2'-3 1/2\"", "698.5"),
    ("2’ 3”", "685.8"), ("2' 3", "685.8"), ("3 ft", "914.4"), ("3'", "914.4"), ("1.5 ft", "457.2"),
    ("35 mm", "35"), ("35mm", "35"), ("3.5 cm", "35"), ("35.25 MM", "35.25"), ("1.2 m", "1200"), ("0 mm", "0"),
    ("8 in outer to outer", "203.2"), ("8 in spread, outer to outer", "203.2"), ("  35\u00a0mm ", "35"),
])
def test_what_a_tradesperson_writes_is_read_exactly(written: str, mm: str) -> None:
    assert Length.parse(written).mm == Fraction(mm)


@pytest.mark.parametrize(("written", "why"), [
    ("1-3", "fraction or a range"), ("1-3 in", "fraction or a range"), ("1 - 3 mm", "fraction or a range"),
    ("4 x", "more than one number"), ("4x6 in", "more than one number"), ("4 × 6 in", "more than one number"),
    ("-35 mm", "negative"), ("−1/2 in", "negative"), ("35", "no unit"), ("3.5", "no unit"), ("1/3", "no unit"),
    (35, "no unit"), (None, "no unit"), ("", "empty"), ("  ", "empty"), ("spread", "outer to outer"),
    ("8 in spread", "outer to outer"), ("spread 8 in", "outer to outer"), ("1,5 cm", "comma"), ("1,200 mm", "comma"),
    ("13/8 in", "whole number before it"), ("1-8/8 in", "whole number before it"), ("1/0 in", "zero"),
    ("2' 14\"", "12 inches or more"), ("1-1/4 to 1-1/2 in", "range"), ("35 ± 1 mm", "range"), ("~35 mm", "range"),
    ("1 3 in", "two numbers"), ("thirty mm", "is no length"), ("35 furlongs", "is no length"),
    ("NaN mm", "is no length"), ("half", "is no length"),
    ("1e3 mm", "is no length"), ("1" * 41, "longer than 40"), ("٣ mm", "is no length"), ("⅟ in", "is no length"),
])
def test_what_could_mean_two_things_is_refused_with_the_reason(written: object, why: str) -> None:
    with pytest.raises(LengthError, match=why) as refused:
        Length.parse(written, "faucet.hole")
    assert refused.value.field == "faucet.hole"
    assert refused.value.message in str(refused.value)


@pytest.mark.parametrize(("written", "text"), [
    ('1 3/8"', "1-3/8 in"), ("2' 3-1/2\"", "2 ft 3-1/2 in"), ("35mm", "35 mm"), ("3.5 cm", "3.5 cm"),
    ("0.1 in", "2.54 mm"), ("1.20 m", "1.2 m"), ("1/3 mm", "1/3 mm"), ("0 in", "0 in"), ("100 mm", "100 mm"),
])
def test_text_keeps_the_unit_as_long_as_a_rule_has_the_mark(written: str, text: str) -> None:
    assert Length.parse(written).text == text


def test_a_length_is_the_same_in_either_unit() -> None:
    assert Length.parse("1 in") == Length.parse("25.4 mm")
    assert hash(Length.parse("1 in")) == hash(Length.parse("25.4 mm"))
    assert Length.parse("35 mm") > Length.parse("1-3/8 in")


def test_rounding_is_said_and_measured() -> None:
    shown = Length.parse("96 mm").inches()
    assert (shown.text, shown.rounded, shown.off_mm) == ("about 3-3/4 in", True, Fraction("-0.75"))
    assert not Length.parse("3-3/4 in").inches().rounded
    assert Length.parse("34.925 mm").millimeters().text == "about 34.9 mm"


@pytest.mark.parametrize(("written", "text"), [
    ("1-1/32 in", "about 1 in"), ("1-3/32 in", "about 1-1/8 in"), ("1-5/32 in", "about 1-1/8 in")])
def test_a_tie_goes_to_the_even_mark(written: str, text: str) -> None:
    assert Length.parse(written).inches(16).text == text
    assert Length.parse(written).inches(32).text == Length.parse(written).text


def test_an_inch_has_no_tenths_on_a_tape() -> None:
    with pytest.raises(ValueError, match="not 10"):
        Length.parse("1 in").inches(10)


def test_sums_stay_exact_and_keep_the_first_unit() -> None:
    total = Length.parse("1-3/8 in") + Length.parse("35 mm")
    assert total.mm == Fraction("69.925") and total.unit is Unit.IN and total.text == "69.925 mm"
    assert (Length.parse("1 in") - Length.parse("2 in")).text == "-1 in"
    assert abs(-Length.parse("10 in") / 3) == Length.parse("3-1/3 in")
    assert Length.parse("3-1/3 in") * 3 == Length.parse("10 in")


@pytest.mark.parametrize(("length", "marked", "both"), [
    (Length.parse("1-3/8 in"), "1-3/8 in", "1-3/8 in (34.925 mm)"),
    (Length.parse("13/64 in"), "13/64 in", "13/64 in (5.159375 mm)"),
    (Length.parse("2 ft 3-1/2 in"), "2 ft 3-1/2 in", "2 ft 3-1/2 in (698.5 mm)"),
    (Length.parse("38.1 mm"), "38.1 mm", "38.1 mm (1-1/2 in)"),
    (Length.parse("35 mm"), "35 mm", "35 mm"), (Length.parse("3.5 cm"), "35 mm", "35 mm"),
    (Length.parse("12.5 in") - Length.parse("80 mm"), "237.5 mm", "237.5 mm"),
    (Length.parse("10 in") / 3, "about 84.7 mm", "about 84.7 mm"),
])
def test_what_is_marked_is_exact_or_says_that_it_is_not(length: Length, marked: str, both: str) -> None:
    """Rounded inches never stand beside exact mm."""
    assert (length.marked, length.marked_in_both) == (marked, both)


@settings(max_examples=200)
@given(st.fractions(min_value=0, max_value=9999, max_denominator=999), st.sampled_from([Unit.MM, Unit.IN]))
def test_every_number_that_is_marked_reads_back_within_what_it_names(amount: Fraction, unit: Unit) -> None:
    length = Length(amount * unit.in_mm, unit)
    for text in length.marked_in_both.rstrip(")").split(" ("):
        said = Length.parse(text.removeprefix("about "))
        assert abs(said.mm - length.mm) <= (FUZZ if text.startswith("about ") else 0)


def test_up_to_the_next_step_never_shortens() -> None:
    step = Length.parse("1/2 in")
    assert Length.parse("3-1/16 in").up_to(step).text == "3-1/2 in"
    assert Length.parse("3-1/2 in").up_to(step).text == "3-1/2 in"


def test_the_answer_carries_text_and_millimeters() -> None:
    assert Length.parse("1-3/8 in").to_json() == {"text": "1-3/8 in", "mm": 34.925}


@settings(max_examples=60)
@given(st.fractions(min_value=0, max_value=9999, max_denominator=64), st.sampled_from(list(Unit)))
def test_every_text_reads_back_as_the_same_length(amount: Fraction, unit: Unit) -> None:
    length = Length(amount * unit.in_mm, unit)
    assert Length.parse(length.text) == length


@settings(max_examples=60)
@given(st.fractions(min_value=0, max_value=9999), st.sampled_from([16, 32, 64]))
def test_a_shown_length_is_off_by_half_a_mark_at_most(mm: Fraction, parts: int) -> None:
    assert abs(Length.of_mm(mm).inches(parts).off_mm) <= Fraction(254, 10 * 2 * parts)
