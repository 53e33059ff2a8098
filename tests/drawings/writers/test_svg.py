"""The drawing on the page: valid, to scale, in words too, small, and free of anything from outside."""

import re
from xml.etree import ElementTree

import pytest

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Label, Line, Rect, Scene
from portal.drawings.writers.svg import svg
from tests.drawings.samples import HOLE, HOLE_XS, HOLE_Y, STRIP, deck_scene

NS = "{http://www.w3.org/2000/svg}"


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def group(root: ElementTree.Element, layer: Layer) -> ElementTree.Element:
    found = root.find(f".//{NS}g[@data-layer='{layer}']")
    assert found is not None
    return found


def test_the_drawing_has_a_role_a_title_and_a_description_that_it_refers_to() -> None:
    root = parsed(svg(deck_scene(), ident="d12"))
    assert root.get("role") == "img"
    title, desc = root[0], root[1]
    assert (title.tag, desc.tag) == (f"{NS}title", f"{NS}desc")
    assert root.get("aria-labelledby") == title.get("id") == "d12-t"
    assert root.get("aria-describedby") == desc.get("id") == "d12-d"
    assert title.text == "Three holes behind the sink"
    assert "2 in from the back" in (desc.text or "")


def test_read_back_in_mm_the_holes_are_where_the_scene_says() -> None:
    circles = group(parsed(svg(deck_scene())), Layer.HOLE).findall(f"{NS}circle")
    got = [(float(c.get("cx", "")), -float(c.get("cy", "")), 2 * float(c.get("r", ""))) for c in circles]
    assert got == [pytest.approx((x, HOLE_Y, HOLE), abs=0.002) for x in HOLE_XS]


def test_the_top_edge_is_drawn_at_the_same_scale_as_the_holes() -> None:
    path = group(parsed(svg(deck_scene())), Layer.EDGE).find(f"{NS}path")
    assert path is not None
    points = [tuple(map(float, p.split())) for p in re.findall(r"[ML]([-\d. ]+)", path.get("d", ""))]
    xs, ys = zip(*points, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(STRIP, abs=0.1)


def test_a_deck_takes_less_than_six_kilobytes() -> None:
    assert len(svg(deck_scene(), alone=True).encode()) < 6 * 1024


def test_lettering_is_at_least_eleven_pixels_on_a_phone_320_wide() -> None:
    root = parsed(svg(deck_scene()))
    width = float(root.get("viewBox", "").split()[2])
    sizes = [float(g.get("font-size", "")) for g in root.iter(f"{NS}g") if g.get("font-size")]
    assert sizes and min(sizes) * 320 / width >= 11


def test_nothing_is_drawn_outside_the_picture() -> None:
    root = parsed(svg(deck_scene()))
    left, top, width, height = map(float, root.get("viewBox", "").split())
    for circle in root.iter(f"{NS}circle"):
        x, y, r = (float(circle.get(k, "")) for k in ("cx", "cy", "r"))
        assert left < x - r < x + r < left + width
        assert top < y - r < y + r < top + height


def test_on_a_page_it_takes_the_colors_of_the_page() -> None:
    text = svg(deck_scene())
    assert "#" not in text and "<style" not in text
    assert 'stroke="currentColor"' in text


def test_as_a_file_it_brings_colors_for_both_schemes() -> None:
    text = svg(deck_scene(), alone=True)
    assert "prefers-color-scheme:dark" in text and "background:#fff" in text


@pytest.mark.parametrize("alone", [True, False])
def test_it_asks_nobody_for_anything(alone: bool) -> None:
    text = svg(deck_scene(), alone=alone).replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert not re.search(r"href|url\(|http|<script|<image|@import", text)


def test_words_from_people_stay_words() -> None:
    hostile = '</title><script>alert("1")</script>&\x00'
    scene = Scene(hostile, hostile, (Rect(Layer.EDGE, 0, 0, 10, 10), Label(5, 5, hostile)))
    root = parsed(svg(scene))
    assert not list(root.iter(f"{NS}script"))
    assert root[0].text == hostile.replace("\x00", "")


def test_every_kind_of_thing_leaves_a_mark() -> None:
    items = (
        Line(Layer.SEAM, 0, 0, 100, 0), Rect(Layer.CUT_OUT, 10, 10, 50, 30, radius=5),
        Circle(Layer.COVERED, 80, 20, 10),
    )  # fmt: skip
    root = parsed(svg(Scene("a", "b", items)))
    for item in items:
        assert len(group(root, item.layer)) == 1
