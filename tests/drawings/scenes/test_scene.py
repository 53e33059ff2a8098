"""A scene refuses what can't be cut or read, and knows its own limits."""

import math

import pytest

from portal.drawings.scenes.layers import PENS, Layer
from portal.drawings.scenes.scene import (
    Circle,
    Dimension,
    Label,
    Line,
    Polyline,
    Rect,
    Scene,
    SceneError,
    Side,
)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_coordinate_that_no_saw_can_follow_is_refused_by_name(bad: float) -> None:
    with pytest.raises(SceneError, match=r"Line\.x2"):
        Line(Layer.EDGE, 0, 0, bad, 1)


def test_a_negative_size_is_refused_by_name() -> None:
    with pytest.raises(SceneError, match=r"Circle\.diameter"):
        Circle(Layer.HOLE, 0, 0, -1)
    with pytest.raises(SceneError, match=r"Rect\.width"):
        Rect(Layer.EDGE, 0, 0, -1, 1)


def test_a_single_point_is_no_polyline() -> None:
    with pytest.raises(SceneError, match=r"Polyline\.points"):
        Polyline(Layer.EDGE, ((0, 0),))


def test_a_dimension_needs_a_direction() -> None:
    with pytest.raises(SceneError, match=r"Dimension\.side"):
        Dimension(0, 0, 1, 1, "1 in", Side.CENTER)


@pytest.mark.parametrize(("title", "description"), [("", "words"), ("words", " ")])
def test_a_drawing_without_words_is_refused(title: str, description: str) -> None:
    with pytest.raises(SceneError, match="description"):
        Scene(title, description, (Line(Layer.EDGE, 0, 0, 1, 1),))


def test_an_empty_drawing_is_refused() -> None:
    with pytest.raises(SceneError, match="items"):
        Scene("a", "b", ())


def test_limits_hold_everything_measured() -> None:
    items = (
        Rect(Layer.EDGE, 0, 0, 100, 50), Circle(Layer.HOLE, 0, 60, 20), Circle(Layer.FLANGE, 100, 0, 60),
        Label(-50, 10, "wall"),
    )  # fmt: skip
    limits = Scene("a", "b", items).bounds
    assert (limits.left, limits.bottom, limits.top) == (-50, -30, 70)
    assert math.isclose(limits.right, 130)


def test_every_layer_has_a_pen_and_no_two_dxf_names_are_equal() -> None:
    assert set(PENS) == set(Layer)
    assert len({layer.dxf_name for layer in Layer}) == len(Layer)


def test_lines_that_mean_different_things_differ_without_color() -> None:
    """Color is gone on a copier: edge, hidden parts, center lines and flanges differ in dashes or weight."""
    seen = [(PENS[x].weight, PENS[x].dashes) for x in (
        Layer.EDGE, Layer.UNDERNEATH, Layer.CENTER_LINE, Layer.FLANGE, Layer.CLEARANCE, Layer.SEAM, Layer.COVERED,
    )]  # fmt: skip
    assert len(set(seen)) == len(seen)
