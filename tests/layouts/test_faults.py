"""All that is wrong with dimensions is told at once, each fault at its field, and nothing of what follows from one."""

from copy import deepcopy
from itertools import combinations
from typing import Any

import pytest

from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError
from tests.layouts.decks import FOUR_HOLES, deck_json
from tests.layouts.overhang.test_layout import ISLAND
from tests.layouts.pulls.test_layout import BANK
from tests.layouts.seam.test_layout import RUN
from tests.layouts.test_junk import fields, replaced
from tests.layouts.test_kinds import LINE
from tests.layouts.test_reading import WHOLE
from tests.layouts.vanity.test_layout import BATH

Wrong = dict[str, Any]
"""What is typed wrongly, by its dotted path."""

BOWL = {"from_left": "16 in", "from_front": "4 in", "width": "28 in", "depth": "14 in"}
OLD_TOP = deck_json(existing_holes=deepcopy(FOUR_HOLES), bowls=[BOWL], place={"center_line": "30 in"},
                    window={"left": "10 in", "right": "50 in"})
CORNER = BANK | {"inside_corners": [
    {"one": "pan drawer", "other": "sink door", "one_gap": "2 in", "other_gap": "2 in"}]}
BRACKETED = ISLAND | {"limits": {"span": "30 in", "source": "its maker"}, "fixings": [{"from_left": "0 in"}]}
CUT = RUN | {"proposed": [{"from_left": "76 in"}], "cutouts": [
    {"name": "sink", "from_left": "40 in", "from_front": "3 in", "width": "30 in", "depth": "16 in"},
    {"name": "cooktop", "from_left": "100 in", "width": "28 in"}]}

INDEPENDENT: list[tuple[str, dict[str, Any], Wrong]] = [
    ("deck", deck_json(), {
        "cutout.width": "50 in", "cutout.depth": "23 in", "top.splash": "26 in", "cabinet.right_side": "10 in",
        "faucet.base": "1 in", "accessories.0.flange": "1 in", "minimums.to_back": "x"}),
    ("deck", OLD_TOP, {
        "cutout.corner_radius": "9 in", "bowls.0.from_left": "40 in", "bowls.0.from_front": "20 in",
        "underneath.0.from_left": "61 in", "faucet.outer_least": "9 in", "faucet.outer_most": "7 in",
        "accessories.2.name": "soap dispenser", "minimums.into_bowl": "8 in", "existing_holes.0.from_left": "61 in",
        "existing_holes.1.name": "hole 1", "place.center_line": "70 in", "window.right": "1 in"}),
    ("centerline", LINE, {
        "window.right": "1 in", "cabinet.right": "39 in", "counter.right": "2 in", "sink_width": "0 in",
        "source": " "}),
    ("pulls", CORNER, {
        "fronts.0.rail": "6 in", "fronts.1.name": "pan drawer", "fronts.2.from_left": "1 in", "pull.length": "100 mm",
        "pull.drill": "160 mm", "pull.base": "170 mm", "inside_corners.0.other": "pan drawer", "two_over": "x"}),
    ("overhang", BRACKETED, {
        "overhang": "40 in", "brackets.spacing": "1 in", "brackets.inset": "50 in", "limits.span": "1 in",
        "fixings.0.from_left": "97 in", "aisles.0.edge": "1 in", "aisles.0.on_far_side": True, "aisles.1.edge": None,
        "smallest_radius": None}),
    ("seam", CUT, {
        "cutouts.0.depth": "26 in", "cutouts.1.width": "50 in", "proposed.0.from_left": "150 in", "density": None,
        "minimums.to_cutout": "4"}),
    ("vanity", BATH, {
        "people.0.eyes": "66 in", "people.1.down_to": "70 in", "people.1.name": "Maren", "ceiling": "20 in",
        "lights.number": 0}),
]  # fmt: skip
ELSEWHERE = {"density": "material", "existing_holes.0.from_left": "existing_holes.0"}
"""Where the fault is told, if not where it is typed."""

each_table = pytest.mark.parametrize(("kind", "data", "wrong"), INDEPENDENT)
each_whole = pytest.mark.parametrize(("kind", "data"), [*WHOLE, *((kind, data) for kind, data, _ in INDEPENDENT)])


def mistyped(data: Any, wrong: Wrong) -> Any:
    """The dimensions with this in them."""
    for path, value in wrong.items():
        data = replaced(data, tuple(int(step) if step.isdecimal() else step for step in path.split(".")), value)
    return data


