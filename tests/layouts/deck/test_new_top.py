"""Layouts of a new top: all of them, honestly checked, the best first, each with coordinates to drill by."""

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import deck
from portal.layouts.deck.holes import State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.length import DimensionError
from tests.layouts.decks import deck_json


def laid_out(**changed: Any) -> list[DeckLayout]:
    return deck.layouts(deck.from_json(deck_json(**changed)))


def sixteenths(count: int) -> str:
    return f"{count // 16}-{count % 16}/16 in"


def named(layout: DeckLayout, name: str) -> list[Any]:
    return [check for check in layout.checks if check.name == name]


def test_every_choice_and_order_is_there_once() -> None:
    found = laid_out(faucet__holes="1")
    # The air gap always; of two others none, either or both; k things in a row make k! orders of k + 1 splits.
    assert len(found) == 2 + 2 * 6 + 24
    assert len({layout.title for layout in found}) == len(found)


def test_both_numbers_of_holes_are_laid_out() -> None:
    assert {layout.faucet_holes for layout in laid_out()} == {1, 3}
    assert {layout.faucet_holes for layout in laid_out(faucet__holes="3")} == {3}


def test_no_accessory_leaves_the_faucet_alone() -> None:
    (alone,) = laid_out(faucet__holes="1", accessories=None)
    assert alone.title == "One hole for the faucet, and no other"
    assert alone.ok and not alone.without


def test_the_best_first_and_what_fails_last() -> None:
    found = laid_out(minimums__to_cabinet_side="3 in", cabinet={"left_side": "22 in", "right_side": "40 in"},
                     cutout__from_left="24 in", cutout__width="14 in")
    assert found[0].ok and not found[-1].ok
    fails = [len(layout.failed) for layout in found]
    assert fails == sorted(fails)


def test_a_dispenser_hole_is_advised_against_in_a_new_top() -> None:
    found = [layout for layout in laid_out() if layout.ok]
    first_with_soap = next(index for index, layout in enumerate(found) if layout.discouraged)
    assert all(layout.discouraged for layout in found[first_with_soap:])
    assert "advised against" in found[first_with_soap].reason
    (about_soap,) = [each for each in found[0].advice if "soap dispenser" in each.text]
    assert "about a year" in about_soap.text and about_soap.source == "common practice"


def test_lifetimes_need_not_rank() -> None:
    """Then a dispenser's hole stands where it serves the most, and how long it lasts is said all the same."""
    found = laid_out(rank_by_lifetime=False)
    assert not any(layout.discouraged or "advised against" in layout.reason for layout in found)
    assert "soap dispenser" in {hole.name for hole in found[0].holes}
    assert "soap dispenser" not in {hole.name for hole in laid_out()[0].holes}
    (said,) = [each for each in found[0].advice if "about a year" in each.text]
    assert "not recommended" not in said.text and said.source == "common practice"


def test_a_lifetime_that_is_given_is_said_by_its_source() -> None:
    lasts = {"accessories__0__lasts": "3 years", "accessories__0__lasts_source": "its maker’s sheet, 2026"}
    (said,) = [each for each in laid_out(**lasts)[0].advice if "a dispenser lives" in each.text]
    assert "a dispenser lives 3 years," in said.text and said.source == "its maker’s sheet, 2026"
    tap = {"accessories__1__lasts": "12 years", "accessories__1__lasts_source": "our own taps"}
    advice = laid_out(**tap)[0].advice
    assert [each.source for each in advice if "the filtered water, 12 years" in each.text] == ["our own taps"]
    assert sum("not recommended" in each.text for each in advice) == 1


@pytest.mark.parametrize("given", ["lasts", "lasts_source"])
def test_a_lifetime_without_its_source_is_refused_and_a_source_without_one(given: str) -> None:
    missing = {"lasts": "lasts_source", "lasts_source": "lasts"}[given]
    with pytest.raises(DimensionError) as refused:
        laid_out(**{f"accessories__0__{given}": "3 years"})
    assert refused.value.field == f"accessories.0.{missing}"


def test_fewer_holes_come_first_among_equals() -> None:
    served = [layout for layout in laid_out() if layout.ok and len(layout.unserved) == 1 and not layout.discouraged]
    assert all(len(one.drilled) <= len(next_.drilled) for one, next_ in pairwise(served))
    assert served[0].faucet_holes == 1


