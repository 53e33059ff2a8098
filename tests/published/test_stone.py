"""Stone tops against the published limits: spans, cantilevers, knees and aisles, and the rule that meets no rule."""

import re
from fractions import Fraction

import pytest

from portal.layouts import seam
from portal.layouts.content_tables.materials import MATERIALS
from portal.layouts.island import AISLES, KNEES
from portal.layouts.length import Length
from portal.layouts.stone.limits import COUNTERTOPS, cantilever, limits
from portal.layouts.stone.weights import weight


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


def test_what_to_expect_of_a_seam() -> None:
    """MIA (now Natural Stone Institute), residential countertops, 2008: 1/16 +- 1/64 in (1.5, 0.4 mm); lippage 1/32 in
    (0.8 mm) at the center, none at the edges; thickness varies by 1/8 in (3 mm) at most. The mm there are rounded."""
    layout = seam.layouts(seam.from_json({
        "length": "120 in", "depth": "25 in", "thickness": "20 mm", "density": 2650,
        "slab": {"length": "100 in", "depth": "50 in"}, "minimums": {"to_cutout": "4 in", "source": "a sheet"},
    }))[0]
    (said,) = [each.text for each in layout.advice if each.source == COUNTERTOPS and "seam" in each.text]
    pairs = re.findall(r"([0-9]/[0-9]+ in) \(([0-9.]+ mm)\)", said)
    assert [inches for inches, _ in pairs] == ["1/16 in", "1/64 in", "1/32 in", "1/8 in"]
    for inches, mm in pairs:
        assert abs((Length.parse(inches) - Length.parse(mm)).mm) < 0.2


def test_the_density_of_granite_gives_pounds_per_square_foot() -> None:
    """Arithmetic on ASTM C615's 2560 kg per cubic meter (as trade pages quote it): 30 mm weighs 76.8 kg per square
    meter, 15.73 lb per square foot; and the pound is 0.45359237 kg exactly (NIST SP 811, appendix B)."""
    square = weight(Length.parse("1 m"), Length.parse("1 m"), Length.parse("30 mm"), 2560)
    assert square.kg == Fraction("76.8")
    foot = weight(Length.parse("1 ft"), Length.parse("1 ft"), Length.parse("30 mm"), 2560)
    assert float(foot.kg) / 0.45359237 == pytest.approx(15.73, abs=0.005)


@pytest.mark.parametrize(("stone", "pounds", "kilograms"), [("granite", 160, 2560), ("marble", 162, 2590)])
def test_least_densities_of_stone(stone: str, pounds: int, kilograms: int) -> None:
    """ASTM C615, C503: least density, lb per cubic foot and kg per cubic meter, as a table of dimension stone testing
    values prints them (autumnmarble.cn/newsitem/277935056; seen second hand). A square foot of it, 30 mm thick, weighs
    what either unit says."""
    (suggested,) = (each for each in seam.suggestions() if each.field == "density")
    assert f"{stone} {kilograms}" in suggested.text and "C615" in suggested.source
    assert MATERIALS[stone].least == kilograms
    foot = Length.of_inches(12)
    by_pounds = pounds * 30 / 304.8 * 0.45359237
    assert float(weight(foot, foot, Length.of_mm(30), kilograms).kg) == pytest.approx(by_pounds, rel=0.003)