def told(kind: str, data: Any, wrong: Wrong) -> dict[str, str]:
    """What is told of these dimensions once this is typed into them, by field."""
    try:
        kind_named(kind).from_json(mistyped(data, wrong))
    except DimensionError as error:
        assert (error.field, error.message) == error.every[0] and len(dict(error.every)) == len(error.every)
        return dict(error.every)
    return {}


@each_table
def test_three_faults_are_told_at_once_and_each_that_is_mended_leaves_the_other_two(
    kind: str, data: dict[str, Any], wrong: Wrong
) -> None:
    """Any three, whatever they are."""
    assert told(kind, data, {}) == {}
    for three in combinations(wrong, 3):
        for these in (three, *combinations(three, 2), *combinations(three, 1)):
            found = told(kind, data, {path: wrong[path] for path in these})
            assert set(found) == {ELSEWHERE.get(path, path) for path in these}


@each_whole
def test_what_can_not_be_read_is_told_alone_whatever_depends_on_it(kind: str, data: dict[str, Any]) -> None:
    leaves = [path for path in fields(data) if not isinstance(at(data, path), dict | list)]
    for path in leaves:
        assert set(told(kind, data, {dotted(path): {"not": "this"}})) == {dotted(path)}
    for one, other in list(combinations(leaves, 2))[::13]:
        both = {dotted(one): {"not": "this"}, dotted(other): {"not": "this"}}
        assert set(told(kind, data, both)) == set(both)
    everything = {dotted(path): {"not": "this"} for path in leaves}
    assert set(told(kind, data, everything)) == set(everything)


@each_whole
def test_a_part_that_is_none_is_told_alone(kind: str, data: dict[str, Any]) -> None:
    for path in fields(data):
        if isinstance(at(data, path), dict | list):
            assert set(told(kind, data, {dotted(path): "none"})) == {dotted(path)}
    with pytest.raises(DimensionError, match="must be an object") as refused:
        kind_named(kind).from_json("none")
    assert [field for field, _ in refused.value.every] == ["dimensions"]


@pytest.mark.parametrize(("kind", "data", "wrong", "field"), [
    ("deck", OLD_TOP, {"cutout.width": "50 in", "bowls.0.from_left": "46 in"}, "cutout.width"),
    ("deck", deck_json(), {"cutout.width": "50 in", "cutout.corner_radius": "9 in"}, "cutout.width"),
    ("deck", OLD_TOP, {"existing_holes.1.from_left": "26 in", "existing_holes.2.from_left": "26-1/2 in",
                       "existing_holes.0.from_left": "61 in"}, "existing_holes.0 existing_holes.2"),
    ("deck", OLD_TOP, {"existing_holes.0.from_left": "x", "existing_holes.0.from_front": "26 in"},
     "existing_holes.0 existing_holes.0.from_left"),
    ("seam", CUT, {"length": "400 in", "proposed.0.from_left": "500 in"}, "length"),
    ("seam", CUT, {"cutouts.0.width": "120 in", "cutouts.1.from_left": "50 in"}, "cutouts.0.width"),
    ("pulls", CORNER, {"fronts.3.name": "pan drawer"}, "fronts.3.name"),
    ("vanity", BATH, {"people.1.eyes": "78 in", "people.1.down_to": "77 in"}, "people.1.eyes"),
    ("vanity", BATH, {"minimums.above_splash": "90 in"}, "minimums.above_splash"),
    ("vanity", BATH, {"minimums.above_splash": "90 in", "people.1.height": "x"}, "people.1.height ceiling"),
])  # fmt: skip
def test_what_depends_on_a_value_at_fault_is_not_told(
    kind: str, data: dict[str, Any], wrong: Wrong, field: str
) -> None:
    assert set(told(kind, data, wrong)) == set(field.split())


def test_a_fault_with_something_that_has_no_name_yet_is_told_all_the_same() -> None:
    found = told("pulls", BANK, {"fronts.1.name": "", "fronts.2.from_left": "1 in"})
    assert set(found) == {"fronts.1.name", "fronts.2.from_left"}
    assert found["fronts.2.from_left"].startswith("puts “spoon drawer” over “…”")


def at(data: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


def dotted(path: tuple[Any, ...]) -> str:
    return ".".join(map(str, path))
