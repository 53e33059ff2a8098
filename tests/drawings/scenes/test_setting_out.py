"""Words and dimension lines find places where they can be read, whatever the size of the lettering."""

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from portal.drawings.scenes.hatching import hatch_lines
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Dimension, Item, Label, Rect, Scene, Side
from portal.drawings.scenes.setting_out import set_out, width_of
from tests.drawings.samples import deck_scene

SIDES = st.sampled_from([Side.ABOVE, Side.BELOW, Side.LEFT, Side.RIGHT])
SPANS = st.lists(st.tuples(st.integers(0, 1000), st.integers(1, 400), SIDES), min_size=1, max_size=8)


def scene_of(spans: list[tuple[int, int, Side]]) -> Scene:
    items: list[Item] = [Rect(Layer.EDGE, 0, 0, 1400, 1400)]
    for low, length, side in spans:
        text = f"{length} mm"
        if side in (Side.ABOVE, Side.BELOW):
            items.append(Dimension(low, 700, low + length, 700, text, side))
        else:
            items.append(Dimension(700, low, 700, low + length, text, side))
    return Scene("dimensions", "dimensions", tuple(items))


@settings(max_examples=60, deadline=None)
@given(SPANS, st.sampled_from([10.0, 40.0, 90.0]))
def test_no_two_dimension_texts_ever_touch(spans: list[tuple[int, int, Side]], text: float) -> None:
    plan = set_out(scene_of(spans), text)
    boxes = [box(b.left, b.bottom, b.right, b.top) for b in (w.box(text) for w in plan.words)]
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))


@settings(max_examples=40, deadline=None)
@given(SPANS, st.sampled_from([10.0, 90.0]))
def test_everything_set_out_lies_inside_the_stated_box(spans: list[tuple[int, int, Side]], text: float) -> None:
    plan = set_out(scene_of(spans), text)
    limits = plan.box.grown(1e-6)
    for x, y in [point for stroke in plan.strokes for point in stroke.limits()]:
        assert limits.left <= x <= limits.right
        assert limits.bottom <= y <= limits.top
    for words in (w.box(text) for w in plan.words):
        assert limits.left <= words.left <= words.right <= limits.right


def test_words_that_fit_break_the_line_and_words_that_do_not_stand_beside_it() -> None:
    plan = set_out(scene_of([(100, 300, Side.BELOW), (600, 10, Side.BELOW)]), 20.0)
    wide, narrow = sorted(plan.words, key=lambda w: w.x)
    assert wide.x == 250
    assert narrow.x - width_of(narrow.text, 20.0) / 2 > 610


def test_dimension_lines_end_exactly_at_what_they_measure() -> None:
    plan = set_out(scene_of([(100, 300, Side.ABOVE)]), 20.0)
    level = [s for s in plan.strokes if s.y1 == s.y2]
    assert {min(s.x1 for s in level), max(s.x2 for s in level)} == {100, 400}


@pytest.mark.parametrize("side", [Side.ABOVE, Side.BELOW])
def test_a_label_stands_clear_of_its_point(side: Side) -> None:
    scene = Scene("a", "b", (Rect(Layer.EDGE, 0, 0, 100, 100), Label(50, 50, "A", side)))
    words = set_out(scene, 10.0).words[0].box(10.0)
    assert words.bottom > 50 if side is Side.ABOVE else words.top < 50


def test_the_same_scene_is_set_out_in_the_same_way_every_time() -> None:
    assert set_out(deck_scene(), 30.0) == set_out(deck_scene(), 30.0)


SHAPES = st.lists(st.tuples(st.integers(0, 400), st.integers(0, 400)), min_size=3, max_size=3, unique=True)


@settings(max_examples=60, deadline=None)
@given(SHAPES)
def test_hatch_lines_stay_inside_their_outline(points: list[tuple[int, int]]) -> None:
    """shapely is the independent judge of what lies inside."""
    inside = Polygon(points).buffer(1e-6)
    for a, b in hatch_lines(tuple(points), 17.0):
        assert inside.covers(LineString([a, b])) or math.dist(a, b) < 1e-6


def test_hatch_lines_of_a_square_are_as_long_as_geometry_says() -> None:
    lines = hatch_lines(((0, 0), (100, 0), (100, 100), (0, 100)), 20.0)
    assert len(lines) == 10
    assert max(math.dist(a, b) for a, b in lines) == pytest.approx(90 * math.sqrt(2))
