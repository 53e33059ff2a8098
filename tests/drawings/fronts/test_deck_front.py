"""A top from the front: each hole at its place, what stands in it known by its use, one scale for all options."""

from typing import Any

import pytest

from portal.demo.dimensions import DECK
from portal.drawings.front_kinds import card_view, front_views
from portal.drawings.fronts.deck_things import standing
from portal.drawings.fronts.front import Disc, Front, Stroke, Word
from portal.drawings.fronts.kept_parts import kept_of
from portal.drawings.fronts.silhouettes import TALL, THINGS
from portal.layouts.content_tables.usual import USUAL
from tests.drawings.fronts.kept_options import demo_deck, details, example, items
from tests.layouts.decks import deck_json


def discs(front: Front) -> list[Disc]:
    return [shape for shape in front.shapes if isinstance(shape, Disc)]


def words_in(front: Front) -> list[str]:
    return [shape.text for shape in front.shapes if isinstance(shape, Word)]


def scale_of(detail: dict[str, Any], front: Front) -> float:
    """Units a mm, from the sink: its cut-out is dashed below the top."""
    basin = next(shape for shape in front.shapes if isinstance(shape, Stroke) and shape.look == "hid")
    left, right = float(basin.d[1:].split()[0]), float(basin.d.rsplit("-8V", 1)[0].split("H")[1].split("q")[0]) + 8
    return (right - left) / items(detail, "rect", "cut-out")[0]["width"]


@pytest.mark.parametrize("number", [0, 1])
def test_each_hole_lies_where_the_layout_has_it_times_the_scale(number: int) -> None:
    every, dimensions = example("deck", number)
    for detail, front in zip(every, front_views("deck", every, dimensions), strict=True):
        scale = scale_of(detail, front)
        kept = sorted(hole["from_left_end"]["mm"] for hole in detail["layout"]["holes"])
        cutout = items(detail, "rect", "cut-out")[0]
        left = next(float(shape.d[1:].split()[0]) for shape in front.shapes
                    if isinstance(shape, Stroke) and shape.look == "hid")
        drawn = sorted(disc.x for disc in discs(front))
        assert drawn == pytest.approx([left + (x - cutout["x"]) * scale for x in kept], abs=0.3)


def test_holes_are_as_wide_as_they_are_drilled() -> None:
    every = demo_deck()
    front = front_views("deck", every, DECK)[1]
    scale = scale_of(every[1], front)
    radii = sorted(hole["diameter"]["mm"] / 2 * scale for hole in every[1]["layout"]["holes"])
    assert sorted(disc.r for disc in discs(front)) == pytest.approx(radii, abs=0.1)


def test_both_options_are_drawn_at_one_scale_with_the_faucet_at_one_place() -> None:
    one, two = front_views("deck", demo_deck(), DECK)
    assert discs(one)[0] == discs(two)[0]
    assert scale_of(demo_deck()[0], one) == pytest.approx(scale_of(demo_deck()[1], two), abs=1e-3)


def test_the_count_and_the_distance_stand_in_words() -> None:
    one, two = front_views("deck", demo_deck(), DECK)
    assert words_in(one) == ["bottle", "1 hole"]
    assert words_in(two) == ["soap", "2 holes, 4 in apart"]
    assert one.title == "Seen from the front: faucet and bottle; 1 hole"
    assert two.title == "Seen from the front: faucet and soap dispenser; 2 holes, 4 in apart"


def test_from_each_new_hole_a_line_leads_to_the_count() -> None:
    two = front_views("deck", demo_deck(), DECK)[1]
    leaders = next(shape for shape in two.shapes if isinstance(shape, Stroke) and shape.look == "dim")
    assert leaders.d.count("M") == 2


def test_old_holes_are_no_new_ones() -> None:
    every, dimensions = example("deck", 1)
    for front in front_views("deck", every, dimensions):
        assert words_in(front)[-1] == "no new hole" and len(discs(front)) == 4


def test_without_a_bottle_nobody_said_none_is_drawn() -> None:
    bare = [{**DECK["accessories"][0]}]
    del bare[0]["shares"]
    dimensions = {**DECK, "accessories": bare}
    alone = next(one for one in details("deck", dimensions) if one["layout"]["key"] == "deck:1:faucet")
    assert words_in(front_views("deck", [alone], dimensions)[0]) == ["1 hole"]


def test_a_window_is_drawn_where_it_was_measured_and_nowhere_else() -> None:
    def glass(front: Front) -> list[Stroke]:
        return [shape for shape in front.shapes if isinstance(shape, Stroke) and shape.look == "fg"]

    every = demo_deck()
    less = {name: value for name, value in DECK.items() if name != "window"}
    assert glass(front_views("deck", every, less)[0]) == []
    front = front_views("deck", every, {**less, "window": {"left": "29-1/2 in", "right": "65-1/2 in"}})[0]
    (window,) = glass(front)
    left, right = (float(part) for part in window.d[1:].split("V")[0].replace(" -2H", " ").split())
    scale = scale_of(every[0], front)
    assert right - left == pytest.approx(36 * 25.4 * scale, abs=0.3)
    assert (left + right) / 2 == pytest.approx(discs(front)[0].x, abs=0.3)


@pytest.mark.parametrize("use", [*USUAL, "other"])
def test_each_use_has_a_silhouette_of_its_own(use: str) -> None:
    assert use in TALL
    assert all(THINGS[use](10, 20, 1, 1) != THINGS[other](10, 20, 1, 1) for other in THINGS if other != use)


def test_what_stands_is_known_by_its_use_and_by_its_usual_name_without() -> None:
    dimensions = deck_json()
    dimensions["faucet"]["holes"] = "3"
    for detail in details("deck", dimensions)[:3]:
        told = standing(kept_of(detail, dimensions))
        assert told[0].use == "faucet" and len(told[0].holes) == 3
        uses = {"soap dispenser": "soap", "filtered water": "filtered_water", "air gap": "air_gap"}
        assert all(one.use == uses[one.name] for one in told[1:])
        assert {one.use for one in standing(kept_of(detail, None))} <= {"faucet", "soap", "air_gap", "other"}


def test_on_a_card_what_only_one_option_has_is_dashed() -> None:
    card = card_view("deck", demo_deck(), DECK)
    fat = [shape for shape in card.shapes if isinstance(shape, Stroke) and shape.width == 6]
    assert [shape.look for shape in fat] == [""]
    assert any(shape.look == "hid" and shape.width == 2 for shape in card.shapes if isinstance(shape, Stroke))
