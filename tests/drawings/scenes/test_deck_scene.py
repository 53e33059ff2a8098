"""A deck layout as a drawing: what is drawn is what was computed, and fits the page in bytes and in sight."""

import io
from dataclasses import replace
from itertools import pairwise

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.drawings.scenes.coordinates import tightest
from portal.drawings.scenes.deck_scene import deck_machine_scene, deck_scene
from portal.drawings.scenes.deck_sheet import deck_coordinates, lettered
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Bar, Circle, Dimension, Label, Line, Polyline, Rect
from portal.drawings.writers.dxf import dxf
from portal.drawings.writers.svg import svg
from portal.layouts.check import GEOMETRY, Check, Measure
from portal.layouts.deck import from_json, layouts
from portal.layouts.deck.holes import State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.zones import safe_zones
from portal.layouts.length import Length
from tests.drawings.decks import NEW, OLD, fullest, long_layouts
from tests.layouts.decks import deck_json

ONE_HOLE = [layout for layout in NEW if layout.faucet_holes == 1]
FULL = fullest(ONE_HOLE)
LAYOUTS = st.sampled_from(NEW)


def holes(layout: DeckLayout) -> list[Circle]:
    return [i for i in deck_scene(layout).only(Layer.HOLE) if isinstance(i, Circle)]


@settings(max_examples=40, deadline=None)
@given(LAYOUTS)
def test_every_new_hole_is_drawn_where_it_was_computed_and_as_wide(layout: DeckLayout) -> None:
    wanted = sorted((float(h.x.mm), float(h.y.mm), float(h.diameter.mm)) for h in layout.drilled)
    assert sorted((c.x, c.y, c.diameter) for c in holes(layout)) == wanted


@settings(max_examples=40, deadline=None)
@given(LAYOUTS)
def test_a_deck_with_a_faucet_and_three_accessories_takes_less_than_six_kilobytes(layout: DeckLayout) -> None:
    assert len(svg(deck_scene(layout), alone=True).encode()) < 6 * 1024


