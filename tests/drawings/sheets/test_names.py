"""On a template every line has its name, on paper and clear of the holes; no line of the paper looks like an edge."""

import io
import math
from functools import cache

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Center, Circle, Line, Rect, Scene
from portal.drawings.sheets.edges import Edge, edges_of, front_edges, laid_on
from portal.drawings.sheets.names import names_on
from portal.drawings.sheets.paper import Paper
from portal.drawings.sheets.parts import template_parts
from portal.drawings.sheets.template import template_scene
from portal.drawings.sheets.tiles import Spot, Tiling, tile
from portal.drawings.writers.pdf import pdf
from portal.layouts import deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.kinds import lay_out
from tests.drawings.samples import approved_sheet
from tests.layouts.decks import deck_json
from tests.layouts.pulls.test_layout import found

NEW = deck.layouts(deck.from_json(deck_json()))
FRONT = Rect(Layer.FRONT, 0, 0, 400, 200)


@cache
def template_words(paper: Paper = Paper.LETTER) -> str:
    made = pdf(approved_sheet(), drawn(NEW[0]).scene, paper)
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(made)).pages[1:])


def tiling_of(layout: DeckLayout, paper: Paper) -> Tiling:
    (part,) = template_parts(drawn(layout).scene)
    return tile(part.region, paper, part.holes)


@pytest.mark.parametrize("words", [
    "face of the splash or wall finish: fold here, up the wall", "middle of the cut-out", "base: don't drill",
    "drill 1-3/8 in", "up: to the wall", "clip, below: goes on past this page", "Dotted: where each center may lie",
    "Lay each line on the real one: back edge of the cut-out; middle of the cut-out (mark it first).",
])  # fmt: skip
def test_a_template_of_a_top_names_its_lines_holes_and_what_it_is_laid_on(words: str) -> None:
    assert words in template_words()


def test_what_is_not_drilled_never_says_that_it_is() -> None:
    for item in drawn(NEW[0]).scene.items:
        if isinstance(item, Circle):
            assert ("don't drill" in item.note) == (item.layer is Layer.FLANGE)


def test_the_hole_is_bold_and_the_base_about_it_thin() -> None:
    page = pdfplumber.open(io.BytesIO(pdf(approved_sheet(), drawn(NEW[0]).scene))).pages[-1]
    rounds = [c for c in page.curves if abs((c["x1"] - c["x0"]) - (c["y1"] - c["y0"])) < 0.1 and c["x1"] - c["x0"] > 30]
    holes = {c["linewidth"] for c in rounds if abs((c["x1"] - c["x0"]) * 25.4 / 72 - 34.925) < 0.1}
    others = {c["linewidth"] for c in rounds if (c["x1"] - c["x0"]) * 25.4 / 72 > 40}
    assert holes and others and min(holes) > 2 * max(others)


def test_the_paper_has_gray_corners_and_no_frame() -> None:
    """A frame of black lines was taken for the edge of the front."""
    for page in pdfplumber.open(io.BytesIO(pdf(approved_sheet(), drawn(found()[0]).scene))).pages[1:]:
        inside = [r for r in page.rects if r["stroke"] and r["x0"] > 0 and r["y0"] > 0]
        frames = [r for r in inside if r["width"] > page.width * 0.7 and r["height"] > page.height * 0.5]
        assert frames == []
        gray = [line for line in page.lines if line["stroking_color"] not in ((0,), 0, None)]
        assert len(gray) >= 8


def test_cut_lines_are_unbroken_and_what_is_below_is_dashed() -> None:
    holes = Center(Layer.HOLE, 60, 100, "x, hole 1"), Center(Layer.HOLE, 340, 100, "x, hole 2")
    scene = Scene("a", "b", (FRONT, *holes))
    pages = pdfplumber.open(io.BytesIO(pdf(approved_sheet(), scene))).pages[1:]
    assert len(pages) == 2
    for page in pages:
        (cut,) = [i for i in page.lines if i["x0"] == i["x1"] and i["height"] > page.height / 2 and i["linewidth"] < 1
                  and i["stroking_color"] not in ((0,), 0)]
        assert not (cut["dash"] or ([], 0))[0]