def test_what_is_shared_needs_no_hole_and_counts_as_served() -> None:
    best = laid_out(accessories__1__shares="the faucet has a third lever for it")[0]
    assert [item.name for item in best.without] == ["soap dispenser", "filtered water"]
    assert [item.name for item in best.unserved] == ["soap dispenser"]
    assert "Filtered water: no hole of its own; the faucet has a third lever for it." in best.effects


def test_what_must_have_a_hole_has_one_in_every_layout() -> None:
    assert all("air gap" in {hole.name for hole in layout.holes} for layout in laid_out())
    found = laid_out(accessories__2__may_omit=True)
    bare = next(layout for layout in found if "air gap" in {item.name for item in layout.without})
    assert any("local code" in each.text for each in bare.advice)


def test_an_accessory_stays_on_its_side() -> None:
    for layout in laid_out(accessories__2__side="right"):
        (gap,) = [hole for hole in layout.holes if hole.name == "air gap"]
        assert gap.x > layout.deck.center_line


def test_holes_are_given_from_two_named_edges_and_the_center_line() -> None:
    best = laid_out(measure_from={"end": "right end", "edge": "back edge"}, place={"row_from_front": "22 in"})[0]
    faucet, left, _ = best.positions
    assert (faucet.along.text, faucet.end, faucet.inward.text, faucet.edge) == (
        "30 in", "right end", "3-1/2 in", "back edge")
    assert (left.along.text, left.from_center_line.text) == ("33-1/2 in", "-3-1/2 in")
    assert left.to_json()["from_right_end"] == {"text": "33-1/2 in", "mm": 850.9}
    assert left.to_json()["from_back_edge"]["text"] == "3-1/2 in"


def test_three_holes_stand_outer_to_outer_about_the_center_line() -> None:
    layout = next(layout for layout in laid_out() if layout.faucet_holes == 3)
    left, middle, right = layout.holes[:3]
    assert (right.x - left.x).text == "8 in" and middle.x == layout.deck.center_line
    assert layout.faucet is middle


@pytest.mark.parametrize(("changed", "name"), [
    ({"minimums__between_holes": "6 in", "place": {"pitch": "4 in"}}, "hole to hole"),
    ({"minimums__to_cutout": "4 in"}, "hole to cut-out"), ({"minimums__to_back": "5 in"}, "hole to back edge"),
    ({"minimums__to_edge": "28 in"}, "hole to the other edges"),
    ({"minimums__to_cabinet_side": "18 in"}, "hole to cabinet side"),
    ({"minimums__to_underneath": "20 in"}, "hole to clip"),
    ({"place": {"pitch": "1-1/2 in"}}, "flange to flange"), ({"place": {"pitch": "2 in"}}, "room to swing"),
    ({"top__splash": "4 in", "place": {"row_from_front": "22 in"}}, "flange to splash or wall"),
    ({"place": {"row_from_front": "19-1/2 in"}}, "flange to cut-out"),
    ({"faucet__thickest_top": "1 in"}, "thickness of the top"),
    ({"faucet__clearance_behind": "5 in", "place": {"row_from_front": "22 in"}}, "clearance behind"),
    ({"faucet__reach": "2 in"}, "reach to the bowl"),
])
def test_each_check_can_fail_and_says_by_how_much(changed: dict[str, Any], name: str) -> None:
    best = laid_out(faucet__holes="1", **changed)[0]
    failed = [check for check in best.failed if check.name == name]
    assert failed and all(check.margin < 0 and "fails" in check.sentence for check in failed)
    assert name in {check.name for check in laid_out(faucet__holes="1")[0].checks}
    assert "failed" in best.reason and not best.ok


def test_a_distance_that_just_meets_its_minimum_passes() -> None:
    # 4 in center to center less two halves of 1-3/8 in is 2-5/8 in.
    exact = laid_out(faucet__holes="1", minimums__between_holes="2-5/8 in", accessories__2__hole="1-3/8 in",
                     place={"pitch": "4 in"})[0]
    assert min(check.margin for check in named(exact, "hole to hole")) == 0
    assert exact.ok


