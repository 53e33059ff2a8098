"""A bank of fronts is drilled front by front: a template each, one for all that are alike, measured in the file."""

import io

import pdfplumber
import pytest
from shapely.geometry import box

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Center, Circle, Rect, Scene
from portal.drawings.sheets.paper import Paper
from portal.drawings.sheets.parts import holes_of, template_parts
from portal.drawings.sheets.template import template_scene
from portal.drawings.sheets.tiles import tile
from portal.drawings.writers.pdf import pdf
from tests.drawings.samples import approved_sheet, deck_scene
from tests.layouts.pulls.test_layout import found

MM = 25.4 / 72
BANK = drawn(found()[0]).scene


def front(x: float, y: float, width: float = 400.0, holes: tuple[float, ...] = (120.0, 280.0)) -> list[Rect | Center]:
    return [Rect(Layer.FRONT, x, y, width, 200.0), *(Center(Layer.HOLE, x + at, y + 100.0, "hole") for at in holes)]


def bank(*fronts: list[Rect | Center]) -> Scene:
    return Scene("fronts", "fronts", tuple(item for items in fronts for item in items))


def texts(scene: Scene, paper: Paper = Paper.LETTER) -> list[str]:
    return [page.extract_text() for page in pdfplumber.open(io.BytesIO(pdf(approved_sheet(), scene, paper))).pages]


def test_a_top_is_one_template_without_a_front() -> None:
    (part,) = template_parts(deck_scene())
    assert part.name == "" and len(part.holes) == 3


def test_each_front_has_its_own_template_that_shows_its_own_holes() -> None:
    parts = template_parts(BANK)
    assert sum(len(part.holes) for part in parts) == len(holes_of(BANK))
    for part in parts:
        shown = box(part.region.left, part.region.bottom, part.region.right, part.region.top)
        assert all(shown.covers(box(*a, *b)) for a, b in (hole.limits() for hole in part.holes))


def test_a_template_of_a_front_reaches_the_edge_and_the_line_that_it_is_laid_on() -> None:
    holes = [Center(Layer.HOLE, x, 500, "hole") for x in (250, 350)]
    tall = [Rect(Layer.FRONT, 0, 0, 900, 800), *holes]
    (part,) = template_parts(bank(tall))
    assert part.region.top == 805.0 and part.region.bottom > 400
    assert part.region.right == 455.0 and part.region.left > 0, "the middle is nearer than the left edge"


def test_fronts_of_one_size_drilled_alike_share_a_template() -> None:
    others = front(410, 0, 500.0), front(0, 420), front(920, 0, holes=(120.0, 281.0))
    names = [part.name for part in template_parts(bank(front(0, 0), front(0, 210), *others))]
    assert names == ["fronts A, B and D", "front C", "front E"]


def test_a_hole_outside_every_front_makes_it_one_piece() -> None:
    scene = bank(front(0, 0), [Center(Layer.HOLE, 900.0, 0.0, "hole")])
    (part,) = template_parts(scene)
    assert part.name == "" and len(part.holes) == 3


@pytest.mark.parametrize("paper", Paper)
def test_a_wide_bank_gets_templates_with_bars_joins_and_middles_of_their_own(paper: Paper) -> None:
    far = bank(front(0, 0, holes=(60.0, 340.0)), front(3000, 0, 500.0, (100.0, 400.0)))
    pages = [page for page in pdfplumber.open(io.BytesIO(pdf(approved_sheet(), far, paper))).pages
             if "Full size, front" in page.extract_text()]
    assert {text.partition("Full size, ")[2][:7] for text in (page.extract_text() for page in pages)} == {
        "front A", "front B"}
    for page in pages:
        along = [abs(x["x1"] - x["x0"]) * MM for x in page.lines if abs(x["y1"] - x["y0"]) < 0.01]
        assert min(abs(x - 100) for x in along) < 0.1
    words = " ".join(page.extract_text() for page in pages)
    assert "A-J1" in words and "B-J1" in words


def test_a_template_shows_no_hole_of_the_front_beside_it() -> None:
    near = bank(front(0, 0, holes=(200.0,)), front(402, 0, 410.0, (20.0,)))
    shown = [[i for i in template_scene(near, part)[0].items if isinstance(i, Center)]
             for part in template_parts(near)]
    assert [[hole.x for hole in holes] for holes in shown] == [[200.0], [422.0]]


def test_joins_of_two_templates_never_share_a_name() -> None:
    names = [join.name for part in template_parts(BANK)
             for join in {j.name: j for t in tile(part.region, Paper.A4, part.holes, f"{part.fronts[0]}-").tiles
                          for j in t.joins}.values()]
    assert names and len(names) == len(set(names))


def test_a_front_whose_holes_are_too_far_apart_is_named_and_the_others_are_printed() -> None:
    scene = bank(front(0, 0), [Rect(Layer.FRONT, 0, 300, 4000, 1600), Circle(Layer.HOLE, 9, 310, 5),
                               Circle(Layer.HOLE, 3900, 1800, 5)])
    first, *others = texts(scene)
    assert "There is none for front B: measure each hole." in first and others


def test_more_sheets_than_anyone_prints_are_left_to_the_numbers() -> None:
    many = bank(*(front(500 * n, 0, 400.0 + n, (60.0, 340.0)) for n in range(24)))
    assert any("more than 40 sheets" in text for text in texts(many))
    assert not any("Full size, front" in text for text in texts(many))
