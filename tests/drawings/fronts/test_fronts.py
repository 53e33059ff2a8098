"""Every kind's front view lies where its kept layout says, whenever it was kept, and has its size."""

import re
from copy import deepcopy
from typing import Any

import pytest

from portal.demo.dimensions import DECK
from portal.drawings.front_kinds import FRONTS, card_view, front_views
from portal.drawings.fronts.front import Disc, Front, Stroke, Word
from portal.drawings.writers.front_svg import card_svg, front_svg
from portal.layouts.kinds import KINDS
from tests.drawings.fronts.kept_options import FORMER, demo_deck, example, items

KINDS_AND_NUMBERS = [("deck", 0), ("deck", 1), *((kind, 0) for kind in KINDS if kind != "deck")]
LENGTHS = {"deck": "rect cut-out", "pulls": "rect front", "centerline": "rect cabinet", "overhang": "line cabinet",
           "seam": "rect edge", "vanity": "rect front"}  # fmt: skip


def boxes(front: Front, look: str) -> list[tuple[float, float, float, float]]:
    """Left, top, right, bottom of each upright rectangle with this look."""
    found = []
    for shape in front.shapes:
        if isinstance(shape, Stroke) and look in shape.look.split():
            for x1, y1, x2, y2 in re.findall(r"M([\d.-]+) ([\d.-]+)H([\d.-]+)V([\d.-]+)H", shape.d):
                found.append((float(x1), float(y1), float(x2), float(y2)))
    return found


def words_in(front: Front) -> list[str]:
    return [shape.text for shape in front.shapes if isinstance(shape, Word)]


def test_each_kind_has_a_front_view() -> None:
    assert set(FRONTS) == set(KINDS) == set(LENGTHS)


@pytest.mark.parametrize(("kind", "number"), KINDS_AND_NUMBERS)
def test_a_front_view_says_what_it_shows_and_what_is_not_to_scale(kind: str, number: int) -> None:
    details, dimensions = example(kind, number)
    for front in front_views(kind, details, dimensions):
        assert front.title.startswith("Seen from the ") and "None" not in front.title
        assert "scale" in front.scale
        markup = front_svg(front)
        assert f'aria-label="{front.title}"' in markup and "nan" not in markup and "None" not in markup
        assert len(markup) < 2500


@pytest.mark.parametrize(("kind", "number"), KINDS_AND_NUMBERS)
def test_its_lettering_stays_in_the_picture_and_apart(kind: str, number: int) -> None:
    details, dimensions = example(kind, number)
    for front in front_views(kind, details, dimensions):
        lettered = [shape for shape in front.shapes if isinstance(shape, Word)]
        for word in lettered:
            left, right = word.limits
            assert left >= 0 and right <= front.width and 12 < word.y < front.height, word
        for at, one in enumerate(lettered):
            for other in lettered[at + 1:]:
                beside = one.limits[1] <= other.limits[0] or other.limits[1] <= one.limits[0]
                assert beside or abs(one.y - other.y) >= 13, (one, other)


@pytest.mark.parametrize(("kind", "number"), KINDS_AND_NUMBERS)
def test_a_card_shows_the_question_as_a_square(kind: str, number: int) -> None:
    details, dimensions = example(kind, number)
    card = card_view(kind, details, dimensions)
    assert (card.width, card.height) == (84, 84) and not words_in(card)
    assert 'viewBox="0 0 84 84" aria-hidden="true"' in card_svg(card)


@pytest.mark.parametrize("former", FORMER, ids=[f"{one['kind']} {at}" for at, one in enumerate(FORMER)])
def test_what_was_kept_before_is_drawn_without_its_dimensions(former: dict[str, Any]) -> None:
    (front,) = front_views(former["kind"], [former["detail"]], None)
    assert front.shapes and front.title
    assert card_view(former["kind"], [former["detail"]], None).shapes


def test_the_same_is_drawn_with_and_without_dimensions_where_names_are_usual() -> None:
    details = demo_deck()
    no_window = {name: value for name, value in DECK.items() if name != "window"}
    with_them, without = front_views("deck", details, no_window)[1], front_views("deck", details, None)[1]
    assert with_them.shapes == without.shapes


def test_what_is_of_another_shape_raises() -> None:
    detail = deepcopy(demo_deck()[0])
    detail["drawing"]["items"][0]["x1"] = "left"
    with pytest.raises(Exception, match="drawing"):
        front_views("deck", [detail], DECK)


