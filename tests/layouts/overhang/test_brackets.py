"""Where brackets stand: every subset of gables and studs, tried; and even places, by hand."""

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


def stand(apart: str, fixings: tuple[int, ...] = (), inset: str | None = None, length: str = "96 in") -> list[str]:
    data: dict[str, Any] = {**ISLAND, "length": length, "seats": None,
                            "brackets": {"reach": "10 in", "spacing": "90 in", "inset": inset},
                            "fixings": [{"from_left": f"{place} in"} for place in fixings]}
    return [at.text for at in places(overhang.from_json(data), Length.parse(apart))]


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


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_no_subset_of_the_gables_does_with_fewer(seed: int) -> None:
    chance = Random(seed)
    fixings = sorted(chance.sample(range(0, 97), chance.randint(1, 9)))
    apart, inset = chance.randint(10, 60), chance.randint(0, 20)
    found_places = [int(at.removesuffix(" in")) for at in stand(f"{apart} in", tuple(fixings), f"{inset} in")]

    def holds(chosen: tuple[int, ...] | list[int]) -> bool:
        return chosen[0] <= inset and chosen[-1] >= 96 - inset and all(
            other - one <= apart for one, other in pairwise(chosen))

    fewest = next((count for count in range(1, len(fixings) + 1)
                   if any(holds(chosen) for chosen in combinations(fixings, count))), None)
    assert set(found_places) <= set(fixings) and holds(found_places) == (fewest is not None)
    assert fewest is None or len(found_places) == fewest


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
    assert [check.name for check in weak.failed] == ["bracket to bracket, by what each carries"]
    assert weak.mends == ("Take brackets that each carry at least 329 lb (150 kg).",)
    assert "at most 0 in: fails" in rated(240).failed[0].sentence


@pytest.mark.parametrize(("at", "name"), [("0 in", "left side"), ("12 in", "middle")])
def test_a_bracket_at_an_end_is_marked_by_the_side_that_lies_on_it(at: str, name: str) -> None:
    best = found(brackets={"reach": "10 in", "spacing": "32 in", "inset": at})[0]
    assert best.marks[0].name == f"bracket 1, its {name}" and best.marks[0].at.text == at
