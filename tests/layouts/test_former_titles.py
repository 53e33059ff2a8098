"""The titles of version 0.2.0, word for word: clients, decisions and proposals still name layouts by them."""

from types import ModuleType

import pytest

from portal.layouts.centerline import words as centerline_words
from portal.layouts.deck import words as deck_words
from portal.layouts.former_titles import former_title
from portal.layouts.kinds import lay_out
from portal.layouts.naming import named, titled, with_key
from portal.layouts.overhang import words as overhang_words
from portal.layouts.pulls import words as pulls_words
from portal.layouts.seam import words as seam_words
from tests.layouts.centerline.test_layout import CABINET
from tests.layouts.decks import deck_json, four_hole_json
from tests.layouts.overhang.test_layout import ISLAND
from tests.layouts.pulls.test_layout import BANK
from tests.layouts.seam.test_layout import RUN
from tests.layouts.test_kinds import EXAMPLES

WORDS: list[ModuleType] = [deck_words, centerline_words, pulls_words, overhang_words, seam_words]
LINE = {"window": {"left": "45 in", "right": "81 in"}, "cabinet": CABINET, "sink_width": "33 in", "clip_room": "1/2 in",
        "source": "a sheet"}
TITLES = [
    ("deck", deck_json(), "deck:1:filtered-water,faucet,air-gap",
     "One hole for the faucet; from the left: filtered water, faucet and air gap"),
    ("deck", deck_json(), "deck:3:soap-dispenser,faucet,air-gap",
     "Three holes for the faucet; from the left: soap dispenser, faucet and air gap"),
    ("deck", deck_json(accessories=None), "deck:1:faucet", "One hole for the faucet, and no other"),
    ("deck", deck_json(accessories=None), "deck:3:faucet", "Three holes for the faucet, and no other"),
    ("deck", four_hole_json(), "deck:old:hole-2:soap-dispenser=hole-1:filtered-water=hole-3:air-gap=hole-4",
     "Faucet in hole 2; soap dispenser in hole 1; filtered water in hole 3; air gap in hole 4"),
    ("deck", four_hole_json(), "deck:old:hole-2:plate:air-gap=hole-4",
     "Faucet in hole 2 with its plate; air gap in hole 4"),
    ("deck", four_hole_json(), "deck:old:hole-2:air-gap=hole-4",
     "Faucet in hole 2; air gap in hole 4; a cap on hole 1 and hole 3"),
    ("deck", four_hole_json(), "deck:old:hole-1,hole-2,hole-3:air-gap=hole-4",
     "Faucet in hole 1, hole 2 and hole 3; air gap in hole 4"),
    ("centerline", LINE, "centerline:window", "On the window"),
    ("centerline", LINE, "centerline:cabinet", "On the cabinet"),
    ("centerline", LINE, "centerline:between", "Between window and cabinet"),
    ("centerline", LINE, "centerline:near-window", "As near the window as the sink can come"),
    ("centerline", LINE | {"window": CABINET}, "centerline:window-and-cabinet",
     "On the window and the cabinet, which agree"),
    ("pulls", BANK, "pulls:middle", "In the middle of each drawer"),
    ("pulls", BANK, "pulls:rail:quarter",
     "On the upper rail of each drawer; two on wide ones, each a quarter of the width in"),
    ("pulls", BANK, "pulls:top:sixth",
     "Along the upper edge of each drawer; two on wide ones, each a sixth of the width in"),
    ("pulls", BANK | {"fronts": BANK["fronts"][3:], "drawers": None}, "pulls:doors", "On the side that opens"),
    ("overhang", ISLAND, "overhang:381mm:brackets", "15 in out, on brackets"),
    ("overhang", ISLAND, "overhang:254mm", "10 in out, with nothing under it"),
    ("seam", RUN, "seam:1879.6mm", "A seam 74 in from the left end"),
    ("seam", RUN | {"length": "100 in", "cutouts": None}, "seam:none", "One piece, no seam"),
    ("seam", RUN | {"length": "250 in", "cutouts": None, "dishwasher": None}, "seam:2540mm,3810mm",
     "Seams 100 in and 150 in from the left end"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "data", "key", "title"), TITLES)
def test_a_title_of_version_0_2_0_names_its_layout_whatever_it_is_called_now(
    kind: str, data: dict[str, object], key: str, title: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    for words in WORDS:
        monkeypatch.setattr(words, "title", lambda layout: "Worded anew")
    found = lay_out(kind, data)
    layout = with_key(found, key)
    assert layout is not None and layout.title == "Worded anew"
    assert former_title(layout) == title
    assert named(found, title) is layout and titled(found, title)[0] is layout


@pytest.mark.parametrize(("kind", "data"), [one for one in EXAMPLES if one[0] != "vanity"])
def test_nothing_has_been_worded_anew_so_far(kind: str, data: dict[str, object]) -> None:
    """Whoever words a title anew takes its kind out of this test, and leaves the titles above as they are."""
    assert [former_title(layout) for layout in lay_out(kind, data)] == [
        layout.title for layout in lay_out(kind, data)]


def test_a_kind_that_is_younger_than_version_0_2_0_had_no_title_then() -> None:
    assert former_title(object()) == ""  # type: ignore[arg-type]
    younger = [data for kind, data in EXAMPLES if kind == "vanity"]
    assert {former_title(layout) for data in younger for layout in lay_out("vanity", data)} == {""}


def test_a_rule_that_is_younger_had_no_title_either() -> None:
    found = lay_out("centerline", LINE | {"counter": {"left": "16 in", "right": "92-1/4 in"}})
    landing = with_key(found, "centerline:landing")
    assert landing is not None and former_title(landing) == "" and named(found, landing.title) is landing


def test_the_title_as_it_is_now_names_a_layout_unless_another_was_called_so(monkeypatch: pytest.MonkeyPatch) -> None:
    found = lay_out("pulls", BANK)
    monkeypatch.setattr(pulls_words, "title", lambda layout: f"New: {layout.key}")
    middle = with_key(found, "pulls:middle")
    assert named(found, "New: pulls:middle") is middle
    monkeypatch.setattr(pulls_words, "title", lambda layout: "In the middle of each drawer")
    assert titled(found, "In the middle of each drawer") == [middle]
    assert named(found, "no such layout") is None and with_key(found, "no such key") is None
