"""The machine's file of every kind, read by a reader of its own: it holds what was given or computed, at its true
place, and what is only for the eye is on a layer that says so."""

import io
import json
from math import hypot
from pathlib import Path

import ezdxf
import pytest

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Label, Line, Rect, Scene
from portal.drawings.sheets.kept_sheet import machine_scene
from portal.drawings.writers.dxf import dxf
from portal.layouts.layout import Layout
from portal.words.drawn.sheet_words import NOT_TO_SCALE
from tests.drawings.decks import NEW, fullest, long_layouts
from tests.drawings.samples import sheet_of
from tests.drawings.scenes.test_scenes import OFF, OUT, PULLS, SEAMS
from tests.drawings.writers.group_codes import Entity, entities, header, layers
from tests.layouts.seam import test_layout as runs

CUT = {"HOLE", "CUT_OUT", "EDGE", "SEAM"}
DECK = fullest([layout for layout in NEW if layout.faucet_holes == 1])
FORMER = Path(__file__).parents[1] / "former"
WITH_DEPTH = [cutout | {"from_front": "3 in", "depth": "18 in"} for cutout in runs.RUN["cutouts"]]
WHOLE = [cutout | {"corner_radius": "1 in"} for cutout in WITH_DEPTH]


def file_of(layout: Layout) -> bytes:
    return dxf(drawn(layout).for_machine, sheet_of(layout).notes())


def on(data: bytes, layer: str) -> list[Entity]:
    return [entity for entity in entities(data) if entity.layer == layer]


