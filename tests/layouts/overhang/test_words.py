"""What is said of an overhang, whole: the island of the tests, 40 in wide, 15 in out, four seats at 36 in."""

import pytest

from portal.layouts.overhang import words
from tests.layouts.overhang.test_layout import found

BEST, ALONE, WANTED = found()


def test_the_best_says_what_stands_under_it_and_what_it_leaves() -> None:
    """Aisles: 60 - 15 = 45 in before the seats, 44 - 1-1/2 = 42-1/2 in at the range."""
    assert BEST.effects == (
        "The top reaches 15 in past the cabinets.",
        "4 brackets stand under it, and must be in place before the top is set. They end 5 in before the edge.",
        "Knees have 15 in, and 15 in is advised for a seat at 36 in.", "Aisle, seat side: 45 in is left.",
        "Aisle, range side: 42-1/2 in is left.")
    assert BEST.cannot_be_undone.startswith("Stone that is cut can be made shorter")
    wood = found(material="wood", limits={"alone": "12 in", "source": "its maker"})[0]
    assert wood.cannot_be_undone.startswith("Wood that is cut can be made shorter")


def test_the_checks_are_called_by_what_they_measure_and_whose_limit_it_is() -> None:
    """Past the brackets 15 - 10 = 5 in. NSI manual: 30 mm reaches 10, spans 36 in; NKBA: 24 in a seat, 15 in deep."""
    assert [check.sentence for check in BEST.checks] == [
        "unsupported overhang, past the brackets: 5 in, at most 10 in: passes",
        "overhang of a loose top, past the brackets: 5 in, at most 20 in: passes",
        "unsupported span, between cabinets: 24 in, at most 36 in: passes",
        "end of bracket, to the edge: 5 in, at least 0 in: passes",
        "end of the top to bracket, left end: 0 in, at most 10 in: passes",
        "end of the top to bracket, right end: 0 in, at most 10 in: passes",
        "bracket to bracket, along the edge: 32 in, at most 36 in: passes",
        "bracket to bracket, by their maker, along the edge: 32 in, at most 32 in: passes",
        "knee depth, at 36 in: 15 in, at least 15 in: passes",
        "width for seats, 4 side by side: 96 in, at least 96 in: passes",
        "aisle, seat side, seats, one walks past: 45 in, at least 44 in: passes",
        "aisle, range side, one cook: 42-1/2 in, at least 42 in: passes",
        "corner radius, of the top: 1 in, at least 3/8 in: passes",
        "corner radius, of the top: 1 in, at most 20 in: passes"]
    manual, guide = "NSI, Dimension Stone Design Manual, chapter 17", "NKBA Kitchen Planning Guidelines"
    given = "given with the dimensions"
    assert [check.source for check in BEST.checks] == [
        manual, "statics of a loose top", manual, "geometry", manual, manual, manual, "their maker's sheet",
        *[guide] * 4, given, "geometry"]


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
        "Put 4 brackets under it that reach 5 in to 15 in past the cabinets, at most 32 in apart.",
        "The cabinets under it are fastened, too: a loose island tips with its top.", WANTED.advice[-1].text]
    assert WANTED.advice[-1].text.startswith("Nobody sits or stands on an overhang.")
    assert len(BEST.advice) == 3
    assert [one.text for one in found(seats=None, brackets=None)[-1].advice][0].startswith("Put 4 brackets under it")


def test_what_was_not_given_is_said_as_plainly_as_what_passes() -> None:
    assert BEST.not_checked == (
        "what the top is made of (sound natural stone is taken)", "whether a load on the edge lifts the top",
        "how far before the edge brackets must end",
        "what the brackets are fixed to",
        "whether the brackets carry it: that needs their rating, a load on the edge and the material")
    quartz = found(material="quartz", span=None, aisles=None, fastening="screwed to a steel frame", brackets=None,
                   limits={"alone": "12 in", "source": "its sheet"})[0]
    assert quartz.not_checked == ("what the top spans between cabinets", "whether the aisles stay wide enough")
    assert found(material="quartz", brackets=None)[0].not_checked[1] == (
        "what the top may span between cabinets")
    assert "whether the load on the edge lifts the top: that needs its material" in found(
        load={"pounds": 250, "source": "the manager"})[0].not_checked


def test_all_that_matters_given_leaves_nothing_unchecked() -> None:
    whole = found(
        material="granite", load={"pounds": 250, "source": "the manager"},
        brackets={"reach": "10 in", "spacing": "32 in", "set_back": "2 in", "inset": "0 in", "rating": 600,
                  "source": "its sheet"}, fixings=[{"from_left": f"{place} in"} for place in (0, 32, 64, 96)])[0]
    assert whole.ok and whole.supported and whole.not_checked == ()


def test_what_lifts_a_loose_top_is_told_without_a_verdict_and_not_of_one_that_is_held() -> None:
    """10 in out of 35 in: 96 x 35 in x 1-1/4 in of 2560 kg per cubic meter: 176.2 kg, and (17.5 - 10) / 10 of it."""
    bare = next(one for one in found(material="granite") if one.depth.text == "10 in")
    assert bare.lifted_by is not None and float(bare.lifted_by.kg) == pytest.approx(
        2.4384 * 0.889 * 0.03175 * 2560 * 0.75)
    (said,) = [each for each in bare.advice if "lifted by" in each.text]
    assert said.text.startswith("Loose, it is lifted by 291 lb (132 kg) on the edge, which is no load that it may bear")
    assert said.source.startswith("statics of a loose top; least: ASTM C615")
    assert bare.to_json()["lifted_by"]["text"] == "291 lb (132 kg)"
    held = next(one for one in found(material="granite", fastening="glued") if one.depth.text == "10 in")
    assert [each.text for each in held.advice if "held down" in each.text] == [
        "The top is held down: glued. Whoever fastens it answers for that."]
    assert not any("lifted by" in each.text for each in held.advice)


@pytest.mark.parametrize(("changed", "what"), [
    ({"material": "quartz"}, "quartz"), ({"fragile": True}, "fragile stone"), ({"material": "wood"}, "wood")])
def test_where_nobody_says_how_far_it_may_reach_all_of_it_needs_support(changed: dict[str, object], what: str) -> None:
    worst = found(**changed, brackets=None, seats=None)[0]
    assert not worst.ok and worst.advice[0].text.startswith(f"How far {what} may reach alone, its maker’s or")


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
    closer = found(brackets={"reach": "10 in", "spacing": "31.9 in"})[0]
    assert [at.text for at in closer.bracket_marks] == ["0 in", "24 in", "48 in", "72 in", "96 in"]
