"""General tolerances against ISO 2768-1:1989, tables 1 and 2."""

import pytest

from portal.layouts.length import Length
from portal.layouts.tolerance import linear, radius

SPANS = ((6, 30), (30, 120), (120, 400), (400, 1000), (1000, 2000), (2000, 4000))
ROWS = {
    "f": ("0.1", "0.15", "0.2", "0.3", "0.5", None), "m": ("0.2", "0.3", "0.5", "0.8", "1.2", "2"),
    "c": ("0.5", "0.8", "1.2", "2", "3", "4"), "v": ("1", "1.5", "2.5", "4", "6", "8"),
}


@pytest.mark.parametrize(("grade", "span", "allowed"), [
    (grade, span, allowed) for grade, row in ROWS.items() for span, allowed in zip(SPANS, row, strict=True)])
def test_a_span_has_its_tolerance_up_to_its_bound(grade: str, span: tuple[int, int], allowed: str | None) -> None:
    """Table 1. 120 mm belongs to the span below, 120.01 mm to the next."""
    least, most = span
    expected = Length.of_mm(allowed) if allowed else None
    assert linear(Length.of_mm(f"{least}.01"), grade) == expected
    assert linear(Length.of_mm(most), grade) == expected


def test_below_6_mm_only_the_medium_grade_is_sure() -> None:
    """Table 1; copies of the standard disagree about c below 6 mm, so nothing is said there."""
    assert linear(Length.of_mm(6), "m") == Length.of_mm("0.1")
    assert linear(Length.of_mm(5), "c") is None


@pytest.mark.parametrize(("size", "close", "wide"), [("0.5", "0.2", "0.4"), ("3", "0.2", "0.4"), ("3.1", "0.5", "1"),
                                                     ("6", "0.5", "1"), ("6.1", "1", "2"), ("25.4", "1", "2")])
def test_rounded_corners(size: str, close: str, wide: str) -> None:
    """Table 2: f and m, c and v."""
    assert radius(Length.of_mm(size), "m") == radius(Length.of_mm(size), "f") == Length.of_mm(close)
    assert radius(Length.of_mm(size), "c") == radius(Length.of_mm(size), "v") == Length.of_mm(wide)


def test_nothing_is_said_beyond_the_tables() -> None:
    assert linear(Length.of_mm("0.4"), "m") is None and linear(Length.of_mm(4001), "m") is None
    assert radius(Length.of_mm("0.4"), "m") is None
    with pytest.raises(ValueError, match="no tolerance grade"):
        linear(Length.of_mm(10), "x")
    with pytest.raises(ValueError, match="no tolerance grade"):
        radius(Length.of_mm(10), "fm")
