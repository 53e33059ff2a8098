"""Pull sizes against the 32 mm system, exact inches, a maker's guide, and hole arithmetic."""

from fractions import Fraction

import pytest

from portal.layouts import pulls
from portal.layouts.length import Length
from portal.layouts.pulls.checks import inch_name_check
from portal.layouts.pulls.sizes import in_32_mm_system, metric_meant, suggested


@pytest.mark.parametrize(("centers", "steps"), [(96, 3), (128, 4), (160, 5), (192, 6), (224, 7), (256, 8), (320, 10)])
def test_metric_centers_are_multiples_of_32_mm(centers: int, steps: int) -> None:
    """The 32 mm system: 96 128 160 192 224 256 320 = 3 4 5 6 7 8 10 x 32."""
    assert in_32_mm_system(Length.of_mm(centers)) and centers == 32 * steps


@pytest.mark.parametrize("centers", ["76 mm", "102 mm", "3 in", "4 in", "32 mm"])
def test_others_are_not_of_the_system(centers: str) -> None:
    """76 and 102 mm are rounded inches (3 and 4 in)."""
    assert not in_32_mm_system(Length.parse(centers))


@pytest.mark.parametrize(("inch_name", "metric", "off"), [
    ("3-3/4 in", 96, "0.75"), ("5-1/16 in", 128, "0.5875"), ("6-5/16 in", 160, "0.3375"), ("7-9/16 in", 192, "0.0875"),
    ("8-13/16 in", 224, "0.1625"), ("10-1/16 in", 256, "0.4125"), ("12-5/8 in", 320, "0.675")])
def test_a_metric_pull_is_never_drilled_from_its_inch_name(inch_name: str, metric: int, off: str) -> None:
    """Exact 25.4 mm: the error of each name, half of it at each hole."""
    assert metric_meant(Length.parse(inch_name)) == Length.of_mm(metric)
    (failed,) = inch_name_check(Length.parse(inch_name), inch_sheet=False)
    assert not failed.ok and Fraction(str(failed.measured)) == Fraction(off)
    assert not inch_name_check(Length.parse(inch_name), inch_sheet=True)
    assert not inch_name_check(Length.of_mm(metric), inch_sheet=False)


@pytest.mark.parametrize("inches", ["3 in", "5 in", "6-1/4 in", "7 in", "8 in", "12 in", "18 in"])
def test_true_inch_sizes_are_taken_at_their_word(inches: str) -> None:
    """The inch list of a pull maker's guide; of it only 3-3/4 in is also a metric name."""
    assert metric_meant(Length.parse(inches)) is None


@pytest.mark.parametrize(("centers", "inches"), [(64, 2.52), (96, 3.78), (128, 5.04), (160, 6.30)])
def test_metric_centers_in_decimal_inches(centers: int, inches: float) -> None:
    """A hardware guide's table, to two places."""
    assert round(float(Length.of_mm(centers).mm / Fraction("25.4")), 2) == inches


@pytest.mark.parametrize(("width", "sizes"), [
    ("15 in", ("3 in", "3-3/4 in")), ("21 in", ("5 in", "6-1/4 in")), ("27 in", ("7 in", "8 in")),
    ("33 in", ("8 in", "12 in")), ("42 in", ("12 in", "18 in", "two of 7 in to 8 in")), ("9 in", ()), ("50 in", ())])
def test_the_one_third_table(width: str, sizes: tuple[str, ...]) -> None:
    """A pull maker's guide: about a third of the width; a suggestion only."""
    assert suggested(Length.parse(width)) == sizes


def test_holes_of_a_30_in_drawer() -> None:
    """Arithmetic: W/2 +- c/2; 30 in with 160 mm has its holes at 301 and 461 mm of 762."""
    bank = pulls.from_json({
        "fronts": [{"name": "drawer", "type": "drawer", "width": "30 in", "height": "8 in", "from_left": "0 in",
                    "from_floor": "20 in"}],
        "pull": {"centers": "160 mm", "length": "170 mm", "projection": "30 mm"},
        "minimums": {"to_edge": "1 in", "source": "an invented sheet"},
    })
    (layout,) = pulls.layouts(bank)
    (pull,) = layout.pulls
    assert [hole.from_left.mm for hole in pull.holes] == [301, 461] and pull.front.width.mm == 762
