"""General tolerances, row by row as ISO 2768-1:1989 has them; each row holds up to and including its end."""

import pytest

from portal.layouts.length import Length
from portal.layouts.tolerance import linear, radius


@pytest.mark.parametrize(("size", "off"), [
    ("0.5", "- .1 - -"), ("6", "- .1 - -"), ("6.01", ".1 .2 .5 1"), ("30", ".1 .2 .5 1"), ("30.01", ".15 .3 .8 1.5"),
    ("120", ".15 .3 .8 1.5"), ("120.01", ".2 .5 1.2 2.5"), ("400", ".2 .5 1.2 2.5"), ("400.01", ".3 .8 2 4"),
    ("1000", ".3 .8 2 4"), ("1000.01", ".5 1.2 3 6"), ("2000", ".5 1.2 3 6"), ("2000.01", "- 2 4 8"),
    ("4000", "- 2 4 8"), ("4000.01", "- - - -"), ("0.49", "- - - -")])
def test_a_size_may_be_off_by_its_row(size: str, off: str) -> None:
    found = [linear(Length.of_mm(size), grade) for grade in "fmcv"]
    assert [one and float(one.mm) for one in found] == [None if one == "-" else float(one) for one in off.split()]


@pytest.mark.parametrize(("size", "close", "wide"), [
    ("0.5", .2, .4), ("3", .2, .4), ("3.01", .5, 1), ("6", .5, 1), ("6.01", 1, 2), ("500", 1, 2)])
def test_a_rounded_corner_may_be_off_by_its_row(size: str, close: float, wide: float) -> None:
    found = [radius(Length.of_mm(size), grade) for grade in "fmcv"]
    assert [one and float(one.mm) for one in found] == [close, close, wide, wide]
    assert radius(Length.of_mm("0.49"), "m") is None


@pytest.mark.parametrize("rule", [linear, radius])
def test_a_grade_that_there_is_not_is_refused_before_its_size_is_looked_at(rule: object) -> None:
    with pytest.raises(ValueError, match="use one of: f, m, c, v"):
        rule(Length.of_mm("0.1"), "x")  # type: ignore[operator]
