"""What is measured once, at the desk: kept, changed and dropped, for a house and for the firm, each figure with its
source."""

import pytest

from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.layouts.sizes.whats import WHATS
from portal.store.tables import KeptSize
from tests.house import NOW, House
from tests.web.signed_in import Desk

TOP = {"what": "top", "name": "Window wall", "values": {"length": "96 in", "density": 2650}, "source": "Sam, Nov 3"}
HOUSES = "/desk/projects/7/sizes/"
FIRMS = "/desk/sizes/"


def test_a_shops_limits_are_kept_changed_and_dropped_for_the_firm(manager: Desk) -> None:
    manager.open("/desk/").open("sizes/")
    assert "Nothing is kept yet." in manager.says and {f"new?what={what}" for what in WHATS} <= manager.ways
    manager.open("new?what=shop")
    manager.send(name="Pell Harbor Stone", values__to_cutout="2 in", source="their sheet, 2026")
    assert manager.path == FIRMS and "From a hole to the cut-out: 2 in (their sheet, 2026)" in manager.says
    size = KeptSize.get()
    assert (size.what, size.values, size.project_id) == ("shop", {"to_cutout": "2 in"}, None)
    manager.open(f"{size.id}/change").send(values__to_back="1-1/2 in")
    assert KeptSize.get().values == {"to_cutout": "2 in", "to_back": "1-1/2 in"}
    assert "What was asked already stays as it was asked." in manager.says
    manager.open(f"{size.id}/drop").send()
    assert "is no longer kept" in manager.says and KeptSize.select().count() == 0


def test_the_office_keeps_a_houses_and_reads_the_firms_with_what_is_usual(office: Desk, house: House) -> None:
    keep_firm_size(house.manager, TOP | {"name": "As sold"})
    office.open("/desk/projects/7/").open("sizes/").open("new?what=pull")
    office.send(name="Bar pull", values__centers="160 mm", values__inch_sheet="no", source="its box")
    assert office.path == HOUSES and "Does its own sheet give inches?: no (its box)" in office.says
    assert "As sold" not in office.says, "that is on the firm's list"
    assert KeptSize.get(KeptSize.what == "pull").values == {"centers": "160 mm", "inch_sheet": False}
    office.open(FIRMS)
    assert "As sold" in office.says and not [way for way in office.ways if "change" in way or "new" in way]
    assert ("Soap dispenser: hole about 1-1/4 in (trade guides). It lasts about a year (common practice)."
            in office.says)
    assert "Hot water tap: its sheet says how wide its hole is." in office.says


def test_the_form_of_a_change_holds_what_is_kept(manager: Desk, house: House) -> None:
    pull = {"what": "pull", "name": "Bar pull", "source": "its box", "values": {"inch_sheet": True, "length": "172 mm"}}
    manager.open(f"{HOUSES}{keep_size(house.office, house.project, pull, now=NOW).id}/change")
    typed = manager.typed()
    assert (typed["name"], typed["values.inch_sheet"], typed["values.length"]) == ("Bar pull", "yes", "172 mm")
    manager.send(values__inch_sheet="")
    assert KeptSize.get().values == {"length": "172 mm"}


@pytest.mark.parametrize(("changed", "name", "said"), [
    ({"values.length": "1-3"}, "values.length", "could be"), ({"source": ""}, "source", "fill this in"),
    ({"values.density": "heavy"}, "values.density", "number"), ({"name": "Window wall"}, "name", "already"),
])  # fmt: skip
def test_what_can_not_be_kept_is_marked_and_nothing_that_was_typed_is_lost(
    manager: Desk, house: House, changed: dict[str, str], name: str, said: str
) -> None:
    keep_size(house.office, house.project, dict(TOP), now=NOW)
    keep_firm_size(house.manager, dict(TOP))
    for path in (HOUSES, FIRMS):
        manager.open(f"{path}new?what=top")
        sent = manager.typed() | {"name": "Island", "values.length": "72 in", "source": "Sam"} | changed
        manager.post(sent, 422)
        assert said in manager.wrong(name) and manager.typed()["values.length"] == sent["values.length"]
    assert KeptSize.select().count() == 2


def test_a_size_that_changed_meanwhile_is_not_changed_over(manager: Desk, house: House) -> None:
    size = keep_size(house.office, house.project, dict(TOP), now=NOW)
    manager.open(f"{HOUSES}{size.id}/change")
    old = manager.typed()
    manager.send(name="Long wall")
    manager.path = f"{HOUSES}{size.id}/change"
    manager.post(old | {"name": "Short wall"}, 412)
    assert KeptSize.get().name == "Long wall"


def test_nothing_to_keep_is_said_in_words(manager: Desk) -> None:
    manager.open(f"{FIRMS}new?what=slab")
    manager.post(manager.typed() | {"name": "As sold", "source": "the yard"}, 422)
    assert "The values are empty; give at least one of: length, depth." in manager.says
    manager.open(f"{FIRMS}new?what=nothing")
    assert "What is kept for every house" in manager.says
