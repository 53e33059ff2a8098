"""What is said of an overhang, whole: the island of the tests, 40 in wide, 15 in out, four seats at 36 in."""

import pytest

from portal.layouts.overhang import words
from tests.layouts.overhang.test_layout import ISLAND, found

BEST, ALONE, WANTED = found()


def test_the_best_says_what_stands_under_it_and_what_it_leaves() -> None:
    """Aisles: 60 - 15 = 45 in before the seats, 44 - 1-1/2 = 42-1/2 in at the range."""
    assert BEST.effects == (
        "The top reaches 15 in past the cabinets.",
        "4 brackets stand under it, and must be in place before the top is set.",
        "Knees have 15 in, and 15 in is advised for a seat at 36 in.", "Aisle, seat side: 45 in is left.",
        "Aisle, range side: 42-1/2 in is left.")
    assert BEST.cannot_be_undone.startswith("Cut stone can be made shorter")


def test_the_checks_are_called_by_what_they_measure_and_whose_limit_it_is() -> None:
    """Past the brackets 15 - 10 = 5 in. NSI manual: 30 mm reaches 10, spans 36 in; NKBA: 24 in a seat, 15 in deep."""
    assert [check.sentence for check in BEST.checks] == [
        "unsupported overhang, past the brackets: 5 in, at most 10 in: passes",
        "unsupported span, between cabinets: 24 in, at most 36 in: passes",
        "bracket to bracket, along the edge: 32 in, at most 36 in: passes",
        "knee depth, at 36 in: 15 in, at least 15 in: passes",
        "width for seats, 4 side by side: 96 in, at least 96 in: passes",
        "aisle, seat side, seats, one walks past: 45 in, at least 44 in: passes",
        "aisle, range side, one cook: 42-1/2 in, at least 42 in: passes",
        "corner radius, of the top: 1 in, at least 3/8 in: passes",
        "corner radius, of the top: 1 in, at most 20 in: passes"]
    manual, guide = "NSI, Dimension Stone Design Manual, chapter 17", "NKBA Kitchen Planning Guidelines"
    assert [check.source for check in BEST.checks] == [
        *[manual] * 3, *[guide] * 4, "given with the dimensions", "geometry"]


def test_what_is_deeper_or_less_than_wanted_says_by_how_much() -> None:
    assert ALONE.reason == (
        "Fits, 5 in less than wanted. Knee depth, at 36 in: 10 in, at least 15 in: not as advised, by 5 in.")
    less = next(one for one in found(seats=None) if one.key == "overhang:254mm")
    assert less.reason == "Fits, 5 in less than wanted."
    deeper = next(one for one in found(overhang="12 in") if one.depth.text == "15 in")
    assert deeper.reason == "Fits, 3 in deeper than wanted."


def test_one_seat_is_no_several_seats() -> None:
    one = found(seats={"count": 1, "height": "36 in"})[0]
    assert " 1 seat stands before it." in words.description(one)


def test_advice_says_what_brackets_must_add() -> None:
    assert [each.text for each in WANTED.advice] == [
        "A seat at 36 in wants 15 in for knees, and this stone may reach 10 in alone: supports are needed.",
        "Needs brackets that reach at least 5 in, from a maker who says what they carry.",
        WANTED.advice[-1].text]
    assert WANTED.advice[-1].text.startswith("Nobody sits or stands on an overhang.")
    assert len(BEST.advice) == 2


def test_the_drawing_says_all_that_it_shows() -> None:
    assert words.drawing(BEST) == "Overhang: 15 in out, on brackets"
    assert words.description(BEST) == (
        "The top from above, the edge that reaches out at the bottom. Dashed under it: the cabinets and 4 brackets. "
        "4 seats stand before it. Lines across an aisle: seat side. Bracket 1, its left side: 0 in from the left end. "
        "Bracket 2, its middle: 32 in from the left end. Bracket 3, its middle: 64 in from the left end. Bracket 4, "
        f"its right side: 96 in from the left end. {' '.join(BEST.effects)}")
    plain = found(seats=None, aisles=None)[-1]
    assert words.description(plain).startswith(
        "The top from above, the edge that reaches out at the bottom. Dashed under it: the cabinets. The top reaches")


@pytest.mark.parametrize(("dimensioned", "said"), [
    (True, "cabinets under the top"), (False, "cabinets, and 4 brackets 32 in apart")])
def test_gaps_that_no_line_can_show_are_said(dimensioned: bool, said: str) -> None:
    assert words.under(BEST, dimensioned) == said and words.under(WANTED, dimensioned) == "cabinets under the top"


def test_more_brackets_stand_where_they_may_stand_less_far_apart() -> None:
    closer = found(brackets=ISLAND["brackets"] | {"spacing": "31.9 in"})[0]
    assert [at.text for at in closer.bracket_marks] == ["0 in", "24 in", "48 in", "72 in", "96 in"]
