"""Every kind of layout has its drawing, sheet and file; what is drawn is what was computed."""

import io
import re
from xml.etree import ElementTree

import ezdxf
import pytest
from pypdf import PdfReader

from portal.drawings.drawing_kinds import LayoutDrawing, drawn
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Bar, Center, Circle, Dimension, Label, Line, Rect, SceneError, Side
from portal.drawings.writers.dxf import dxf
from portal.drawings.writers.pdf import pdf
from portal.drawings.writers.svg import svg
from portal.layouts.kinds import KINDS
from portal.layouts.layout import Layout
from tests.drawings.decks import NEW
from tests.drawings.samples import sheet_of
from tests.layouts.centerline.test_layout import lines
from tests.layouts.overhang import test_layout as overhangs
from tests.layouts.pulls import test_layout as banks
from tests.layouts.seam import test_layout as runs
from tests.layouts.vanity import test_layout as baths

OFF = lines({"left": "45 in", "right": "81 in"})
AGREED = lines({"left": "39 in", "right": "75 in"})
OUT = overhangs.found()
SEAMS = runs.found()
PULLS = banks.found()
BATHS = baths.found()
ALL: list[Layout] = [NEW[0], *OFF, *AGREED, *lines(None), *OUT, *SEAMS, *PULLS, *BATHS]


def dimensions(found: LayoutDrawing) -> set[str]:
    return {item.text for item in found.scene.items if isinstance(item, Dimension)}


@pytest.mark.parametrize("layout", ALL)
def test_every_layout_is_drawn_in_less_than_six_kilobytes_and_says_what_it_does(layout: Layout) -> None:
    found = drawn(layout)
    root = ElementTree.fromstring(svg(found.scene))
    assert len(svg(found.scene, alone=True).encode()) < 6 * 1024
    assert layout.title in (root[0].text or "")
    assert isinstance(found.scene.description, str) and len(found.scene.description) > 100


@pytest.mark.parametrize("layout", [NEW[0], OFF[0], OUT[0], SEAMS[0], PULLS[0], BATHS[0]])
def test_every_kind_has_a_sheet_with_its_places_and_cautions_and_a_clean_file(layout: Layout) -> None:
    found = drawn(layout)
    sheet = sheet_of(layout)
    reader = PdfReader(io.BytesIO(pdf(sheet, found.scene)))
    words = [" ".join(page.extract_text().split()) for page in reader.pages]
    assert all("NOT APPROVED" in page for page in words)
    every = " ".join(words)
    assert sheet.rows and all(row[0] in words[0] for row in sheet.rows)
    assert "come first" in every  # the maker's sheet, in every kind
    assert len(sheet.found) >= 3 and "Read back aloud by a second person" in every
    assert all(name in every and size.split(" (")[0] in every for name, size in (*sheet.found, *sheet.details))
    document = ezdxf.read(io.StringIO(dxf(found.for_machine, sheet.notes()).decode()))
    assert not document.audit().errors


def test_no_kind_of_layout_is_without_a_drawing() -> None:
    assert {layout.key.split(":")[0] for layout in ALL if drawn(layout).scene.items} == set(KINDS)


def test_a_layout_of_an_unknown_kind_is_refused_with_what_to_do() -> None:
    with pytest.raises(SceneError, match="kinds.py"):
        drawn(object())  # type: ignore[arg-type]


def test_the_center_line_stands_where_it_was_computed() -> None:
    line = OFF[0]
    (drawn_line,) = drawn(line).scene.only(Layer.CENTER_LINE)
    assert isinstance(drawn_line, Line)
    assert drawn_line.x1 == drawn_line.x2 == float(line.at.mm)
    assert dimensions(drawn(line)) == {"58 in", "2-1/2 in", "1/2 in", "5 in off the window", "1 in off the cabinet"}


def test_the_counter_is_drawn_with_what_is_left_of_it_on_both_sides() -> None:
    """Sink at 58 in: 41-1/2 to 74-1/2 in. Counter from 15 to 70 in: the sink runs past its right end."""
    on_top = lines({"left": "45 in", "right": "81 in"}, counter={"left": "15 in", "right": "100 in"})
    assert {"26-1/2 in", "25-1/2 in"} <= dimensions(drawn(on_top[0]))
    short = lines({"left": "45 in", "right": "81 in"}, counter={"left": "15 in", "right": "70 in"})
    cabinet = next(line for line in short if line.key == "centerline:cabinet")
    assert {"25-1/2 in", "3-1/2 in past it"} <= dimensions(drawn(cabinet))


