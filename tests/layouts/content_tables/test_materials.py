"""The table of materials: whole, with sources, refused in plain words; what it changes in words and cautions."""

import pytest

from portal.content import piece
from portal.layouts import json_fields
from portal.layouts.content_tables.materials import FILE, MATERIALS, called, dust_of, read, read_material
from portal.layouts.content_tables.reading import TableError
from portal.layouts.kinds import KINDS, kind_named
from portal.layouts.length import DimensionError

ENTRY = '[x]\ncalled = "x"\nleast = 1\nmost = 2\nsource = "a sheet"\nnatural = true\ndust = ["stone_dust"]\n'


def test_a_top_is_made_of_one_of_six_and_of_nothing_else() -> None:
    assert list(MATERIALS) == ["granite", "marble", "quartz", "solid surface", "wood", "laminate"]
    assert json_fields.read({"material": "quartz"}, read_material) is MATERIALS["quartz"]
    assert json_fields.read({}, read_material) is None and json_fields.read({"material": None}, read_material) is None
    with pytest.raises(DimensionError, match="must be one of: granite, marble") as refused:
        json_fields.read({"material": "brick"}, read_material)
    assert refused.value.field == "material"


def test_densities_hold_the_values_that_are_published() -> None:
    """ASTM C615: granite at least 2560 kg per cubic meter; C503: marble at least 2590; quartz surfaces at least 2100 by
    data sheets; gabbro, sold as black granite, 2.7 to 3.3; a solid surface sheet of 65 kg, 3660 x 760 x 12.3 mm."""
    assert (MATERIALS["granite"].least, MATERIALS["granite"].most) == (2560, 3300)
    assert MATERIALS["marble"].least == 2590 and MATERIALS["quartz"].least == 2100
    assert MATERIALS["solid surface"].most == pytest.approx(65 / (3.66 * 0.76 * 0.0123), rel=0.001)
    assert MATERIALS["wood"].most == pytest.approx(800 * 1.1)
    assert all("memory" not in each.source for each in MATERIALS.values())


def test_the_limits_of_the_stone_industry_hold_for_natural_stone_alone() -> None:
    assert [name for name, each in MATERIALS.items() if each.natural] == ["granite", "marble"]


def test_it_is_called_by_what_it_is_and_stone_until_that_is_known() -> None:
    assert [called(each) for each in (None, MATERIALS["marble"], MATERIALS["wood"])] == ["stone", "stone", "wood"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", MATERIALS)
def test_work_on_a_top_has_the_cautions_of_its_dust_in_the_place_of_those_of_stone(kind: str, name: str) -> None:
    usual = kind_named(kind).CAUTIONS
    found = dust_of(usual, {"material": name})
    assert all(piece("cautions", each) for each in found)
    assert ("stone_dust" in found) == ("stone_dust" in usual and MATERIALS[name].dust == ("stone_dust",))
    assert [each for each in found if not each.endswith("_dust")] == [
        each for each in usual if not each.endswith("_dust")]
    assert len(found) == len(usual)


@pytest.mark.parametrize("dimensions", [None, {}, [], {"material": None}, {"material": "x"}, {"material": ["wood"]}])
def test_until_the_material_is_known_the_dust_is_that_of_stone(dimensions: object) -> None:
    assert dust_of(("stone_dust", "lifting"), dimensions) == ("stone_dust", "lifting")


@pytest.mark.parametrize(("was", "becomes", "said"), [
    ("natural = true\n", "", "x: give exactly called, dust, least, most, natural, source"),
    ("natural = true", 'natural = "yes"', "x.natural: can't be 'yes'"), ("least = 1", "least = true", "x.least"),
    ('"a sheet"', '""', "x.source"), ("least = 1", "least = 3", "x.least: is more than the most"),
    ('["stone_dust"]', "[]", "x.dust"), ("[x]", "[x", "is no TOML"),
])
def test_what_cannot_be_used_is_refused_by_its_place(was: str, becomes: str, said: str) -> None:
    with pytest.raises(TableError, match=f"{FILE.name}.*{said}"):
        read(ENTRY.replace(was, becomes))
