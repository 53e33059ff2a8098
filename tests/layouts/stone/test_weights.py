"""What a piece of a top weighs at most, and who carries it, by plain arithmetic."""

from fractions import Fraction

import pytest

from portal.layouts.content_tables.materials import MATERIALS
from portal.layouts.length import Length
from portal.layouts.stone.limits import COUNTERTOPS
from portal.layouts.stone.weights import Weight, heft, most_of, weight

THICK = Length.parse("30 mm")


def test_a_weight_is_rounded_up_so_that_nobody_lifts_more_than_it_says() -> None:
    """1 m x 0.5 m x 20 mm of 2600 kg per cubic meter: 26 kg, 57.32 lb."""
    slab = weight(Length.of_mm(1000), Length.of_mm(500), Length.of_mm(20), 2600)
    assert slab.text == "58 lb (26 kg)" and slab.to_json() == {"text": "58 lb (26 kg)", "kg": 26.0}
    heavier = weight(Length.of_mm(1000), Length.of_mm(500), Length.of_mm(20), 2601)
    assert heavier.text == "58 lb (27 kg)" and heavier.to_json()["kg"] == 26.01


@pytest.mark.parametrize(("kg", "people"), [
    ("0.5", 1), ("23", 1), ("23.01", 2), ("30.66", 2), ("30.67", 3), ("34.5", 3), ("34.51", 4), ("46", 4),
    ("46.01", None), ("200", None)])
def test_as_many_carry_it_as_the_published_shares_ask_for(kg: str, people: int | None) -> None:
    """23 kg alone (NIOSH 94-110); of 46 two thirds are 30.67, of 69 a half is 34.5 (HSE L23, 120); of 92 a half, 46."""
    assert Weight(Fraction(kg)).people == people


def test_a_team_of_two_who_lift_20_kg_each_would_lift_26_and_two_thirds() -> None:
    """As a railway's page has it, after HSE L23: the share of two is two thirds."""
    assert most_of(2).kg / 23 * 20 == Fraction(80, 3)


def test_the_heaviest_is_reckoned_with_the_most_of_its_material_and_what_slabs_differ() -> None:
    """Granite at 3300, 30 mm and 1/8 in: 33.175 mm. A square meter weighs 109.4775 kg."""
    found = heft(MATERIALS["granite"], None, THICK, None, "given")
    assert (found.density, found.thickness.mm, found.over_source) == (3300, Fraction("33.175"), COUNTERTOPS)
    square = found.weigh(Length.parse("1 m"), Length.parse("1 m"))
    assert square.kg == Fraction("109.4775") and found.density_source == MATERIALS["granite"].source


def test_what_is_entered_comes_before_what_is_published() -> None:
    found = heft(MATERIALS["granite"], 2691, THICK, Length.parse("1 mm"), "the sheet")
    assert (found.density, found.thickness.text, found.density_source, found.over_source) == (
        2691, "31 mm", "the sheet", "the sheet")


@pytest.mark.parametrize("name", [name for name, each in MATERIALS.items() if not each.natural])
def test_what_is_made_is_as_thick_as_it_is_sold_unless_somebody_says_otherwise(name: str) -> None:
    found = heft(MATERIALS[name], None, THICK, None, "given")
    assert (found.thickness, found.over, found.over_source) == (THICK, None, "")
    assert heft(MATERIALS[name], None, THICK, Length.parse("2 mm"), "given").thickness.text == "32 mm"


def test_without_a_material_stone_is_natural() -> None:
    assert heft(None, 2650, THICK, None, "given").over_source == COUNTERTOPS


@pytest.mark.parametrize(("thick", "density", "kg", "pounds"), [
    ("30 mm", 2691, 127.50, 281.09), ("20 mm", 2400, 75.81, 167.13), ("12.7 mm", 1700, 34.10, 75.17)])
def test_usual_pieces_weigh_what_was_computed_by_two_ways(thick: str, density: int, kg: float, pounds: float) -> None:
    """96 x 25-1/2 in: granite, quartz, solid surface."""
    found = weight(Length.parse("96 in"), Length.parse("25-1/2 in"), Length.parse(thick), density)
    assert float(found.kg) == pytest.approx(kg, abs=0.005)
    assert float(found.kg) / 0.45359237 == pytest.approx(pounds, abs=0.005)