def test_a_sink_that_is_too_wide_runs_past_its_cabinet_on_the_drawing_too() -> None:
    between = next(line for line in OFF if line.key == "centerline:between")
    assert "1-1/2 in past it" in dimensions(drawn(between)) and "4-1/2 in" in dimensions(drawn(between))


def test_lines_that_agree_have_nothing_off() -> None:
    assert not any("off" in text for text in dimensions(drawn(AGREED[0])))


def test_a_wall_without_a_window_shows_none() -> None:
    scene = drawn(lines(None)[0]).scene
    assert not scene.only(Layer.FRONT) and "window" not in scene.description


def test_an_overhang_shows_its_brackets_seats_and_the_room_for_knees() -> None:
    best = OUT[0]
    scene = drawn(best).scene
    brackets = [i for i in scene.only(Layer.SUPPORT) if isinstance(i, Rect)]
    assert len(brackets) == best.brackets == 4
    assert len([i for i in scene.only(Layer.CLEARANCE) if isinstance(i, Circle)]) == 4
    assert dimensions(drawn(best)) == {"15 in", "40 in", "96 in", "45 in"}
    assert "cabinets, and 4 brackets 32 in apart" in {i.text for i in scene.items if isinstance(i, Label)}
    assert "Bracket 2, its middle: 32 in from the left end." in scene.description


def test_brackets_are_measured_one_by_one_where_no_aisle_is_drawn_before_them() -> None:
    best = overhangs.found(aisles=None)[0]
    assert dimensions(drawn(best)) == {"15 in", "40 in", "96 in", "32 in"}


def test_aisles_are_drawn_as_wide_as_they_are_on_both_long_sides() -> None:
    seat, cooking = overhangs.ISLAND["aisles"]
    best = overhangs.found(aisles=[seat, {**cooking, "on_far_side": True}])[0]
    scene, width = drawn(best).scene, float(best.dimensions.width.mm)
    at = {round(i.y1, 3) for i in scene.only(Layer.WALL) if isinstance(i, Line) and i.y1 == i.y2}
    assert at == {round(-45 * 25.4, 3), round(width + 42.5 * 25.4, 3)}
    assert {"45 in", "42-1/2 in"} <= dimensions(drawn(best))
    assert "Lines across an aisle: seat side, range side." in scene.description


def test_an_aisle_that_the_top_fills_is_not_drawn() -> None:
    seat = {**overhangs.ISLAND["aisles"][0], "room": "12 in"}
    assert not drawn(overhangs.found(aisles=[seat])[0]).scene.only(Layer.WALL)


def test_brackets_reach_no_further_than_their_maker_says_and_stay_under_the_top() -> None:
    for layout in OUT:
        for bracket in drawn(layout).scene.only(Layer.SUPPORT):
            assert isinstance(bracket, Rect)
            assert bracket.x >= 0 and bracket.x + bracket.width <= 96 * 25.4 + 1e-6
            assert bracket.y >= float(layout.depth.mm) - 10 * 25.4 - 1e-9


def test_brackets_stand_on_the_gables_and_studs_that_are_drawn() -> None:
    studs = [{"from_left": f"{place} in"} for place in range(0, 97, 16)]
    best = next(one for one in overhangs.found(fixings=studs) if one.supported)
    lines = [line for line in drawn(best).scene.only(Layer.SUPPORT) if isinstance(line, Line)]
    drawn_at = [line.x1 for line in lines if line.x1 == line.x2]
    assert drawn_at == [pytest.approx(place * 25.4) for place in range(0, 97, 16)]
    assert {float(at.mm) for at in best.bracket_marks} <= {*drawn_at}


def test_the_first_bracket_is_dimensioned_from_the_left_end_and_uneven_ones_by_the_table_alone() -> None:
    bare = {"aisles": None, "seats": None}
    inset = next(one for one in overhangs.found(
        **bare, brackets={"reach": "10 in", "spacing": "32 in", "inset": "16 in"}) if one.supported)
    below = [i for i in drawn(inset).scene.items if isinstance(i, Dimension) and i.side is Side.BELOW]
    assert [i.text for i in below] == ["16 in", "32 in", "32 in"] and below[0].x1 == 0
    uneven = [{"from_left": f"{place} in"} for place in (0, 11, 24, 35, 47, 60, 71, 84, 96)]
    many = next(one for one in overhangs.found(
        **bare, brackets={"reach": "10 in", "spacing": "13 in"}, fixings=uneven) if one.supported)
    assert many.brackets == 9 and len(drawn(many).coordinates.rows) == 9
    assert not [i for i in drawn(many).scene.items if isinstance(i, Dimension) and i.side is Side.BELOW]


def test_an_overhang_without_support_shows_none() -> None:
    bare = next(layout for layout in OUT if not layout.brackets)
    assert not drawn(bare).scene.only(Layer.SUPPORT)


