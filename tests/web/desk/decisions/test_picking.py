"""What was measured once is picked from a list in the form that asks with drawings, and what was typed is kept.

What each of the four would do first. The manager, on site: measured the top for the holes on Monday, asks about its
seam on Wednesday, picks the top and types only what is new. The office: a shop's new sheet came, its limits are changed
once, and questions that are out stay as they were. The homeowner: reads whose sheet the numbers are from, and never a
list. The crew: drills from a sheet whose numbers nobody has changed behind it.
"""

import pytest

from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.demo.dimensions import DECK
from portal.layouts.kinds import KINDS
from portal.layouts.sizes.picking import HOUSE
from portal.store.rows import decision_rows, size_rows
from portal.store.tables import Decision, KeptSize
from portal.web.forms.blanks import groups
from portal.web.forms.picking import boxes
from tests.drawn import ONE, key_of
from tests.house import NOW, House
from tests.layouts.test_kinds import EXAMPLES
from tests.web.desk.decisions.test_layout_decisions import NEW, ask, look, typed
from tests.web.signed_in import Desk

TOP = {"what": "top", "name": "Window wall", "source": "Sam, Nov 3", "values": {
    "length": "96 in", "depth": "25-1/2 in", "thickness": "3 cm", "splash": "1/2 in"}}  # fmt: skip
LIMITS = {name: text for name, text in DECK["minimums"].items() if name != "source"} | {"seam_to_cutout": "4 in"}
SHOP = {"what": "shop", "name": "Pell Harbor Stone", "source": "Pell Harbor Stone, sheet of the shop", "values": LIMITS}


@pytest.fixture
def top(house: House) -> str:
    return str(keep_size(house.office, house.project, dict(TOP), now=NOW).id)


@pytest.fixture
def shop(house: House) -> str:
    return str(keep_firm_size(house.manager, dict(SHOP)).id)


def press(desk: Desk, kind: str, step: str = "fill", **changed: str) -> Desk:
    """In an empty form: what it begins with is out first."""
    desk.open(f"{NEW}?kind={kind}")
    if begins := {name: "" for name, key in desk.typed().items() if name.startswith("pick.") and key}:
        desk.post(desk.typed() | begins | {"step": "fill"})
    return desk.post(desk.typed() | {"step": step} | {name.replace("__", "."): text for name, text in changed.items()})


def test_the_only_one_of_its_kind_is_picked_and_filled_in_from_the_start(manager: Desk, top: str, shop: str) -> None:
    """It says so, the inputs show it, and one press has another or none."""
    begun = manager.open(f"{NEW}?kind=deck").typed()
    assert (begun["pick.top.top"], begun["pick.shop.minimums"]) == (top, shop)
    assert (begun["dimensions.top.depth"], begun["dimensions.minimums.to_back"]) == ("25-1/2 in", LIMITS["to_back"])
    assert "“Window wall” and “Pell Harbor Stone” are filled in: nothing else of the kind is kept." in manager.says
    manager.post(begun | {"step": "fill", "pick.top.top": "", "dimensions.top.thickness": "2 cm"})
    left = manager.typed()
    assert (left["pick.top.top"], left["dimensions.top.depth"]) == ("", "")
    assert (left["dimensions.top.thickness"], left["dimensions.minimums.to_back"]) == ("2 cm", LIMITS["to_back"])
    assert "The top: what came from “Window wall” is out again." in manager.says


def test_of_two_none_is_picked_nor_what_is_usual_nor_what_a_row_or_a_part_that_may_be_left_out_could_be(
    manager: Desk, house: House, top: str
) -> None:
    for what, values in (("top", TOP["values"]), ("cap", {"width": "1-3/4 in"}), ("accessory", {"hole": "1-1/4 in"})):
        one = {"what": what, "name": "Another", "source": "its sheet", "values": values}
        keep_size(house.office, house.project, one, now=NOW)
    begun = manager.open(f"{NEW}?kind=deck").typed()
    picks = {name: key for name, key in begun.items() if name.startswith("pick.")}
    assert {"pick.top.top", "pick.cap.cap", "pick.accessory.accessories.0"} <= set(picks) and not any(picks.values())
    assert begun["dimensions.top.depth"] == "" and "filled in" not in manager.says


def choices(desk: Desk, name: str) -> list[str]:
    selects = [one for one in desk.page.iter() if one.get("id") == name]
    return [" ".join("".join(option.itertext()).split()) for one in selects for option in one]