def box(entity: Entity) -> tuple[float, float, float, float]:
    xs, ys = zip(*entity.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def words(data: bytes) -> set[str]:
    return {entity.values[1][0] for entity in entities(data) if entity.kind == "TEXT"}


@pytest.mark.parametrize("layout", [DECK, long_layouts()[0], OFF[0], OUT[0], SEAMS[0], PULLS[0]])
def test_the_header_says_how_far_all_of_it_reaches_and_its_unit(layout: Layout) -> None:
    """$INSUNITS 4 is millimeters, $MEASUREMENT 1 metric: DXF reference, HEADER section."""
    data = file_of(layout)
    told = header(data)
    assert told["$INSUNITS"] == [4.0] or told["$INSUNITS"] == ["4"]
    assert told["$MEASUREMENT"] in ([1.0], ["1"])
    low, high = told["$EXTMIN"], told["$EXTMAX"]
    assert (told["$LIMMIN"], told["$LIMMAX"]) == (low[:2], high[:2])
    xs, ys = zip(*(point for entity in entities(data) for point in entity.points), strict=True)
    left, bottom, right, top = float(low[0]), float(low[1]), float(high[0]), float(high[1])
    assert left <= min(xs) and bottom <= min(ys) and right >= max(xs) and top >= max(ys)
    assert right - left < 3 * (max(xs) - min(xs)), "words under the drawing may be long, but not endless"


@pytest.mark.parametrize("layout", [DECK, OFF[0], OUT[0], SEAMS[0], PULLS[0]])
def test_both_readers_find_the_same_things_on_the_same_layers(layout: Layout) -> None:
    data = file_of(layout)
    document = ezdxf.read(io.StringIO(data.decode()))
    assert not document.audit().errors
    theirs = sorted((entity.dxftype(), entity.dxf.layer) for entity in document.modelspace())
    assert sorted((entity.kind, entity.layer) for entity in entities(data)) == theirs
    assert layers(data) - {"0", "Defpoints"} == {layer for _, layer in theirs} | {"LABEL", "CENTER_LINE"}


def test_of_a_deck_every_cut_is_where_it_was_given_or_computed() -> None:
    data = file_of(DECK)
    holes = sorted((*entity.numbers(10), *entity.numbers(20), 2 * entity.numbers(40)[0]) for entity in on(data, "HOLE"))
    assert holes == [pytest.approx((float(h.x.mm), float(h.y.mm), float(h.diameter.mm)), abs=1e-6)
                     for h in sorted(DECK.drilled, key=lambda hole: hole.x)]
    (edge,), (cut,) = on(data, "EDGE"), on(data, "CUT_OUT")
    top, area = DECK.deck.top, DECK.deck.cutout
    assert box(edge) == pytest.approx((0, 0, float(top.width.mm), float(top.depth.mm)))
    assert box(cut) == pytest.approx((float(area.left.mm), float(area.front.mm), float((area.left + area.width).mm),
                                      float((area.front + area.depth).mm)))
    assert not {"HATCH", "ZONE", "REFERENCE_NOT_TO_SCALE"} & layers(data)


def test_a_cutout_of_a_run_is_cut_only_where_its_depth_and_its_corners_were_given() -> None:
    for less in (runs.RUN["cutouts"], WITH_DEPTH, [one | {"corner_radius": "1 in"} for one in runs.RUN["cutouts"]]):
        without = file_of(runs.found(cutouts=less)[0])
        assert on(without, "CUT_OUT") == [] and len(on(without, "REFERENCE_NOT_TO_SCALE")) == 3  # and the dishwasher
        assert NOT_TO_SCALE in words(without)
    given = file_of(runs.found(cutouts=WHOLE)[0])
    assert {tuple(round(y, 3) for y in box(cut)[1::2]) for cut in on(given, "CUT_OUT")} == {(76.2, 533.4)}
    assert all(len(cut.points) == 8 for cut in on(given, "CUT_OUT")), "two points a rounded corner"
    square = file_of(runs.found(cutouts=[one | {"corner_radius": "0 in"} for one in WITH_DEPTH])[0])
    assert [len(cut.points) for cut in on(square, "CUT_OUT")] == [4, 4]


def test_a_cutout_that_runs_out_at_the_front_is_round_at_the_back_alone() -> None:
    """An apron sink: 40 to 70 in, 20 in deep, corners of 1 in at (69, 19) and (41, 19)."""
    apron = {"name": "sink", "from_left": "40 in", "width": "30 in", "from_front": "0 in", "depth": "20 in",
             "corner_radius": "1 in"}
    (cut,) = on(file_of(runs.found(cutouts=[apron])[0]), "CUT_OUT")
    points = [(x / 25.4, y / 25.4) for x, y in cut.points]
    assert points[:2] == [pytest.approx((40, 0)), pytest.approx((70, 0))]
    assert points[2] == pytest.approx((70, 19)) and points[-1] == pytest.approx((40, 19))
    for x, y in points[2:]:
        assert hypot(x - (69 if x > 55 else 41), y - 19) == pytest.approx(1)
        assert y >= 19 - 1e-9 and 40 - 1e-9 <= x <= 70 + 1e-9


def test_a_seam_is_cut_from_edge_to_edge_and_no_farther() -> None:
    (seam,) = on(file_of(SEAMS[0]), "SEAM")
    at, depth = float(SEAMS[0].seams[0].mm), float(SEAMS[0].run.depth.mm)
    assert seam.points == [pytest.approx((at, 0)), pytest.approx((at, depth))]


@pytest.mark.parametrize("layout", [OFF[0], OUT[0], PULLS[0]])
def test_what_nobody_gave_is_for_reference_alone_and_the_file_says_so(layout: Layout) -> None:
    data = file_of(layout)
    assert on(data, "REFERENCE_NOT_TO_SCALE") and NOT_TO_SCALE in words(data)
    assert not {"SUPPORT", "PULL", "WALL", "CLEARANCE"} & layers(data) or layout is PULLS[0]


def test_of_a_center_line_nothing_is_cut() -> None:
    data = file_of(OFF[0])
    assert not CUT & layers(data)
    lines = [entity for entity in on(data, "CENTER_LINE") if entity.kind == "LINE"]
    assert {round(x, 6) for line in lines for x, _ in line.points} == {round(float(OFF[0].at.mm), 6)}


def test_a_file_that_is_barred_has_no_layer_that_a_program_cuts() -> None:
    for why in ("NOT_APPROVED", "FAILS"):
        named = layers(dxf(drawn(DECK).for_machine, barred=why))
        assert not CUT & named and f"HOLE_{why}" in named


@pytest.mark.parametrize("path", sorted(FORMER.glob("*.json")), ids=lambda path: path.stem)
def test_a_file_made_again_of_what_was_kept_before_cuts_nothing_that_was_made_up(path: Path) -> None:
    former = json.loads(path.read_text())
    data = dxf(machine_scene(former["kind"], former["detail"]))
    kept = former["detail"].get("for_machine") or former["detail"]["drawing"]
    holes = [item for item in kept["items"] if item.get("layer") == "hole"]
    assert len([each for each in on(data, "HOLE") if each.kind in ("CIRCLE", "POINT")]) == len(holes)
    if former["kind"] in ("seam", "centerline"):
        assert on(data, "CUT_OUT") == [] and NOT_TO_SCALE in words(data)
    if former["kind"] == "seam":
        (edge,) = on(data, "EDGE")
        assert {y for seam in on(data, "SEAM") for _, y in seam.points} == {box(edge)[1], box(edge)[3]}
    if former["kind"] == "deck":
        assert on(data, "CUT_OUT") and NOT_TO_SCALE not in words(data)


def test_the_reader_itself_is_not_fooled_by_a_broken_file() -> None:
    data = dxf(Scene("a", "b", (Line(Layer.EDGE, 0, 0, 10, 20), Rect(Layer.EDGE, 5, 5, 10, 10), Label(0, 0, "x"))))
    assert [entity.points for entity in entities(data) if entity.kind == "LINE"] == [[(0.0, 0.0), (10.0, 20.0)]]
    with pytest.raises(ValueError, match="invalid literal"):
        entities(data.replace(b"  0\nSECTION", b"no code\nSECTION", 1))
