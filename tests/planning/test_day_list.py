"""What stands in the list of the day, and in which order; and that over random days each stands there once."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import TypeVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.planning.day_list import Due, placed

TODAY = date(2026, 12, 2)
One = TypeVar("One")


def in_order(found: Sequence[One], due: Callable[[One], Due]) -> list[One]:
    at_its_place = sorted(placed(found, due, TODAY), key=lambda one: one[0])
    assert [place.is_first for place, _ in at_its_place] == [due(one).is_first(TODAY) for _, one in at_its_place]
    return [one for _, one in at_its_place]


def days(number: int) -> date:
    return TODAY + timedelta(days=number)


@pytest.mark.parametrize(
    ("due", "stands", "late"),
    [(Due(), True, 0), (Due(days(0)), True, 0), (Due(days(-1)), True, 1), (Due(days(9), days(1)), False, 0),
     (Due(days(9), days(0)), True, 0), (Due(days(-3), days(2)), True, 3), (Due(None, days(1)), False, 0)],
)  # fmt: skip
def test_it_stands_from_its_first_day_on_and_always_when_it_is_late(due: Due, stands: bool, late: int) -> None:
    assert (due.stands(TODAY), due.days_late(TODAY)) == (stands, late)


def test_late_comes_first_then_what_can_not_be_kept_then_the_nearest_day() -> None:
    found = [Due(days(3)), Due(), Due(days(1), None, True), Due(days(-1)), Due(days(-7)), Due(days(0))]
    said = in_order(found, lambda one: one)
    assert said == [Due(days(-7)), Due(days(-1)), Due(days(1), None, True), Due(days(0)), Due(days(3)), Due()]
    assert [one.is_first(TODAY) for one in said] == [True, True, True, False, False, False]


a_day = st.none() | st.integers(-20, 20).map(days)


@given(st.lists(st.builds(Due, a_day, a_day, st.booleans()), max_size=30))
def test_each_that_stands_is_there_once_and_nothing_else(found: list[Due]) -> None:
    named = list(enumerate(found))
    said = in_order(named, lambda one: one[1])
    assert sorted(number for number, _ in said) == [number for number, due in named if due.stands(TODAY)]
    assert {number for number, due in named if due.days_late(TODAY)} <= {number for number, _ in said}
    late = [due.days_late(TODAY) for _, due in said]
    assert late == sorted(late, reverse=True)
