"""Stone tops against the published limits: spans, cantilevers, knees and aisles, and the rule that meets no rule."""

import pytest

from portal.layouts.island import AISLES, KNEES
from portal.layouts.length import Length
from portal.layouts.stone import cantilever, limits


@pytest.mark.parametrize(("thickness", "width", "reach"), [
    ("30 mm", "36 in", "10 in"), ("30 mm", "25-1/2 in", "8-1/2 in"), ("20 mm", "15 in", "5 in"),
    ("3/4 in", "25-1/2 in", "6 in"), ("1-1/4 in", "60 in", "10 in"), ("1 in", "36 in", "6 in"),
    ("1/2 in", "36 in", "0 in")])
def test_how_far_stone_reaches_alone(thickness: str, width: str, reach: str) -> None:
    """NSI, Dimension Stone Design Manual, chapter 17: 6 in for 20 mm, 10 in for 30 mm, and a third of the width."""
    assert cantilever(Length.parse(thickness), Length.parse(width)) == Length.parse(reach)


@pytest.mark.parametrize(("thickness", "span"), [("3/4 in", "24 in"), ("20 mm", "24 in"), ("30 mm", "36 in")])
def test_how_far_stone_spans(thickness: str, span: str) -> None:
    """NSI, Dimension Stone Design Manual, chapter 17: 24 in for 3/4 in (20 mm), 36 in for 1-1/4 in (30 mm)."""
    found = limits(Length.parse(thickness))
    assert found is not None and found.span == Length.parse(span)


def test_knee_room_by_height() -> None:
    """NKBA Kitchen Planning Guidelines: 24 in wide by 18, 15, 12 in deep at 30, 36, 42 in high."""
    assert {height: (seat.width.text, seat.depth.text) for height, seat in KNEES.items()} == {
        "30 in": ("24 in", "18 in"), "36 in": ("24 in", "15 in"), "42 in": ("24 in", "12 in")}


def test_aisles() -> None:
    """NKBA Kitchen Planning Guidelines: aisle 42 in (one cook) and 48; walkway 36; behind seats 32, 36, 44."""
    assert [least.text for least in AISLES.values()] == ["42 in", "48 in", "36 in", "32 in", "36 in", "44 in"]


@pytest.mark.parametrize("thickness", ["20 mm", "30 mm"])
@pytest.mark.parametrize("height", list(KNEES))
def test_knees_want_more_than_stone_allows(thickness: str, height: str) -> None:
    """Both sources together: 15 in at 36 in high against 10 in of 30 mm (6 in of 20 mm); so at every height."""
    assert KNEES[height].depth > cantilever(Length.parse(thickness), Length.parse("60 in"))