def test_a_front_names_its_edges_and_is_laid_on_the_nearest_by_name() -> None:
    edges = front_edges(FRONT, "front B")
    assert [edge.name for edge in edges] == [
        "top edge of front B", "bottom edge of front B", "left side of front B", "right side of front B",
        "middle of front B"]
    assert laid_on(edges, Box(-5, 50, 150, 205)) == (
        "Lay each line on the real one: top edge of front B; left side of front B.")
    assert laid_on(edges, Box(100, 50, 300, 205)).endswith("top edge of front B; middle of front B (mark it first).")
    assert laid_on(edges, Box(10, 10, 20, 20)) == ""


def test_lines_kept_before_they_had_names_get_the_name_of_what_they_are() -> None:
    (left, *_) = edges_of([Rect(Layer.CUT_OUT, 0, 0, 10, 10)])
    assert left.name == "edge of the cut-out"


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(NEW), st.sampled_from(list(Paper)))
def test_no_name_covers_a_hole_or_runs_off_its_page(layout: DeckLayout, paper: Paper) -> None:
    scene = drawn(layout).scene
    (part,) = template_parts(scene)
    full = template_scene(scene, part)[0]
    holes = [i for i in full.only(Layer.HOLE) if isinstance(i, Circle)]
    for one in tiling_of(layout, paper).tiles:
        for name in names_on(one.box, full.items, part.edges(scene), []):
            box = name.box
            assert one.box.left <= box.left and box.right <= one.box.right, name.text
            assert one.box.bottom <= box.bottom and box.top <= one.box.top, name.text
            for hole in holes:
                (x0, y0), (x1, y1) = hole.limits()
                assert box.right <= x0 or x1 <= box.left or box.top <= y0 or y1 <= box.bottom, name.text


def test_what_is_said_of_a_bar_keeps_off_a_round_pipe_that_the_bar_runs_through() -> None:
    pipe = Rect(Layer.UNDERNEATH, 60, 12, 76, 76, 38)
    datum = Line(Layer.DATUM, 0, 0, 240, 0)
    bar = Edge(Layer.DIMENSION, "A to B: 8-7/8 in (225.425 mm)", 0, 78, 240, 78)
    (name,) = names_on(Box(-10, -10, 250, 100), [datum, pipe], [bar], [])
    box = name.box
    near = [math.hypot(x - 98, y - 50) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    assert min(near) > 38 and not box.left < 98 < box.right


def test_the_name_of_a_line_that_is_shorter_than_its_name_stays_on_the_page() -> None:
    short = Edge(Layer.CUT_OUT, "edge of the sink cut-out", 100, -20, 100, 5)
    page = Box(0, 0, 200, 200)
    (name,) = names_on(page, [Line(Layer.DATUM, 0, 100, 200, 100), Rect(Layer.CUT_OUT, 0, -300, 100, 305, 10)],
                       [short], [])
    assert page.bottom <= name.box.bottom and name.box.top <= page.top


def test_a_cut_off_line_is_named_once_on_each_page() -> None:
    sides = edges_of([Rect(Layer.UNDERNEATH, 20, 20, 30, 30, note="clip, below")])
    assert [name.text for name in names_on(Box(0, 0, 200, 200), [], sides, [])] == ["clip, below"]
    assert names_on(Box(100, 100, 200, 200), [], sides, []) == []
    assert not Edge(Layer.EDGE, "far", 0, 0, 0, 10).within(Box(5, 0, 10, 10))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(30, 470), min_size=1, max_size=3), st.sampled_from(list(Paper)))
def test_no_joint_runs_through_a_hole(xs: list[float], paper: Paper) -> None:
    """Holes of 38 mm leave room for a joint wherever they are: a row of sheets may take one more."""
    holes = [Circle(Layer.HOLE, x, 50, 38.1) for x in xs]
    for one in tile(Box(0, 0, 500, 100), paper, holes).tiles:
        for join in one.joins:
            assert all(abs(hole.x - join.line[0]) > 19.05 for hole in holes)


def test_no_joint_runs_along_the_middle_of_a_front() -> None:
    middle = Spot(200.0, float("inf"), 8.0)
    tiling = tile(Box(0, 0, 400, 100), Paper.LETTER, [], beside=[middle])
    assert all(abs(join.line[0] - 200.0) >= 8.0 for one in tiling.tiles for join in one.joins)


def test_the_holes_of_the_demo_are_on_one_sheet() -> None:
    from portal.demo.dimensions import DECK

    for layout in lay_out("deck", DECK):
        assert isinstance(layout, DeckLayout)
        assert len(tiling_of(layout, Paper.LETTER).tiles) == len(tiling_of(layout, Paper.A4).tiles) == 1
