"""Spans and cantilevers of stone, beside the published figures."""

import pytest

from portal.layouts.length import Length
from portal.layouts.stone.limits import cantilever, limits


@pytest.mark.parametrize(("thickness", "span", "reach"), [
    ("30 mm", "36 in", "10 in"), ("1-1/4 in", "36 in", "10 in"), ("29.9 mm", "24 in", "6 in"),
    ("3/4 in", "24 in", "6 in"), ("20 mm", "24 in", "6 in")])
def test_limits_are_those_of_the_thickness_that_is_reached(thickness: str, span: str, reach: str) -> None:
    """NSI manual, chapter 17: 20 mm spans 24 in and reaches 6 in, 30 mm spans 36 in and reaches 10 in."""
    found = limits(Length.parse(thickness))
    assert found is not None and (found.span.text, found.cantilever.text) == (span, reach)


def test_nothing_is_published_below_3_4_in() -> None:
    assert limits(Length.parse("19 mm")) is None
    assert not cantilever(Length.parse("19 mm"), Length.parse("36 in")).mm


@pytest.mark.parametrize(("thickness", "width", "reach"), [
    ("30 mm", "36 in", "10 in"), ("30 mm", "25-1/2 in", "8-1/2 in"), ("20 mm", "15 in", "5 in"),
    ("30 mm", "30 in", "10 in")])
def test_a_top_reaches_out_a_third_of_its_width_at_most(thickness: str, width: str, reach: str) -> None:
    assert cantilever(Length.parse(thickness), Length.parse(width)).text == reach
