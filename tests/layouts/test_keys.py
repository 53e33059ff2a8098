"""Keys: short, readable, made of what a layout is, and the same however it is worded."""

import pytest

from portal.layouts.keys import joined, place, short_names
from portal.layouts.kinds import lay_out
from portal.layouts.length import Length
from tests.layouts.centerline.test_layout import CABINET
from tests.layouts.decks import deck_json, four_hole_json
from tests.layouts.overhang.test_layout import ISLAND
from tests.layouts.pulls.test_layout import BANK
from tests.layouts.seam.test_layout import RUN
from tests.layouts.test_kinds import EXAMPLES
from tests.layouts.vanity.test_layout import BATH


@pytest.mark.parametrize(("written", "key"), [
    ("48 in", "1219.2mm"), ("35 mm", "35mm"), ("1/64 in", "0.396875mm"), ("0 mm", "0mm"), ("3.5 cm", "35mm"),
    ("100.05 mm", "100.05mm")])
def test_a_place_is_its_millimeters_exactly(written: str, key: str) -> None:
    assert place(Length.parse(written)) == key


def test_a_place_that_no_decimal_gives_exactly_is_a_fraction_and_one_left_of_the_start_has_a_sign() -> None:
    assert place(Length.of_mm(1000) / 3) == "1000/3mm"
    assert place(Length.of_mm(-35)) == "-35mm" and place(-Length.parse("1/64 in")) == "-0.396875mm"


def test_parts_that_are_empty_are_left_out() -> None:
    assert joined("pulls", "rail", "") == "pulls:rail"
    assert joined("pulls", "rail", "quarter") == "pulls:rail:quarter"


def test_names_are_shortened_to_what_an_address_can_hold_and_stay_apart() -> None:
    names = ["Soap dispenser", "soap-dispenser", "Soap  Dispenser!", "faucet", "水", "!!", "??", "a" * 30, "a" * 25]
    assert list(short_names(names, taken=["faucet"]).values()) == [
        "soap-dispenser", "soap-dispenser-2", "soap-dispenser-3", "faucet-2", "水", "it", "it-2", "a" * 24,
        f"{'a' * 24}-2"]


@pytest.mark.parametrize(("kind", "data", "keys"), [
    ("deck", deck_json(faucet__holes="1", accessories=None), ["deck:1:faucet"]),
    ("centerline", {"window": {"left": "45 in", "right": "81 in"}, "cabinet": CABINET, "sink_width": "33 in",
                    "clip_room": "1/2 in", "source": "a sheet"},
     ["centerline:near-window", "centerline:cabinet", "centerline:window", "centerline:between"]),
    ("pulls", BANK | {"two_over": None}, ["pulls:middle", "pulls:rail", "pulls:top"]),
    ("pulls", BANK | {"fronts": BANK["fronts"][3:], "drawers": None}, ["pulls:doors"]),
    ("overhang", ISLAND, ["overhang:381mm:brackets", "overhang:381mm", "overhang:254mm"]),
    ("seam", RUN | {"length": "100 in", "cutouts": None, "dishwasher": None}, ["seam:none"]),
    ("seam", RUN | {"length": "230 in", "cutouts": None, "dishwasher": None, "slab": {"length": "115 in",
                                                                                       "depth": "60 in"}},
     ["seam:2921mm"]),
    ("vanity", BATH | {"lights": None}, ["vanity:low", "vanity:middle", "vanity:down"]),
    ("vanity", BATH | {"mirror": None}, ["vanity:least:beside", "vanity:least:above", "vanity:tall:beside",
                                         "vanity:tall:above"]),
])  # fmt: skip
def test_a_key_says_what_the_layout_is(kind: str, data: dict[str, object], keys: list[str]) -> None:
    assert sorted(layout.key for layout in lay_out(kind, data)) == sorted(keys)


def test_a_deck_is_named_by_its_holes_and_who_gets_them() -> None:
    new = {layout.key for layout in lay_out("deck", deck_json())}
    assert {"deck:1:faucet,air-gap", "deck:3:soap-dispenser,filtered-water,faucet,air-gap"} <= new
    old = {layout.key for layout in lay_out("deck", four_hole_json(accessories__2__may_omit=True))}
    assert {"deck:old:hole-2:soap-dispenser=hole-1:filtered-water=hole-3:air-gap=hole-4", "deck:old:hole-2",
            "deck:old:hole-2:plate", "deck:old:hole-2:plate:air-gap=hole-4", "deck:old:hole-1,hole-2,hole-3"} <= old


def test_wide_drawers_say_how_two_pulls_share_them() -> None:
    keys = [layout.key for layout in lay_out("pulls", BANK)]
    assert len(keys) == 9 and {"pulls:rail:quarter", "pulls:top:sixth"} <= set(keys)


@pytest.mark.parametrize(("kind", "data"), EXAMPLES)
def test_no_two_layouts_have_one_key_and_each_can_stand_in_a_form_and_an_address(
    kind: str, data: dict[str, object]
) -> None:
    keys = [layout.key for layout in lay_out(kind, data)]
    assert len(set(keys)) == len(keys)
    assert all(key.startswith(f"{kind}:") and not set(key) & set(" \"'<>&?#") and key == key.lower() for key in keys)
    assert [layout.to_json()["key"] for layout in lay_out(kind, data)] == keys