def test_seams_and_pieces_stand_where_they_were_computed() -> None:
    best = SEAMS[0]
    seams = [i.x1 for i in drawn(best).scene.only(Layer.SEAM) if isinstance(i, Line)]
    assert seams == [float(at.mm) for at in best.seams]
    assert dimensions(drawn(best)) == {"76 in", "68 in", "25-1/2 in"}
    assert len(drawn(best).scene.only(Layer.REFERENCE)) == 2
    labels = [i.text for i in drawn(best).scene.items if isinstance(i, Label)]
    assert {"sink", "cooktop", "dishwasher", "seam"} == set(labels)


def test_a_cut_out_has_its_true_depth_where_it_was_given() -> None:
    place = {"from_front": "3 in", "depth": "18 in", "corner_radius": "1 in"}
    deep = [{**each, **place} for each in runs.RUN["cutouts"][:1]]
    (cutout,) = drawn(runs.found(cutouts=deep)[0]).scene.only(Layer.CUT_OUT)
    assert isinstance(cutout, Rect)
    assert (cutout.y, cutout.height) == (pytest.approx(3 * 25.4), pytest.approx(18 * 25.4))


def test_a_cutting_sheet_of_a_run_names_each_cut_out_and_no_place_for_another_seam() -> None:
    deep = [{**each, "from_front": "3 in", "depth": "18 in", "corner_radius": "1 in"} for each in runs.RUN["cutouts"]]
    details = dict(drawn(runs.found(cutouts=[deep[0], runs.RUN["cutouts"][1]])[0]).coordinates.details)
    assert details["Cut-out: sink, corner radius"] == "1 in (25.4 mm)"
    assert details["Cut-out: cooktop, corner radius"] == "not given: ask before it is cut"
    assert not any("may be" in name for name in details)


def test_an_overhang_sheet_says_who_carries_it_and_nothing_of_gaps_where_one_bracket_stands() -> None:
    """16 in of granite on one gable: 16 x 36 x (1-1/4 + 1/8) in of 3300 kg per cubic meter, 42.8 kg."""
    heavy = dict(drawn(overhangs.found(material="granite")[0]).coordinates.details)
    assert heavy["Weight"].endswith("; too heavy for four people, it goes by machine")
    assert heavy["Brackets"] == "4 brackets, 10 in (254 mm) out under the top, at most 32 in (812.8 mm) apart"
    one = next(layout for layout in overhangs.found(
        length="16 in", width="36 in", overhang="12 in", seats=None, aisles=None, material="granite",
        fixings=[{"from_left": "8 in"}]) if layout.brackets)
    light = dict(drawn(one).coordinates.details)
    assert one.ok and light["Brackets"] == "1 bracket, 10 in (254 mm) out under the top"
    assert light["Weight"] == "at most 95 lb (43 kg); four people carry it"


def test_every_hole_of_a_pull_is_a_center_where_it_was_computed() -> None:
    for layout in PULLS:
        got = sorted((c.x, c.y) for c in drawn(layout).scene.only(Layer.HOLE) if isinstance(c, Center))
        wanted = sorted(
            (float((p.front.left + h.from_left).mm), float((p.front.top - h.from_top).mm))
            for p in layout.pulls
            for h in p.holes
        )
        assert got == wanted


def test_the_machine_gets_a_point_for_every_hole_of_a_pull() -> None:
    found = drawn(PULLS[0])
    points = ezdxf.read(io.StringIO(dxf(found.for_machine).decode())).modelspace().query('POINT[layer=="HOLE"]')
    assert len(points) == sum(len(pull.holes) for pull in PULLS[0].pulls)


def test_the_middle_of_each_pull_is_listed_then_its_holes_each_way_and_each_as_a_check() -> None:
    layout = banks.titled(PULLS, "In the middle of each drawer")
    rows = drawn(layout).coordinates.rows
    assert rows[0] == ("A", "pan drawer", "middle of the front, 419.1 mm (16-1/2 in)", "152.4 mm (6 in)",
                       "80 mm left and right", "left edge 339.1 mm and 499.1 mm")
    assert rows[-1] == ("D", "sink door", "349.25 mm (13-3/4 in)", "143.5 mm", "80 mm up and down",
                        "top edge 63.5 mm and 223.5 mm")
    assert len(rows) == len(layout.pulls)


def test_a_knob_is_one_hole_in_its_middle() -> None:
    pull = {name: value for name, value in banks.BANK["pull"].items() if name != "centers"}
    found = drawn(banks.found(pull=pull)[0])
    assert {row[4:] for row in found.coordinates.rows} == {("one hole, in the middle", "none")}
    assert not [i for i in found.scene.items if isinstance(i, Bar)]


