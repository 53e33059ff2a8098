"""Where brackets stand: every subset of gables and studs, tried; and even places, by hand."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import overhang
from portal.layouts.length import Length
from portal.layouts.overhang.brackets import places
from portal.layouts.overhang.layout import OverhangLayout
from tests.layouts.overhang.test_layout import ISLAND, found


def stand(apart: str, fixings: tuple[int, ...] = (), inset: str | None = None, length: str = "96 in",
          share: str | None = None) -> list[str]:
    data: dict[str, Any] = {**ISLAND, "length": length, "seats": None,
                            "brackets": {"reach": "10 in", "spacing": "90 in", "inset": inset},
                            "fixings": [{"from_left": f"{place} in"} for place in fixings]}
    return [at.text for at in places(
        overhang.from_json(data), Length.parse(apart), Length.parse(share) if share else None)]


@pytest.mark.parametrize(("apart", "inset", "expected"), [
    ("32 in", None, ["0 in", "32 in", "64 in", "96 in"]),
    ("31.9 in", None, ["0 in", "24 in", "48 in", "72 in", "96 in"]),
    ("32 in", "12 in", ["12 in", "36 in", "60 in", "84 in"]), ("36 in", "12 in", ["12 in", "48 in", "84 in"]),
    ("90 in", "6 in", ["6 in", "90 in"])])
def test_where_they_may_stand_anywhere_they_stand_evenly_between_insets(
    apart: str, inset: str | None, expected: list[str]
) -> None:
    assert stand(apart, inset=inset) == expected


def test_on_gables_they_stand_on_gables_alone_as_few_as_do() -> None:
    studs = tuple(range(0, 97, 16))
    assert stand("32 in", studs) == ["0 in", "32 in", "64 in", "96 in"]
    assert stand("40 in", studs, "8 in") == ["0 in", "32 in", "64 in", "96 in"]
    assert stand("40 in", (5, 30, 45, 70, 92), "6 in") == ["5 in", "45 in", "70 in", "92 in"]


def test_where_gables_do_not_allow_it_they_stand_as_near_to_it_as_they_do() -> None:
    assert stand("32 in", (10, 60), "4 in") == ["10 in", "60 in"]
    assert stand("32 in", (48,), "4 in") == ["48 in"]


def nearest_shares(places: Sequence[float], length: int) -> list[float]:
    """What each bears when every eighth of an inch of the edge hangs on the bracket nearest to its middle."""
    borne = [0.0] * len(places)
    for eighth in range(length * 8):
        middle = (eighth + 0.5) / 8
        borne[min(range(len(places)), key=lambda number: abs(places[number] - middle))] += 1 / 8
    return borne


@settings(max_examples=40)
@given(st.integers(0, 2**32))
def test_no_subset_of_the_gables_does_with_fewer(seed: int) -> None:
    """Near enough together and to the ends; and, where it matters, none bearing more of the edge than it may."""
    chance = Random(seed)
    fixings = sorted(chance.sample(range(0, 97), chance.randint(1, 8)))
    apart, inset, share = chance.randint(10, 60), chance.randint(0, 20), chance.choice([None, chance.randint(8, 50)])
    found_places = [int(at.removesuffix(" in")) for at in stand(
        f"{apart} in", tuple(fixings), f"{inset} in", share=f"{share} in" if share else None)]

    def holds(chosen: tuple[int, ...] | list[int]) -> bool:
        return chosen[0] <= inset and chosen[-1] >= 96 - inset and all(
            other - one <= apart for one, other in pairwise(chosen)) and (
                share is None or max(nearest_shares(chosen, 96)) <= share)

    fewest = next((count for count in range(1, len(fixings) + 1)
                   if any(holds(chosen) for chosen in combinations(fixings, count))), None)
    assert set(found_places) <= set(fixings)
    assert fewest is None or len(found_places) == fewest
    assert bool(found_places and holds(found_places)) == (fewest is not None)


@settings(max_examples=40)
@given(st.integers(0, 2**32))
def test_each_bracket_bears_what_is_nearest_to_it_and_the_load(seed: int) -> None:
    """By eighths of an inch of the edge, weighed one by one: granite of 3300 kg per cubic meter, 1/8 in thicker."""
    chance = Random(seed)
    pounds, length, out = chance.randint(10, 300), chance.randint(40, 120), chance.randint(11, 15)
    rating = pounds + chance.randint(1, 140)
    layout = next(one for one in found(
        length=f"{length} in", overhang=f"{out} in", material="granite", seats=None, fastening="screwed down",
        fixings=[{"from_left": f"{at} in"} for at in chance.sample(range(length + 1), chance.randint(1, 6))]
        if chance.random() < 0.6 else None, load={"pounds": pounds, "source": "the manager"},
        brackets={"reach": "10 in", "spacing": "32 in", "inset": chance.choice([None, f"{chance.randint(0, 16)} in"]),
                  "rating": rating, "source": "its sheet"}) if one.supported and one.depth.text == f"{out} in")
    (said,) = [check for check in layout.checks if check.what.key == "overhang.bracket-load"]
    marks = [float(at.mm) / 25.4 for at in layout.bracket_marks]
    most = max(nearest_shares(marks, length))
    assert said.measured / 25.4 == pytest.approx(most, abs=1 / 8)
    carried = pounds * 0.45359237 + most * 0.0254 * out * 0.0254 * (1.25 + 0.125) * 0.0254 * 3300
    assert said.ok == (carried <= rating * 0.45359237) or carried == pytest.approx(rating * 0.45359237, rel=0.01)


def test_brackets_keep_to_the_lesser_of_maker_and_stone() -> None:
    """The stone spans 36 in, 1-1/4 in thick: 96 in take 4 brackets, 32 in apart, though their maker allows 48 in."""
    wide = found(brackets={"reach": "10 in", "spacing": "48 in"})[0]
    assert wide.ok and [at.text for at in wide.bracket_marks] == ["0 in", "32 in", "64 in", "96 in"]
    unsaid = found(brackets={"reach": "10 in"})[0]
    assert unsaid.ok and unsaid.bracket_marks == wide.bracket_marks
    own = found(brackets={"reach": "10 in"}, material="quartz", limits={
        "alone": "12 in", "span": "24 in", "source": "its maker"})[0]
    assert own.ok and own.brackets == 5


def test_one_bracket_bears_the_load_and_its_share_of_what_reaches_out() -> None:
    """15 in out of (1-1/4 + 1/8 in) of 3300 kg per cubic meter, 32 in apart: 0.381 x 0.034925 x 3300 x 0.8128 m = 35.69
    kg, 78.7 lb, and 250 lb at the edge: 328.7 lb. With 300 lb left they stand 24 in apart (59.02 lb), not 32 in."""
    def rated(pounds: int) -> OverhangLayout:
        return next(one for one in found(
            material="granite", load={"pounds": 250, "source": "the manager"},
            brackets={"reach": "10 in", "spacing": "32 in", "rating": pounds, "source": "its sheet"},
        ) if one.supported and one.depth.text == "15 in")

    assert rated(329).ok and rated(329).brackets == 4
    assert rated(328).ok and rated(328).brackets == 5
    assert rated(310).ok and rated(310).brackets == 5 and rated(309).brackets == 6
    weak = rated(251)
    assert [check.name for check in weak.failed] == ["edge on one bracket"]
    assert weak.mends == ("Take brackets that each carry at least 329 lb (150 kg).",)
    assert "at most 0 in: fails" in rated(240).failed[0].sentence


def on_brackets(**changed: Any) -> OverhangLayout:
    return next(one for one in found(**changed) if one.supported and one.depth == one.dimensions.wanted)


@pytest.mark.parametrize(("gables", "failed", "mend"), [
    ((48,), ["left end: 48 in, at most 10 in: fails", "right end: 48 in, at most 10 in: fails"],
     "10 in, 29 in, 67 in and 86 in"),
    ((0, 30), ["right end: 66 in, at most 10 in: fails"], "58 in and 86 in")])
def test_an_end_that_hangs_free_past_the_outer_gable_is_refused(
    gables: tuple[int, ...], failed: list[str], mend: str
) -> None:
    """Nobody gave an inset: then the end may reach as far past the last bracket as the stone may alone, 10 in."""
    hanging = on_brackets(material="granite", fixings=[{"from_left": f"{at} in"} for at in gables])
    assert [check.sentence for check in hanging.failed] == [f"end of the top to bracket, {one}" for one in failed]
    assert hanging.failed[0].source == "NSI, Dimension Stone Design Manual, chapter 17"
    assert hanging.mends == (f"Give the brackets a gable or stud at {mend} from the left end.",)
    assert not found(material="granite", fixings=[{"from_left": f"{at} in"} for at in gables])[0].supported


def test_one_bracket_alone_bears_the_whole_edge() -> None:
    one = on_brackets(
        material="granite", fixings=[{"from_left": "48 in"}], load={"pounds": 300, "source": "x"},
        brackets={"reach": "13 in", "spacing": "32 in", "set_back": "1 in", "rating": 100, "source": "m"})
    assert "edge on one bracket, bracket 1: 96 in, at most 0 in: fails" in [check.sentence for check in one.failed]
    assert not any("carry it" in each for each in one.not_checked)


def test_an_outer_bracket_bears_all_that_reaches_past_it() -> None:
    """At 24, 48 and 72 in the outer ones bear 12 + 24 = 36 in, 288 lb; they carry 275, and so 30-1/2 in of the edge.
    With as much for each of four, 24 in, they stand at 12, 36, 60 and 84 in."""
    rated = {"reach": "13 in", "spacing": "32 in", "inset": "24 in", "set_back": "1 in", "rating": 275, "source": "m"}
    loaded = {"material": "granite", "load": {"pounds": 200, "source": "x"}}
    best = found(**loaded, brackets=rated)[0]
    assert best.ok and [at.text for at in best.bracket_marks] == ["12 in", "36 in", "60 in", "84 in"]
    given = on_brackets(**loaded, brackets=rated, fixings=[{"from_left": f"{at} in"} for at in (24, 48, 72)])
    (failed,) = given.failed
    assert failed.sentence == "edge on one bracket, bracket 1: 36 in, at most about 30-1/2 in: fails"
    assert given.mends == ("Take brackets that each carry at least 289 lb (131 kg).",)


def test_brackets_stand_where_a_crew_can_mark_them() -> None:
    """The island of 100-5/8 in whose brackets had stood at 18-1/64 in, and were asked for 11-41521301/2095495809 in
    apart."""
    answers = found(
        length="100-5/8 in", width="49-7/8 in", overhang="11-5/8 in", material="granite", seats=None, aisles=None,
        load={"pounds": 220, "source": "x"}, brackets={
            "reach": "4 in", "spacing": "32 in", "set_back": "1 in", "inset": "7-1/4 in", "rating": 241, "source": "m"})
    best = next(one for one in answers if one.supported)
    assert best.ok and all(8 % (at.mm / Fraction("25.4")).denominator == 0 for at in best.bracket_marks)
    bare = next(one for one in answers if one.depth == one.dimensions.wanted and not one.supported)
    assert bare.mends[0] == (
        "Put 10 brackets under it that reach 1-5/8 in to 10-5/8 in past the cabinets, at most 10-1/8 in apart.")


def test_brackets_that_a_bare_top_asks_for_carry_what_stands_on_its_edge() -> None:
    """63 in of 20 mm, 10 in out, and 291 lb on the edge: those that carry 120 lb do not, and others are asked for."""
    bare = next(one for one in found(
        length="63 in", width="37 in", thickness="20 mm", overhang="10 in", material="granite", seats=None, span=None,
        aisles=None, load={"pounds": 291, "source": "x"}, brackets={"reach": "9 in", "rating": 120, "source": "m"})
        if one.depth == one.dimensions.wanted and not one.supported)
    assert bare.mends[0] == ("Put 4 brackets under it that reach 4 in to 10 in past the cabinets and each carry at "
                             "least 314 lb (143 kg), at most 24 in apart.")


@pytest.mark.parametrize(("at", "name"), [("0 in", "left side"), ("12 in", "middle")])
def test_a_bracket_at_an_end_is_marked_by_the_side_that_lies_on_it(at: str, name: str) -> None:
    best = found(brackets={"reach": "10 in", "spacing": "32 in", "inset": at})[0]
    assert best.marks[0].name == f"bracket 1, its {name}" and best.marks[0].at.text == at