def test_the_houses_come_first_then_the_firms_then_what_is_usual_each_with_its_source(
    manager: Desk, house: House, top: str, shop: str
) -> None:
    keep_size(house.office, house.other_project, TOP | {"name": "Theirs"}, now=NOW)
    keep_firm_size(house.manager, TOP | {"name": "A slab as sold", "source": "the slab yard's list"})
    manager.open(f"{NEW}?kind=deck")
    assert choices(manager, "pick.top.top") == [
        "nothing of these", "Window wall, of this house (Sam, Nov 3)",
        "A slab as sold, of the firm (the slab yard's list)"]
    assert choices(manager, "pick.accessory.accessories.0")[1:3] == [
        "soap dispenser, usually about 1-1/4 in (trade guides)", "side spray, usually about 1-1/4 in (trade guides)"]
    assert "hot water tap; its sheet says how wide" in choices(manager, "pick.accessory.accessories.3")
    assert choices(manager, "pick.faucet.faucet") == [], "there is nothing to pick yet"


def test_one_press_fills_what_is_empty_says_so_and_blames_nobody(manager: Desk, top: str) -> None:
    press(manager, "deck", pick__top__top=top, dimensions__top__width="95 in")
    filled = manager.typed()
    assert filled["dimensions.top.width"] == "95 in", "what was typed stays"
    assert filled["dimensions.top.depth"] == "25-1/2 in" and filled["pick.top.top"] == top
    assert ("The top, filled in from “Window wall” (Sam, Nov 3): Depth, front to back, 25-1/2 in; Thickness, 3 cm; "
            "Thickness of the splash or wall finish on it, 1/2 in.") in manager.says
    assert "is missing" not in manager.says


def test_the_top_of_the_holes_is_picked_for_its_seam(manager: Desk, top: str, shop: str) -> None:
    press(manager, "seam", pick__top=top, pick__shop__minimums=shop)
    filled = manager.typed()
    assert [filled[f"dimensions.{name}"] for name in ("length", "depth", "thickness", "minimums.to_cutout")] == [
        "96 in", "25-1/2 in", "3 cm", "4 in"]
    assert filled["dimensions.minimums.source"] == "Pell Harbor Stone, sheet of the shop"


def test_whoever_types_another_limit_says_who_gives_it(manager: Desk, shop: str) -> None:
    press(manager, "seam", pick__shop__minimums=shop, dimensions__minimums__to_cutout="3 in")
    assert manager.typed()["dimensions.minimums.source"] == ""
    press(manager, "seam", pick__shop__minimums=shop, dimensions__minimums__to_cutout="4 in")
    assert manager.typed()["dimensions.minimums.source"] == SHOP["source"]


def test_what_is_picked_is_filled_in_when_the_layouts_are_worked_out_too(manager: Desk, top: str, shop: str) -> None:
    without = dict.fromkeys(typed("deck", {"top": DECK["top"], "minimums": DECK["minimums"]}), "")
    picked = {"pick.top.top": top, "pick.shop.minimums": shop, "was.top.top": "", "was.shop.minimums": ""}
    look(manager, "deck", DECK, **(without | picked))
    assert "The layouts, best first" in manager.says and manager.typed()["dimensions.top.width"] == "96 in"
    ask(manager, question="Which holes?", offer=[key_of(ONE)], **{
        "keep.faucet.faucet": "house", "keep.faucet.faucet.source": "its maker's sheet"})
    assert "“faucet” is kept for this house." in manager.says and "is asked." in manager.says
    asked = Decision.select().order_by(Decision.id.desc()).first()
    assert decision_rows.revision(asked.id, 1).detail == {"dimensions": DECK}


def test_a_usual_hole_leaves_its_flange_to_its_sheet(manager: Desk) -> None:
    press(manager, "deck", pick__accessory__accessories__1="soap")
    filled = manager.typed()
    assert filled["dimensions.accessories.1.hole"] == "1-1/4 in" and filled["dimensions.accessories.1.flange"] == ""
    assert filled["dimensions.accessories.1.lasts_source"] == "common practice"


def test_what_is_gone_meanwhile_is_said(manager: Desk, top: str) -> None:
    manager.open(f"{NEW}?kind=deck")
    sent = manager.typed() | {"step": "fill", "pick.top.top": top}
    KeptSize.delete().execute()
    manager.post(sent)
    assert "The top: what you chose is no longer kept." in manager.says
    manager.open(f"{NEW}?kind=deck")
    manager.post(manager.typed() | {"step": "fill"}, 422)  # nothing was chosen: as if the layouts were asked for


