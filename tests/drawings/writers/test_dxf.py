"""The fabricator's file, read back with ezdxf: clean, in mm, each hole where and as wide as the scene says."""

import io

import ezdxf
import pytest
from ezdxf.document import Drawing

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Center, Circle, Label, Line, Polyline, Rect, Scene
from portal.drawings.writers.dxf import dxf
from tests.drawings.samples import HOLE, HOLE_XS, HOLE_Y, STRIP, deck_scene


def read(data: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def words(data: bytes) -> set[str]:
    return {text.dxf.text for text in read(data).modelspace().query("TEXT")}


def test_the_auditor_finds_nothing() -> None:
    audit = read(dxf(deck_scene(), ["12 Elm Street", "decision 4, revision 2"])).audit()
    assert not audit.errors and not audit.fixes


def test_it_says_that_it_is_in_millimetres() -> None:
    """$INSUNITS 4 is millimetres, $MEASUREMENT 1 metric: DXF reference, header variables; read back by ezdxf."""
    document = read(dxf(deck_scene()))
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)


def test_holes_are_circles_with_their_own_center_and_radius() -> None:
    found = read(dxf(deck_scene())).modelspace().query('CIRCLE[layer=="HOLE"]')
    got = [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in found]
    assert got == [pytest.approx((x, HOLE_Y, HOLE / 2), abs=1e-9) for x in HOLE_XS]


def test_the_top_is_one_closed_outline_of_its_own_size() -> None:
    (edge,) = read(dxf(deck_scene())).modelspace().query('LWPOLYLINE[layer=="EDGE"]')
    xs, ys = zip(*edge.get_points("xy"), strict=True)
    assert edge.closed
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(STRIP, abs=1e-9)


def test_rounded_corners_are_true_arcs() -> None:
    scene = Scene("a", "b", (Rect(Layer.CUT_OUT, 0, 0, 400, 300, radius=25),))
    (outline,) = read(dxf(scene)).modelspace().query("LWPOLYLINE")
    arcs = [e for e in outline.virtual_entities() if e.dxftype() == "ARC"]
    assert [round(a.dxf.radius, 9) for a in arcs] == [25.0] * 4
    centers = {(round(a.dxf.center.x), round(a.dxf.center.y)) for a in arcs}
    assert centers == {(25, 25), (375, 25), (375, 275), (25, 275)}


def test_only_what_is_drawn_has_a_layer_and_every_thing_is_on_one() -> None:
    document = read(dxf(deck_scene()))
    names = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
    assert names == {"EDGE", "WALL", "CUT_OUT", "HOLE", "FLANGE", "HATCH", "DIMENSION", "LABEL", "CENTER_LINE"}
    assert {e.dxf.layer for e in document.modelspace()} <= names


def test_the_words_are_in_the_file_in_any_script() -> None:
    scene = Scene("a", "b", (Line(Layer.EDGE, 0, 0, 500, 0), Label(0, 0, "ściana")))
    assert {"ściana", "House of Łucja Nguyễn"} <= words(dxf(scene, ["House of Łucja Nguyễn"]))


def test_it_says_its_unit_and_whether_the_outline_is_closed() -> None:
    open_top = Scene("a", "b", (Line(Layer.EDGE, 0, 0, 500, 0),))
    assert "Unit: millimeter. 1 drawing unit = 1 mm." in words(dxf(open_top))
    assert any("not closed" in text for text in words(dxf(open_top)))
    assert not any("not closed" in text for text in words(dxf(deck_scene())))


def test_what_is_not_approved_is_on_no_layer_that_a_program_cuts() -> None:
    document = read(dxf(deck_scene(), barred="NOT_APPROVED"))
    layers = {entity.dxf.layer for entity in document.modelspace()}
    assert {"HOLE_NOT_APPROVED", "CUT_OUT_NOT_APPROVED", "EDGE_NOT_APPROVED"} <= layers
    assert not {"HOLE", "CUT_OUT", "EDGE", "SEAM"} & {layer.dxf.name for layer in document.layers}
    assert len(document.modelspace().query('CIRCLE[layer=="HOLE_NOT_APPROVED"]')) == 3
    assert not document.audit().errors


def test_a_hole_of_a_pull_is_a_circle_where_its_drill_is_known() -> None:
    holes = (Center(Layer.HOLE, 10, 20, drill=4.7625), Center(Layer.HOLE, 170, 20))
    file = dxf(Scene("a", "b", holes))
    (circle,) = read(file).modelspace().query('CIRCLE[layer=="HOLE"]')
    assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius * 2) == (10, 20, 4.7625)
    assert any("drill size from the maker" in text for text in words(file))


def test_every_kind_of_thing_arrives_as_its_own_kind() -> None:
    items = (
        Line(Layer.SEAM, 0, 0, 100, 0), Polyline(Layer.FRONT, ((0, 0), (10, 0), (10, 10)), closed=True),
        Circle(Layer.COVERED, 80, 20, 10),
    )  # fmt: skip
    space = read(dxf(Scene("a", "b", items))).modelspace()
    assert sorted(e.dxftype() for e in space if e.dxftype() != "TEXT") == ["CIRCLE", "LINE", "LWPOLYLINE"]
    (circle,) = space.query("CIRCLE")
    assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius) == (80, 20, 5)


def test_the_same_scene_gives_the_same_bytes() -> None:
    assert dxf(deck_scene()) == dxf(deck_scene())
