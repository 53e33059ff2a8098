"""The full-size pages, measured in the file with pdfplumber, and the sheets that they are spread over."""

import io
from functools import cache

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Circle, Dimension
from portal.drawings.sheets.paper import Paper
from portal.drawings.sheets.parts import holes_of, template_parts
from portal.drawings.sheets.tiles import OVERLAP, tile
from portal.drawings.writers.pdf import pdf
from tests.drawings.samples import HOLE, HOLE_XS, approved_sheet, deck_scene

MM = 25.4 / 72
PAPERS = st.sampled_from(list(Paper))
SIDES = st.floats(20, 1000)


@cache
def template_pages(paper: Paper) -> list[pdfplumber.page.Page]:
    data = pdf(approved_sheet(), deck_scene(), paper)
    pages = pdfplumber.open(io.BytesIO(data)).pages
    return [p for p in pages if "Full size. " in p.extract_text()]


def circles(page: pdfplumber.page.Page) -> list[tuple[float, float, float, float]]:
    """(x, y, width, height) in mm of every curve that is as wide as it is high, wherever the page clips it."""
    found = []
    for c in page.curves:
        width, height = (c["x1"] - c["x0"]) * MM, (c["y1"] - c["y0"]) * MM
        if abs(width - height) < 0.05 and width > 10:
            found.append(((c["x0"] + c["x1"]) / 2 * MM, (c["y0"] + c["y1"]) / 2 * MM, width, height))
    return found


@pytest.mark.parametrize("paper", Paper)
def test_holes_at_full_size_have_the_stated_diameter_within_a_tenth(paper: Paper) -> None:
    got = [c for page in template_pages(paper) for c in circles(page) if abs(c[2] - HOLE) < 3]
    assert len(got) >= 3
    assert all(abs(w - HOLE) < 0.1 and abs(h - HOLE) < 0.1 for _, _, w, h in got)


@pytest.mark.parametrize("paper", Paper)
def test_holes_on_one_page_are_as_far_apart_as_in_the_scene(paper: Paper) -> None:
    scene = deck_scene()
    (page, *rest) = template_pages(paper)
    xs = sorted(c[0] for c in circles(page) if abs(c[2] - HOLE) < 1)
    assert len(xs) == len(holes_of(scene))  # the file draws all; the page shows its part
    assert xs[1] - xs[0] == pytest.approx(HOLE_XS[1] - HOLE_XS[0], abs=0.1)
    assert xs[2] - xs[0] == pytest.approx(HOLE_XS[2] - HOLE_XS[0], abs=0.1)


@pytest.mark.parametrize("paper", Paper)
def test_both_check_bars_are_on_every_full_size_page_and_true(paper: Paper) -> None:
    for page in template_pages(paper):
        along = [abs(x["x1"] - x["x0"]) * MM for x in page.lines if abs(x["y1"] - x["y0"]) < 0.01]
        upward = [abs(x["y1"] - x["y0"]) * MM for x in page.lines if abs(x["x1"] - x["x0"]) < 0.01]
        assert min(abs(x - 100) for x in along) < 0.1
        assert min(abs(y - 101.6) for y in upward) < 0.1
        words = page.extract_text()
        assert "100 mm" in words and "Measure both bars" in words


@pytest.mark.parametrize("paper", Paper)
def test_pages_have_the_size_of_their_paper(paper: Paper) -> None:
    for page in template_pages(paper):
        assert sorted((page.width * MM, page.height * MM)) == pytest.approx(paper.value, abs=0.01)


@pytest.mark.parametrize("paper", Paper)
def test_every_hole_is_whole_on_some_page_and_says_what_it_is(paper: Paper) -> None:
    (part,) = template_parts(deck_scene())
    holes, region = holes_of(deck_scene()), part.region
    tiling = tile(region, paper, holes)
    shown = [box(t.box.left, t.box.bottom, t.box.right, t.box.top) for t in tiling.tiles]
    for hole in holes:
        (x0, y0), (x1, y1) = hole.limits()
        assert any(s.covers(box(x0, y0, x1, y1)) for s in shown)
    words = " ".join(p.extract_text() for p in template_pages(paper))
    assert all(f"{name}: 1-3/8 in" in words for name in "ABC")


@settings(max_examples=60, deadline=None)
@given(SIDES, SIDES, PAPERS)
def test_sheets_cover_the_region_and_neighbours_overlap(width: float, height: float, paper: Paper) -> None:
    region = Box(-17.0, 5.0, -17.0 + width, 5.0 + height)
    tiling = tile(region, paper)
    shown = [box(t.box.left, t.box.bottom, t.box.right, t.box.top) for t in tiling.tiles]
    assert unary_union(shown).buffer(1e-6).covers(box(region.left, region.bottom, region.right, region.top))
    for one in tiling.tiles:
        for other in tiling.tiles:
            if (other.column, other.row) == (one.column + 1, one.row):
                assert one.box.right - other.box.left == pytest.approx(OVERLAP)
            if (other.column, other.row) == (one.column, one.row + 1):
                assert other.box.top - one.box.bottom == pytest.approx(OVERLAP)


@settings(max_examples=40, deadline=None)
@given(SIDES, SIDES, PAPERS)
def test_a_join_is_at_the_same_place_of_the_scene_on_both_its_sheets(w: float, h: float, paper: Paper) -> None:
    joins: dict[str, list[tuple[tuple[float, float], tuple[float, float]]]] = {}
    tiling = tile(Box(0, 0, w, h), paper)
    for part in tiling.tiles:
        for join in part.joins:
            joins.setdefault(join.name, []).append(join.marks)
            inside = Polygon(box(part.box.left, part.box.bottom, part.box.right, part.box.top))
            assert all(inside.covers(box(x, y, x, y)) for x, y in join.marks)
    assert len(joins) == tiling.rows * (tiling.columns - 1) + tiling.columns * (tiling.rows - 1)
    for first, second in joins.values():
        assert first[0] == pytest.approx(second[0]) and first[1] == pytest.approx(second[1])


def test_the_paper_is_turned_so_that_it_takes_the_fewest_sheets() -> None:
    assert len(tile(Box(0, 0, 235, 150), Paper.LETTER).tiles) == 1
    assert len(tile(Box(0, 0, 150, 220), Paper.LETTER).tiles) == 1


def test_a_hole_on_a_join_moves_the_sheets() -> None:
    """Two sheets with room to spare: wherever the hole is, one of them shows it whole."""
    for x in range(40, 360, 10):
        hole = Circle(Layer.HOLE, x, 50, 38.1)
        tiling = tile(Box(0, 0, 400, 100), Paper.LETTER, [hole])
        assert any(t.box.left <= x - 19.05 and x + 19.05 <= t.box.right for t in tiling.tiles)


def test_dimension_lines_stay_off_the_full_size_pages() -> None:
    words = [d.text for d in deck_scene().items if isinstance(d, Dimension)]
    assert words
    for page in template_pages(Paper.LETTER):
        assert "12.5 in" not in page.extract_text()