def test_the_overview_of_a_bank_has_its_dimensions() -> None:
    layout = PULLS[0]
    assert dimensions(drawn(layout)) >= {size.marked for front in layout.bank.fronts
                                         for size in (front.width, front.height)}


def test_a_line_that_runs_through_is_drawn_and_measured_from_the_floor() -> None:
    layout = banks.titled(PULLS, "In the middle of each drawer")
    scene = drawn(layout).scene
    assert [i.y1 for i in scene.only(Layer.CENTER_LINE) if isinstance(i, Line)] == [31 * 25.4]
    assert "31 in" in dimensions(drawn(layout))


def test_the_overview_of_pulls_has_the_sizes_of_its_fronts_and_where_they_hang() -> None:
    found = {(i.side, i.text) for i in drawn(PULLS[0]).scene.items if isinstance(i, Dimension)}
    assert {(Side.BELOW, "33 in"), (Side.BELOW, "15 in"), (Side.RIGHT, "12 in"), (Side.RIGHT, "6 in"),
            (Side.RIGHT, "22 in"), (Side.RIGHT, "5 in"), (Side.ABOVE, "64 in")} <= found


def test_a_long_bank_is_dimensioned_as_a_whole_and_its_fronts_are_described() -> None:
    row = [banks.BANK["fronts"][2] | {"name": f"drawer {n}", "from_left": f"{n * 16} in", "width": f"{15 - n / 8} in"}
           for n in range(12)]
    scene = drawn(banks.found(fronts=row)[0]).scene
    found = [i.text for i in scene.items if isinstance(i, Dimension) and i.side in (Side.BELOW, Side.ABOVE)]
    assert found == ["189-5/8 in"]
    assert "L, drawer 11 (drawer), 13-5/8 in wide and 6 in high" in scene.description


def test_a_bank_on_the_wall_is_drawn_without_the_floor() -> None:
    hung = [front | {"from_floor": "60 in"} for front in banks.BANK["fronts"][1:]]
    scene = drawn(banks.found(fronts=hung)[0]).scene
    assert scene.bounds.bottom > 1500 and not scene.only(Layer.WALL)


def test_pulls_close_together_get_a_full_size_template() -> None:
    one = banks.found(fronts=banks.BANK["fronts"][2:3])[0]
    found = drawn(one)
    sheet = sheet_of(one, approved_by="Ana Ruiz", approved_at="Thu Dec 3, 2026, 6:12 pm")
    words = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf(sheet, found.scene))).pages)
    assert "Full size, front A. " in words and "spoon drawer, hole 2: drill" in words


def test_the_distance_from_hole_to_hole_stands_on_the_sheet_exactly_with_the_warning_of_the_page() -> None:
    """The inch columns alone put the holes of a 160 mm pull 6-1/4 in (158.75 mm) apart."""
    table = drawn(PULLS[0]).coordinates
    assert table.sizes == (
        "Hole to hole of each pull: 160 mm exactly. Drill size: from the maker's sheet.",
        "Drill 160 mm, not 6-5/16 in: the inch name is off by 0.3375 mm.",
    )
    assert table.sizes[1] in {each.text for each in PULLS[0].advice}
    assert all(size in drawn(PULLS[0]).scene.description for size in table.sizes)


def test_holes_of_one_pull_are_as_far_apart_in_the_check_as_the_pull_is() -> None:
    layout = banks.titled(PULLS, "In the middle of each drawer")
    for row in drawn(layout).coordinates.rows:
        first, second = (float(number) for number in re.findall(r"([0-9.]+) mm", row[5]))
        assert second - first == pytest.approx(160.0, abs=1e-9)


def test_an_inch_pull_is_set_out_in_inches() -> None:
    pull = banks.BANK["pull"] | {"centers": "6 in", "inch_sheet": True}
    table = drawn(banks.found(pull=pull)[0]).coordinates
    assert table.sizes == ("Hole to hole of each pull: 6 in (152.4 mm). Drill size: from the maker's sheet.",)
    assert table.rows[0][3].partition(" (")[0].endswith(" in") and table.rows[0][4] == "3 in left and right"


def test_a_drill_size_that_is_given_is_named_and_drawn() -> None:
    found = drawn(banks.found(pull=banks.BANK["pull"] | {"drill": "3/16 in"})[0])
    assert found.coordinates.sizes[0].endswith("Drill size: 3/16 in (4.7625 mm).")
    assert {i.drill for i in found.scene.only(Layer.HOLE) if isinstance(i, Center)} == {4.7625}