@pytest.mark.parametrize(("owner", "project"), [("house", True), ("firm", False)])
def test_what_was_typed_is_kept_for_the_house_or_the_firm(
    manager: Desk, house: House, owner: str, project: bool
) -> None:
    look(manager, "deck", DECK, **{
        "keep.top.top": owner, "keep.top.top.name": "Window wall", "keep.top.top.source": "Sam, Nov 3",
        "keep.shop.minimums": owner, "keep.shop.minimums.name": "Pell Harbor Stone",
        "keep.faucet.faucet": owner, "keep.faucet.faucet.source": "its maker's sheet",
    })  # fmt: skip
    kept = {row.what: row for row in KeptSize.select()}
    assert {row.project_id for row in kept.values()} == {house.project if project else None}
    assert {name: getattr(kept["top"], name) for name in TOP} == TOP
    assert kept["shop"].source == DECK["minimums"]["source"], "it has a blank of its own for that"
    assert kept["faucet"].name == "faucet" and kept["faucet"].values["holes"] == "1"
    assert f"“Window wall” is kept for {'this house' if project else 'the firm'}." in manager.says
    assert manager.typed()["keep.top.top"] == "" and "The layouts, best first" in manager.says


def test_a_press_that_comes_twice_keeps_once(manager: Desk) -> None:
    manager.open(f"{NEW}?kind=deck")
    sent = manager.typed() | typed("deck", DECK) | {
        "step": "look", "keep.top.top": "house", "keep.top.top.name": "Window wall", "keep.top.top.source": "Sam"}
    for _ in range(2):
        manager.post(sent)
        assert "“Window wall” is kept for this house." in manager.says
    assert KeptSize.select().count() == 1


@pytest.mark.parametrize(("changed", "name", "said"), [
    ({"keep.top.top.name": ""}, "keep.top.top.name", "blank"),
    ({"keep.top.top.source": ""}, "keep.top.top.source", "blank"),
    ({"dimensions.top.depth": "1-3"}, "dimensions.top.depth", "could be"),
    ({"keep.top.top.name": "Window wall"}, "keep.top.top.name", "already"),
    ({f"dimensions.top.{name}": "" for name in DECK["top"]}, "keep.top.top", "are empty"),
])  # fmt: skip
def test_what_can_not_be_kept_is_marked_where_it_stands_and_nothing_is_kept(
    manager: Desk, top: str, changed: dict[str, str], name: str, said: str
) -> None:
    keep = {"keep.top.top": "house", "keep.top.top.name": "Island", "keep.top.top.source": "Sam, Nov 3"}
    look(manager, "deck", DECK, 422, **(keep | changed))
    assert said in manager.wrong(name)
    assert KeptSize.select().count() == 1 and manager.typed()["keep.top.top"] == "house"


@pytest.mark.parametrize("kind", KINDS)
def test_in_every_kind_what_is_kept_of_an_example_is_what_fills_an_empty_form(manager: Desk, kind: str) -> None:
    """Whatever a form lets one keep of a part may be picked there again."""
    example = typed(kind, next(data for name, data in EXAMPLES if name == kind))
    picks = {}
    first = [group for group in groups(kind, sent={}) if group.part.picks and group.path in (
        group.part.path, f"{group.part.path}.0")]
    for box in (box for group in first for box in boxes(group, (), (HOUSE,))):
        own = [field for field in ("name", "source") if box.stands[field] not in example]
        named = {box.stands[field]: "Kept by a test" for field in own}
        manager.open(f"{NEW}?kind={kind}")
        any_of_it = any(example.get(one) for field, one in box.stands.items() if field not in ("name", "source"))
        manager.post(manager.typed() | example | named | {"step": "fill", box.keep[0].name: HOUSE},
                     200 if any_of_it else 422)
        if any_of_it:
            picks[f"pick.{box.name}"] = str(KeptSize.select().order_by(KeptSize.id.desc()).first().id)
    press(manager, kind, **picks)
    filled = {name: text for name, text in manager.typed().items() if name.startswith("dimensions.") and text}
    assert picks and len(filled) > len(picks)
    assert {name for name, text in filled.items() if text not in (example.get(name), "Kept by a test")} == set()


def test_the_office_asks_nothing_and_another_house_is_offered_nothing_of_this(
    office: Desk, manager: Desk, house: House, top: str
) -> None:
    office.open(f"{NEW}?kind=deck", 403)
    assert [size.name for size in size_rows.offered(house.other_project) if size.owner == "house"] == []