@settings(max_examples=40, deadline=None)
@given(LAYOUTS)
def test_the_machine_cuts_the_same_holes_to_the_nanometre(layout: DeckLayout) -> None:
    document = ezdxf.read(io.StringIO(dxf(deck_machine_scene(layout)).decode()))
    assert not document.audit().errors
    found = document.modelspace().query('CIRCLE[layer=="HOLE"]')
    got = sorted((c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in found)
    wanted = sorted((float(h.x.mm), float(h.y.mm), float(h.diameter.mm)) for h in layout.drilled)
    assert got == [pytest.approx(w, abs=1e-6) for w in wanted]


@settings(max_examples=40, deadline=None)
@given(LAYOUTS)
def test_the_words_name_every_hole_with_its_distances(layout: DeckLayout) -> None:
    said = deck_scene(layout).description
    for mark, place in lettered(layout):
        size, along = place.hole.diameter.marked, place.along.marked
        assert f"{mark}, {place.hole.name}: {size} hole, to drill, {along}" in said


def test_letters_run_from_left_to_right_and_stand_on_drawing_and_table_alike() -> None:
    marks = [mark for mark, _ in lettered(FULL)]
    xs = [place.hole.x for _, place in lettered(FULL)]
    labels = [i.text for i in deck_scene(FULL).items if isinstance(i, Label)]
    assert marks == ["A", "B", "C", "D"] and xs == sorted(xs)
    assert [row[0] for row in deck_coordinates(FULL).rows] == marks
    assert set(marks) <= set(labels)


def test_the_table_is_measured_from_the_cutout_and_checked_from_an_end_and_an_edge() -> None:
    table = deck_coordinates(FULL)
    assert table.columns[3:7] == ("From the middle of the cut-out", "Behind its back edge", "Check: from the left end",
                                  "Check: from the front edge")
    faucet = next(row for row in table.rows if row[1].startswith("faucet"))
    assert faucet[1:7] == ("faucet", "1-3/8 in (34.925 mm)", "on it", "2-7/8 in (73.025 mm)", "30 in (762 mm)",
                           "21-7/8 in (555.625 mm)")
    assert all(len(row) == len(table.columns) for row in table.rows)


def test_both_datums_are_lines_of_the_drawing_and_a_faucet_beside_the_middle_has_its_own() -> None:
    cutout = FULL.deck.cutout
    level, upright = [i for i in deck_scene(FULL).only(Layer.DATUM) if isinstance(i, Line)]
    assert level.y1 == level.y2 == pytest.approx(float((cutout.front + cutout.depth).mm))
    assert upright.x1 == upright.x2 == pytest.approx(float(cutout.center[0].mm))
    assert not deck_scene(FULL).only(Layer.CENTER_LINE)
    beside = fullest(layouts(from_json(deck_json(faucet__holes="1", place={"center_line": "31 in"}))))
    (own,) = deck_scene(beside).only(Layer.CENTER_LINE)
    assert isinstance(own, Line) and own.note == "center line of the faucet, 31 in from the left end"
    row = next(row for row in deck_coordinates(beside).rows if row[1] == "faucet")
    assert row[3] == "right 1 in (25.4 mm)"


def test_a_new_hole_says_by_how_much_it_may_be_off_and_its_zone_is_drawn_but_never_cut() -> None:
    zones = {zone.hole: zone for zone in safe_zones(FULL)}
    table, lines = deck_coordinates(FULL), [i for i in deck_scene(FULL).items if isinstance(i, Polyline)]
    assert table.columns[-1] == "May be off by" and "all holes at once" in table.remarks[0]
    for (_, place), row in zip(lettered(FULL), table.rows, strict=True):
        said = Length.parse(row[-1])
        assert 0 <= zones[place.hole].tolerance.mm - said.mm < Length.parse("1/16 in").mm
        assert said.mm % Length.parse("1/16 in").mm == 0
    assert [line.points for line in lines if line.layer is Layer.ZONE] == [z.outline for z in zones.values()]
    assert not deck_machine_scene(FULL).only(Layer.ZONE)


def test_slop_is_taken_off_and_said_and_where_nothing_is_left_the_hole_is_named() -> None:
    (slack, *_) = layouts(from_json(deck_json(faucet__holes="1", minimums__slop="1/64 in")))
    assert ("The slop of bit and tape, 1/64 in, and half of what the widest bit named here is wider are taken off "
            "already.") in deck_coordinates(slack).remarks[0]
    changed = {"faucet__holes": "3", "faucet__outer_least": None, "faucet__outer_most": None}
    tight, failing = (layouts(from_json(deck_json(**changed, **more)))[0]
                      for more in ({}, {"minimums__slop": "1/64 in"}))
    held = [row for row in deck_coordinates(tight).rows if row[1] in ("faucet, left", "faucet, right")]
    assert "No room to be off: faucet, left and faucet, right." in deck_coordinates(tight).remarks[1]
    assert {row[-1] for row in held} == {"0 in"}
    assert deck_coordinates(failing).remarks == () and not failing.ok, "who may be off by less breaks a rule"


def test_a_bit_without_room_is_not_named_on_the_sheet() -> None:
    """The faucet's outer holes may not be off at all: 35 mm is 0.075 mm wider than they are."""
    changed = {"faucet__holes": "3", "faucet__outer_least": None, "faucet__outer_most": None}
    held, slack = (deck_coordinates(layouts(from_json(deck_json(**more)))[0]) for more in (
        changed, {"faucet__holes": "3"}))
    assert "for 1-3/8 in: 1-3/8 in;" in held.sizes[0] and "for 1-3/8 in: 1-3/8 in or 35 mm" in slack.sizes[0]


def test_the_outline_is_drawn_whole_and_it_says_to_keep_inside_it_by_the_slop() -> None:
    (slack, *_) = layouts(from_json(deck_json(faucet__holes="1", minimums__slop="1/64 in")))
    said = deck_coordinates(slack).remarks[0]
    assert said.endswith("; of the outline nothing is taken off, so aim at least 1/64 in inside it.")
    assert [i.points for i in deck_scene(slack).only(Layer.ZONE) if isinstance(i, Polyline)] == [
        zone.outline for zone in safe_zones(slack) if zone.tolerance >= Length.parse("1/16 in")]


def test_a_hole_with_no_room_says_so_on_the_template_and_one_with_room_does_not() -> None:
    tight = layouts(from_json(deck_json(faucet__holes="3", faucet__outer_least=None, faucet__outer_most=None)))[0]
    held = {mark for mark, *_, off in deck_coordinates(tight).rows if off == "0 in"}
    drilled = {i.note[0]: i.note for i in deck_scene(tight).only(Layer.HOLE) if isinstance(i, Circle)}
    assert held and {mark for mark, note in drilled.items() if note.endswith("; no room to be off")} == held
    assert len(deck_scene(tight).only(Layer.ZONE)) == len(drilled) - len(held) > 0


def test_of_a_long_top_a_zone_ends_where_the_drawing_does() -> None:
    scene = deck_scene(fullest(long_layouts()))
    (front,) = (i for i in scene.only(Layer.EDGE) if isinstance(i, Line) and i.note == "front edge of the top")
    for zone in scene.only(Layer.ZONE):
        assert isinstance(zone, Polyline) and zone.closed
        assert all(front.x1 - 1e-6 <= x <= front.x2 + 1e-6 for x, _ in zone.points)


def test_the_sheet_says_what_is_drilled_where_that_was_given() -> None:
    (stone, *_) = layouts(from_json(deck_json(material="granite")))
    assert deck_coordinates(stone).details == (("Material of the top", "granite"),)
    assert deck_coordinates(FULL).details == ()


def test_where_nothing_is_drilled_nothing_may_drift() -> None:
    table = deck_coordinates(OLD[0])
    assert "May be off by" not in table.columns and table.remarks == ()


def test_holes_of_the_row_are_joined_by_bars_that_say_how_far_apart_they_are() -> None:
    bars = [i for i in deck_scene(FULL).items if isinstance(i, Bar)]
    assert [bar.text[:6] for bar in bars] == ["A to B", "B to C", "C to D"]
    for bar, (one, other) in zip(bars, pairwise(place.hole for _, place in lettered(FULL)), strict=True):
        assert bar.text.endswith((other.x - one.x).marked_in_both)
        (x1, y1), (x2, y2) = bar.ends
        assert x2 - x1 == pytest.approx(float((other.x - one.x).mm)) and y1 == y2 > bar.y1
    assert not [i for i in deck_machine_scene(FULL).items if isinstance(i, Bar)]


def test_three_things_are_measured_once_more() -> None:
    assert deck_coordinates(FULL).found == (
        ("Cut-out, left to right", "30 in (762 mm)"),
        ("Cut-out's back edge to the wall or splash", "5-3/4 in (146.05 mm)"), ("Thickness of the top", "30 mm"))


def test_the_table_of_an_old_top_says_what_becomes_of_each_hole() -> None:
    layout = next(found for found in OLD if found.caps)
    fates = [row[1].split(", ", 1)[1] for row in deck_coordinates(layout).rows]
    assert fates.count("there already, gets a cap") == len(layout.caps)
    assert len(fates) == 4


def test_the_tightest_checks_go_on_the_sheet_as_sentences() -> None:
    checks = deck_coordinates(FULL).checks
    assert sum(check.count("(at ") for check in checks) == 6
    tightest = min((check for check in FULL.checks if check.required), key=lambda check: check.margin)
    assert checks[0].startswith(f"Passes, by the limits of {tightest.source}: {tightest.marked}")


def test_a_check_that_only_says_not_below_zero_stays_off_the_sheet_unless_it_fails() -> None:
    free = Check(Measure("deck.flange-to-flange"), "faucet and soap", 3.0, 0.0, source=GEOMETRY)
    failed = replace(free, measured=-2.0)
    assert tightest([free]) == ()
    said, more = tightest([free, failed])
    assert more == "And 1 more passes: it stands on the page."
    assert said.startswith("Flange to flange, faucet and soap: 2 mm past it, at least 0 mm: fails (limit: the sizes")


def test_the_work_counts_all_holes_together() -> None:
    layout = next(found for found in ONE_HOLE if len(found.drilled) == 2)
    (first, second) = (place.hole for _, place in lettered(layout))
    assert deck_coordinates(layout).work == (
        f"Drill two holes: A for the {first.name}, {first.diameter.marked}; "
        f"B for the {second.name}, {second.diameter.marked}."
    )
    assert deck_coordinates(OLD[0]).work.startswith("Drill no hole.")


def test_the_caption_gives_size_view_wall_and_front_edge() -> None:
    assert deck_coordinates(FULL).caption == (
        "The top seen from above, 60 in by 25-1/2 in, 30 mm thick: front edge at the bottom, wall at the top.")
    assert deck_coordinates(FULL).caption[:-1] in deck_scene(FULL).description


def off_datums(layout: DeckLayout) -> set[str]:
    """How far each hole is from the two datums, as it is said."""
    cutout = layout.deck.cutout
    off = [hole.x - cutout.center[0] for hole in layout.holes]
    off += [hole.y - cutout.front - cutout.depth for hole in layout.holes]
    return {abs(each).marked for each in off if each.mm}


def test_every_hole_is_dimensioned_from_both_datums_and_the_middle_from_the_end() -> None:
    got = {d.text for d in deck_scene(FULL).items if isinstance(d, Dimension)}
    assert got == off_datums(FULL) | {"30 in"}


def test_measured_from_the_right_end_and_the_back_the_numbers_turn_round() -> None:
    turned = replace(FULL, deck=replace(FULL.deck, measured_end="right end", measured_edge="back edge"))
    got = [d for d in deck_scene(turned).items if isinstance(d, Dimension)]
    assert turned.positions[0].inward == turned.deck.top.depth - turned.holes[0].y
    assert any(d.x1 == float(turned.deck.top.width.mm) for d in got)
    assert "Check: from the right end" in deck_coordinates(turned).columns
    assert [row[5:7] for row in deck_coordinates(turned).rows] == [
        (place.along.marked_in_both, place.inward.marked_in_both) for _, place in lettered(turned)]


def test_a_long_top_is_shown_in_part_and_says_where_its_middle_is() -> None:
    layout = fullest([found for found in long_layouts() if found.faucet_holes == 1])
    scene = deck_scene(layout)
    assert scene.bounds.width < 1700
    texts = [i.text for i in scene.items if isinstance(i, Label)]
    assert "middle of the cut-out, 60 in from the left end" in texts
    assert {d.text for d in scene.items if isinstance(d, Dimension)} == off_datums(layout)
    assert {row[5] for row in deck_coordinates(layout).rows} >= {"60 in (1524 mm)"}


def test_the_machine_gets_a_long_top_whole() -> None:
    scene = deck_machine_scene(long_layouts()[0])
    (outline,) = [i for i in scene.only(Layer.EDGE) if isinstance(i, Rect)]
    assert outline.limits() == [(0.0, 0.0), pytest.approx((120 * 25.4, 25.5 * 25.4))]
    assert len(scene.only(Layer.EDGE)) == 1 and not scene.only(Layer.WALL, Layer.HATCH)


@pytest.mark.parametrize("layout", OLD)
def test_a_hole_that_is_there_already_is_not_cut_again(layout: DeckLayout) -> None:
    scene = deck_scene(layout)
    kept = [i for i in scene.only(Layer.COVERED) if isinstance(i, Circle)]
    assert not scene.only(Layer.HOLE) and len(kept) == 4
    assert not any(circle.center_mark for circle in kept)
    assert ("gets a cap" in scene.description) == bool(layout.caps)
    assert ("under the plate" in scene.description) == bool(layout.in_state(State.COVERED))


def test_the_plate_is_drawn_where_it_lies() -> None:
    layout = next(found for found in OLD if found.plate)
    assert layout.plate is not None
    (plate,) = [i for i in deck_scene(layout).only(Layer.FLANGE) if isinstance(i, Rect)]
    assert (plate.width, plate.height) == pytest.approx((10.25 * 25.4, 2.5 * 25.4))
    assert plate.x + plate.width / 2 == pytest.approx(float(layout.plate.x.mm))


def test_what_is_underneath_is_dashed_and_named() -> None:
    scene = deck_scene(FULL)
    assert len(scene.only(Layer.CABINET)) == 2 and len(scene.only(Layer.UNDERNEATH)) == 1
    assert scene.description.endswith("Dashed lines are what is below the top: both sides of the cabinet; clip.")


def test_the_wall_stands_where_the_splash_ends() -> None:
    faces = [i.y1 for i in deck_scene(FULL).only(Layer.WALL) if isinstance(i, Line)]
    assert sorted(faces) == pytest.approx([24.75 * 25.4, 25.5 * 25.4])


def test_the_cutout_keeps_its_rounded_corners() -> None:
    (cut,) = deck_scene(FULL).only(Layer.CUT_OUT)
    assert isinstance(cut, Rect) and cut.radius == float(Length.parse("1 in").mm)