def test_the_found_row_and_pitch_meet_every_minimum_where_that_is_possible() -> None:
    for layout in laid_out():
        assert not [check for check in layout.failed if check.name in (
            "hole to hole", "flange to flange", "room to swing", "hole to cut-out", "hole to back edge")]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(16, 40), min_size=6, max_size=6), st.integers(0, 40), st.integers(0, 60))
def test_a_found_pitch_keeps_every_pair_apart(sizes: list[int], web: int, swing: int) -> None:
    """In sixteenths of an inch. Only the faucet's own three holes, which its maker sets, may fail."""
    found = deck_json(faucet__swing=sixteenths(swing), minimums__between_holes=sixteenths(web))
    for item, hole, flange in zip(found["accessories"], sizes[:3], sizes[3:], strict=True):
        item["hole"], item["flange"] = (sixteenths(size) for size in sorted((hole, flange)))
    apart = ("hole to hole", "flange to flange", "room to swing")
    for layout in deck.layouts(deck.from_json(found)):
        assert not [check for check in layout.failed if check.name in apart and check.about.count("faucet, ") < 2]


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 40), st.integers(0, 40), st.integers(20, 34), st.booleans())
def test_a_found_row_meets_the_minimums_whenever_a_row_can(cut: int, back: int, depth: int, metric: bool) -> None:
    """Minimums in sixteenths of an inch; the strip behind the cut-out grows with the depth of the top."""
    width = {"width": "1600 mm", "depth": f"{depth} in", "thickness": "30 mm"} if metric else {}
    found = deck.from_json(deck_json(
        top={"width": "60 in", "depth": f"{depth} in", "thickness": "30 mm"} | width, cabinet=None,
        minimums__to_cutout=sixteenths(cut), minimums__to_back=sixteenths(back), faucet__holes="1",
        faucet__clearance_behind=None))
    widest, flange = Fraction("34.925"), Fraction("53.975")
    front, end = found.cutout.front + found.cutout.depth, found.top.depth
    room = (end - front).mm - max(widest / 2 + found.minimums.to_cutout.mm, flange / 2) - max(
        widest / 2 + found.minimums.to_back.mm, flange / 2)
    rows = {"hole to cut-out", "hole to back edge", "flange to cut-out", "flange to splash or wall"}
    failed = {check.name for check in deck.layouts(found)[-1].failed} & rows
    assert bool(failed) == (room < 0)


def test_a_thickness_is_told_in_its_own_unit() -> None:
    (thick, *_) = named(laid_out()[0], "thickness of the top")
    assert "30 mm, at most 63.5 mm" in thick.sentence


def test_a_deck_too_narrow_says_so_in_numbers() -> None:
    best = laid_out(top__depth="22 in", faucet__holes="1")[0]
    names = {check.name for check in best.failed}
    assert names & {"hole to cut-out", "hole to back edge", "flange to cut-out", "flange to splash or wall"}
    assert "the worst" in best.reason


def test_metric_decks_are_laid_out_in_whole_millimeters() -> None:
    best = laid_out(top={"width": "1500 mm", "depth": "650 mm", "thickness": "30 mm"}, faucet__holes="1",
                    place={"center_line": "750 mm"})[0]
    assert all(position.along.mm.denominator == 1 for position in best.positions)
    assert best.holes[0].y.mm.denominator == 1


def test_what_was_not_given_is_not_passed_over_in_silence() -> None:
    best = laid_out(cabinet=None, minimums__to_cabinet_side=None, faucet__swing=None)[0]
    assert best.not_checked[0] == "the sides of the cabinet"
    assert "the room that the faucet needs to swing" in best.not_checked
    assert best.to_json()["not_checked"] == list(best.not_checked)


def test_a_layout_says_its_effects_in_sentences_and_keeps_them_in_json() -> None:
    best = laid_out()[0]
    assert best.effects[0] == "Drills three holes in the top."
    assert "can’t be closed again" in best.cannot_be_undone
    assert all(sentence.endswith(".") and sentence[0].isupper() for sentence in best.effects)
    answer = best.to_json()
    assert answer["title"] == best.title and len(answer["checks"]) == len(best.checks)
    assert {hole["state"] for hole in answer["holes"]} == {State.DRILL.value}
    assert {check["source"] for check in answer["checks"]} >= {"the fabricator's sheet", "geometry"}
