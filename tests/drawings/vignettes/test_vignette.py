"""A room's picture: what stands is solid, what comes is dashed, and all of it stays in the room."""

import xml.etree.ElementTree as ET
from itertools import combinations

import pytest

from portal.drawings.vignettes.parts import HIGH, OF_THE_ROOM, ON_THE_RUN, STANDING, WIDE
from portal.drawings.vignettes.vignette import house_picture, vignette
from tests.drawings.symbols.path_points import points

ALL = [*STANDING, *ON_THE_RUN, *OF_THE_ROOM]


def _paths(markup: str) -> list[tuple[str, str]]:
    """Class and data of each path, without the room itself and its ground."""
    root = ET.fromstring(markup)
    assert root.get("aria-hidden") == "true"
    return [(path.get("class", ""), path.get("d", "")) for path in root][1:-1]


@pytest.mark.parametrize("part", ALL)
def test_a_part_that_stands_is_solid_and_one_to_come_is_dashed(part: str) -> None:
    [(stands, solid)], [(comes, dashed)] = _paths(vignette({part: 1})), _paths(vignette({part: 0}))
    assert "hid" not in stands and comes == "hid thin" and solid == dashed


def test_of_a_part_under_way_some_units_stand() -> None:
    [(look, stands), (dashed, comes)] = _paths(vignette({"cabinets": 0.6}))
    assert (look, dashed) == ("fw", "hid thin")
    assert (stands.count("z"), comes.count("z")) == (2, 1)


def test_what_is_one_piece_stands_only_once_it_is_done() -> None:
    assert [look for look, _ in _paths(vignette({"top": 0.5}))] == ["hid thin"]


@pytest.mark.parametrize("some", [*combinations(ALL, 2), tuple(ALL), tuple(reversed(ALL))])
def test_whatever_a_room_has_stays_within_it(some: tuple[str, ...]) -> None:
    for _, d in _paths(vignette(dict.fromkeys(some, 1.0))):
        assert all(0 <= x <= WIDE and 0 <= y <= HIGH for x, y in points(d))


def test_what_stands_on_the_floor_does_not_stand_in_each_other() -> None:
    """By the lowest points of each: feet that share a place."""
    markup = vignette(dict.fromkeys(["bath", "toilet", "vanity", "door", "cooktop"], 1.0))
    spans = []
    for _, d in _paths(markup):
        xs = [x for x, y in points(d) if y > 50]
        spans.append((min(xs), max(xs)))
    spans.sort()
    assert all(one[1] <= two[0] for one, two in zip(spans, spans[1:], strict=False))


def test_a_room_without_parts_has_no_picture() -> None:
    assert vignette({}) == ""


def test_a_part_that_is_none_is_refused() -> None:
    with pytest.raises(KeyError):
        vignette({"moat": 1.0})


def test_the_house_is_dashed_until_all_is_done() -> None:
    dashed = 'class="hid"'
    assert dashed in house_picture(False) and dashed not in house_picture(True)
    ET.fromstring(house_picture(True))
