"""What one sees in a mirror: the published example, and rays followed by other code that knows only the law."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts.length import Length
from portal.layouts.vanity.sight import Person, midway


def test_the_published_example_of_a_full_length_mirror() -> None:
    """Eyes 1.65 m, crown 0.13 m above them: top 1.715 m, bottom 0.825 m (OpenStax-type problem, plane mirrors)."""
    one = Person("one", Length.parse("1.65 m"), Length.parse("1.78 m"), Length.parse("0 m"))
    assert (one.top_needed.text, one.bottom_needed.text) == ("1.715 m", "0.825 m")
    assert one.top_needed - one.bottom_needed == Length.parse("0.89 m") == one.crown / 2


def test_the_least_mirror_is_half_as_high_as_who_looks_into_it() -> None:
    one = Person("one", Length.parse("66 in"), Length.parse("72 in"), Length.parse("0 in"))
    assert one.top_needed - one.bottom_needed == Length.parse("36 in")


def test_who_asks_for_nothing_further_down_sees_the_own_eyes() -> None:
    assert Person("one", Length.parse("60 in"), Length.parse("66 in")).bottom_needed.text == "60 in"


def met(eyes: float, point: float, off: float) -> float:
    """Where the ray from a point of the body to the eyes meets the mirror: tried, until the angles are equal."""
    low, high = min(eyes, point), max(eyes, point)
    for _ in range(60):
        at = (low + high) / 2
        falls, leaves = math.atan2(abs(point - at), off), math.atan2(abs(eyes - at), off)
        nearer_point = falls < leaves
        low, high = (at, high) if nearer_point == (point < eyes) else (low, at)
    return (low + high) / 2


@pytest.mark.parametrize(("eyes", "point"), [(1650.0, 1780.0), (1650.0, 0.0), (1200.0, 900.0)])
def test_rays_meet_the_mirror_where_angles_are_equal_from_near_and_from_far(eyes: float, point: float) -> None:
    for off in (100.0, 600.0, 5000.0):
        assert met(eyes, point, off) == pytest.approx((eyes + point) / 2, abs=1e-6)


@settings(max_examples=60)
@given(st.integers(500, 2000), st.integers(0, 2300), st.integers(50, 4000))
def test_midway_is_where_the_angles_are_equal_however_far_off_one_stands(eyes: int, point: int, off: int) -> None:
    found = float(midway(Length.of_mm(eyes), Length.of_mm(point)).mm)
    assert found == pytest.approx(met(eyes, point, off), abs=1e-6)
    one = Person("one", Length.of_mm(eyes), Length.of_mm(eyes + 100))
    assert float(one.sees(Length.of_mm(point)).mm) == 2 * point - eyes
