"""What a page shows in part: a zone that runs off it is closed where the page ends."""

from portal.drawings.scenes.cut_off import cut_to
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Polyline, Rect, Scene
from portal.drawings.sheets.template import closed_at

PAGE = Box(0, 0, 100, 50)


def test_an_outline_inside_the_page_stays_as_it_is() -> None:
    inside = ((10.0, 10.0), (40.0, 10.0), (40.0, 20.0))
    assert cut_to(inside, PAGE) == inside


def test_an_outline_that_runs_off_the_page_is_closed_where_the_page_ends() -> None:
    wide = ((-200.0, 10.0), (60.0, 10.0), (60.0, 20.0), (-200.0, 20.0))
    assert sorted((round(x, 6), y) for x, y in cut_to(wide, PAGE)) == [(0, 10), (0, 20), (60, 10), (60, 20)]


def test_a_page_closes_its_zones_and_leaves_all_else_as_it_is() -> None:
    square = ((-10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (-10.0, 20.0))
    away = tuple((x + 500, y) for x, y in square)
    base, pull = Rect(Layer.FLANGE, -10, 0, 20, 20), Polyline(Layer.PULL, square)
    shown = closed_at(Scene("t", "d", (base, Polyline(Layer.ZONE, square, closed=True), pull,
                                       Polyline(Layer.ZONE, away, closed=True))), PAGE)
    assert [item for item in shown.items if item.layer is not Layer.ZONE] == [base, pull]
    (zone,) = shown.only(Layer.ZONE)
    assert isinstance(zone, Polyline) and zone.closed and 0 < min(x for x, _ in zone.points) < 1
