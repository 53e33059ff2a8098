"""What may be picked for a house: its own, then the firm's, then what is usual; never another house's."""

import pytest

from portal.layouts.sizes.picking import FIRM, HOUSE, OURS, USUAL_SIZES, Size
from portal.store import tables
from portal.store.refusals import NotFound
from portal.store.rows.editable import in_firm
from portal.store.rows.size_rows import find, firm_has, firms_page, offered
from tests.house import House


def kept(project: int | None, what: str, name: str) -> int:
    values = {"what": what, "name": name, "values": {"reach": "9 in"}, "source": f"sheet of {name}"}
    return int(tables.KeptSize.create(project=project, **values).id)


@pytest.fixture
def ids(house: House) -> dict[str, int]:
    return {
        "tap": kept(house.project, "faucet", "Tall tap"), "shop": kept(None, "shop", "Pell Harbor Stone"),
        "theirs": kept(house.other_project, "top", "Bath top"), "top": kept(house.project, "top", "Island"),
        "slab": kept(None, "slab", "A slab"), "wall": kept(house.project, "faucet", "Low tap"),
    }  # fmt: skip


def test_a_house_is_offered_its_own_then_the_firms_then_what_is_usual(house: House, ids: dict[str, int]) -> None:
    found = offered(house.project)
    assert [size.name for size in found[:5]] == ["Low tap", "Tall tap", "Island", "Pell Harbor Stone", "A slab"]
    assert [size.owner for size in found] == [HOUSE] * 3 + [FIRM] * 2 + [OURS] * len(USUAL_SIZES)
    assert [size.owner for size in offered(None)] == [FIRM] * 2 + [OURS] * len(USUAL_SIZES)


def test_one_is_found_by_its_id_or_its_use_and_another_houses_is_none(house: House, ids: dict[str, int]) -> None:
    key = str(ids["tap"])
    assert find(house.project, key) == Size(key, "faucet", "Tall tap", {"reach": "9 in"}, "sheet of Tall tap", HOUSE)
    assert find(house.other_project, key) is None and find(None, key) is None
    assert find(house.other_project, str(ids["shop"])) == find(None, str(ids["shop"])) is not None
    soap = find(house.project, "soap")
    assert soap is not None and soap.owner == OURS
    assert find(house.project, "mirror") is None


def test_the_firms_are_read_page_by_page(ids: dict[str, int]) -> None:
    rows, total = firms_page(0, 1)
    assert [row.name for row in rows] == ["Pell Harbor Stone"] and total == 2
    assert [row.name for row in firms_page(1, 5)[0]] == ["A slab"]


def test_a_name_of_the_firms_is_taken_once_a_thing(ids: dict[str, int]) -> None:
    assert firm_has("shop", "Pell Harbor Stone", 0)
    assert not firm_has("shop", "Pell Harbor Stone", ids["shop"])
    assert not firm_has("slab", "Pell Harbor Stone", 0)
    assert not firm_has("faucet", "Tall tap", 0), "that is a house's"


def test_a_houses_is_not_the_firms(ids: dict[str, int]) -> None:
    assert in_firm(tables.KeptSize, ids["slab"]).name == "A slab"
    with pytest.raises(NotFound, match="no such kept size"):
        in_firm(tables.KeptSize, ids["tap"])