def test_the_bank_of_fronts_and_each_pull_lie_at_their_places() -> None:
    details, dimensions = example("pulls")
    front = front_views("pulls", details, dimensions)[0]
    kept = items(details[0], "rect", "front")
    drawn = boxes(front, "fw")
    scale = (drawn[1][2] - drawn[1][0]) / kept[1]["width"]
    for one, (left, top, right, bottom) in zip(kept, drawn, strict=True):
        assert right - left == pytest.approx(one["width"] * scale, abs=0.2)
        assert bottom - top == pytest.approx(one["height"] * scale, abs=0.2)
        assert left - drawn[0][0] == pytest.approx((one["x"] - kept[0]["x"]) * scale, abs=0.2)
    pulls = [shape for shape in front.shapes if isinstance(shape, Stroke) and shape.width == 5]
    middles = [one["y"] + one["height"] / 2 for one in items(details[0], "rect", "pull")]
    assert len(pulls) == len(middles)
    for one, path in zip(items(details[0], "rect", "pull"), pulls, strict=True):
        x = float(path.d[1:].split()[0])
        start = one["x"] if one["width"] > one["height"] else one["x"] + one["width"] / 2
        assert x - drawn[0][0] == pytest.approx((start - kept[0]["x"]) * scale, abs=0.2)
    assert words_in(front) == ["4 pulls, 8 holes"]


def test_the_sink_lies_off_the_window_by_what_the_layout_says() -> None:
    details, dimensions = example("centerline")
    for detail, front in zip(details, front_views("centerline", details, dimensions), strict=True):
        (glass,) = boxes(front, "fg")
        (cabinet,) = boxes(front, "fw")
        kept = items(detail, "rect", "cabinet")[0]
        scale = (cabinet[2] - cabinet[0]) / kept["width"]
        faucet = next(shape for shape in front.shapes if isinstance(shape, Stroke) and shape.width == 6)
        at = float(faucet.d[1:].split()[0])
        off = detail["layout"]["off_window"]["mm"]
        assert at - (glass[0] + glass[2]) / 2 == pytest.approx(off * scale, abs=0.2)
        said = words_in(front)[0]
        assert ("window" in said and "middle" in said) == (off == 0)


def test_an_overhang_reaches_as_far_as_it_is_kept() -> None:
    details, dimensions = example("overhang")
    for detail, front in zip(details, front_views("overhang", details, dimensions), strict=True):
        (top,), (cabinet,) = boxes(front, "fs"), boxes(front, "fw")
        whole = items(detail, "rect", "edge")[0]["height"]
        scale = (top[2] - top[0]) / whole
        assert cabinet[0] - top[0] == pytest.approx(detail["layout"]["overhang"]["mm"] * scale, abs=0.2)
        assert detail["layout"]["overhang"]["text"] in words_in(front)


def test_a_seam_lies_where_it_is_cut() -> None:
    details, dimensions = example("seam")
    for detail, front in zip(details, front_views("seam", details, dimensions), strict=True):
        (top,) = boxes(front, "fs")
        scale = (top[2] - top[0]) / items(detail, "rect", "edge")[0]["width"]
        seams = [float(shape.d[1:].split()[0]) for shape in front.shapes
                 if isinstance(shape, Stroke) and shape.width == 4]
        places = [mark["at"]["mm"] for mark in detail["layout"]["marks"]]
        assert [x - top[0] for x in seams] == pytest.approx([mm * scale for mm in places], abs=0.2)
        assert all(mark["at"]["text"] in words_in(front)[-1] for mark in detail["layout"]["marks"])


def test_a_mirror_hangs_over_its_counter_as_high_as_it_is_kept() -> None:
    details, dimensions = example("vanity")
    for detail, front in zip(details, front_views("vanity", details, dimensions), strict=True):
        (glass,), (top,) = boxes(front, "fg"), boxes(front, "fs")
        kept = detail["layout"]["mirror"]
        scale = (glass[3] - glass[1]) / (kept["top"]["mm"] - kept["bottom"]["mm"])
        counter = items(detail, "rect", "cabinet")[0]["height"]
        assert top[1] - glass[3] == pytest.approx((kept["bottom"]["mm"] - counter) * scale, abs=0.2)
        assert kept["bottom"]["text"] in front.title
        assert [word for word in words_in(front) if "eyes" in word]


def test_discs_are_holes_alone() -> None:
    for kind, number in KINDS_AND_NUMBERS:
        details, dimensions = example(kind, number)
        for front in front_views(kind, details, dimensions):
            assert kind == "deck" or not [shape for shape in front.shapes if isinstance(shape, Disc)]
