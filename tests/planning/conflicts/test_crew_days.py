"""Crews at two houses at once: each pair of houses once, the same as going through every minute finds."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.planning.conflicts.crew_days import MOST, PLANNED, RUNNING, VISIT, Clash, Stretch, clashes, doubled


def stretch(key: str, project: int, starts: int, ends: int, kind: str = VISIT, row: int = 1) -> Stretch:
    return Stretch(key, project, starts, ends, kind, row, "Work")


def by_brute_force(stretches: list[Stretch]) -> dict[tuple[str, int, int], tuple[int, int]]:
    """By crew and pair of houses: the first minute at which both need it, and how many pairs of stretches do."""
    found: dict[tuple[str, int, int], tuple[int, int]] = {}
    for one, other in combinations(stretches, 2):
        if one.key != other.key or one.project == other.project:
            continue
        both = set(range(one.starts, one.ends)) & set(range(other.starts, other.ends))
        if both:
            low, high = sorted((one.project, other.project))
            first, times = found.get((one.key, low, high), (min(both), 0))
            found[one.key, low, high] = min(first, min(both)), times + 1
    return found


STRETCHES = st.builds(
    lambda key, project, day, begins, length, kind, row: stretch(
        key, project, day * 24 + begins, day * 24 + begins + length, kind, row),
    st.sampled_from("ab"), st.integers(1, 4), st.integers(0, 4), st.integers(7, 15), st.integers(1, 9),
    st.sampled_from([VISIT, RUNNING, PLANNED]), st.integers(1, 3),
)  # fmt: skip


@given(st.lists(STRETCHES, max_size=14))
def test_the_clashes_are_those_of_brute_force(week: list[Stretch]) -> None:
    found = clashes(week)
    told = {}
    for one in found:
        assert one.one.key == one.other.key
        assert max(one.one.starts, one.other.starts) == one.starts, "the two that need it first"
        low, high = sorted((one.one.project, one.other.project))
        told[one.one.key, low, high] = (one.starts, len(one.begins))
    assert told == by_brute_force(week) and len(told) == len(found), "each crew and pair of houses once"
    assert [one.starts for one in found] == sorted(one.starts for one in found)
    assert doubled(week) == {
        one for one in week for other in week
        if one.key == other.key and one.project != other.project and one.starts < other.ends and other.starts < one.ends
    }


def test_a_name_that_stands_in_hundreds_of_plans_is_told_so_often_and_no_more() -> None:
    assert len(clashes([stretch("plumber", project, 8, 12) for project in range(300)])) == MOST


def test_one_may_end_when_the_other_begins() -> None:
    assert clashes([stretch("a", 1, 8, 12), stretch("a", 2, 12, 16)]) == []


def test_a_crew_that_is_in_one_house_twice_is_in_one_place() -> None:
    assert clashes([stretch("a", 1, 8, 12), stretch("a", 1, 9, 10, row=2)]) == []


@pytest.mark.parametrize(
    ("kinds", "easy"),
    [((VISIT, PLANNED), 2), ((PLANNED, VISIT), 1), ((RUNNING, VISIT), 1), ((RUNNING, PLANNED), 2),
     ((VISIT, VISIT), 2), ((PLANNED, PLANNED), 2)],
)  # fmt: skip
def test_what_is_only_planned_is_moved_before_what_is_booked_and_the_later_before_the_earlier(
    kinds: tuple[str, str], easy: int
) -> None:
    (found,) = clashes([stretch("a", 1, 8, 12, kinds[0]), stretch("a", 2, 9, 12, kinds[1])])
    assert isinstance(found, Clash) and found.other.project == easy
