"""The center line of a sink: every candidate with what is off, what fits, and by how much something doesn't."""

from typing import Any

import pytest

from portal.layouts import centerline
from portal.layouts.centerline.layout import CenterLine
from portal.layouts.length import DimensionError

CABINET = {"left": "39 in", "right": "75 in"}


def lines(window: dict[str, str] | None, **changed: Any) -> list[CenterLine]:
    data = {"window": window, "cabinet": CABINET, "sink_width": "33 in", "clip_room": "1/2 in",
            "source": "the sink maker's sheet"} | changed
    return centerline.layouts(centerline.from_json(data))


def test_the_window_comes_first_when_the_sink_can_follow_it() -> None:
    found = lines({"left": "40 in", "right": "76 in"})
    assert [line.title for line in found] == ["On the window", "Between window and cabinet", "On the cabinet"]
    assert [line.at.text for line in found] == ["58 in", "57-1/2 in", "57 in"]
    assert all(line.ok for line in found)
    assert "eye goes to the window first" in found[0].reason


def test_every_offset_that_remains_is_told_in_inches() -> None:
    window, between, _ = lines({"left": "40 in", "right": "76 in"})
    assert window.effects[:2] == ("The sink is on the center of the window.",
                                  "The sink is 1 in right of the center of the cabinet.")
    assert "It leaves 1/2 in at the right side of the cabinet." in window.effects
    assert between.to_json()["off_window"] == {"text": "-1/2 in", "mm": -12.7}


def test_where_the_cabinet_stops_the_sink_the_nearest_line_is_offered() -> None:
    found = lines({"left": "45 in", "right": "81 in"})
    assert (found[0].title, found[0].at.text, found[0].ok) == ("As near the window as the sink can come", "58 in", True)
    on_window = next(line for line in found if line.title == "On the window")
    assert not on_window.ok and "by 5 in" in on_window.reason
    assert any("runs 4-1/2 in into the right side of the cabinet" in sentence for sentence in on_window.effects)


def test_agreement_is_said_and_leaves_one_line() -> None:
    (line,) = lines({"left": "39 in", "right": "75 in"})
    assert line.title == "On the window and the cabinet, which agree"
    assert any("agree" in each.text for each in line.advice)


def test_without_a_window_the_cabinet_leads() -> None:
    (line,) = lines(None)
    assert line.off_window is None and line.ok and line.off_cabinet.mm == 0


def test_a_sink_that_fits_nowhere_says_by_how_much() -> None:
    found = lines({"left": "40 in", "right": "76 in"}, sink_width="36 in")
    assert not any(line.ok for line in found)
    assert "1 in too wide" in found[0].advice[0].text and found[0].to_json()["range"] is None


def test_the_range_is_where_the_sink_fits_and_its_ends_just_fit() -> None:
    (line,) = lines(None)
    least, most = line.wall.room
    assert (least.text, most.text) == ("56 in", "58 in")
    tight = {"left": "38-1/2 in", "right": "77-1/2 in"}
    edge = next(line for line in lines(tight) if line.title == "On the window")
    assert edge.at == most and edge.ok and min(check.margin for check in edge.checks) == 0


def test_where_the_sink_fits_is_a_stretch_or_one_place() -> None:
    wide = {"left": "40 in", "right": "76 in"}
    said = lines(wide, cabinet={"left": "40 in", "right": "76 in"}, sink_width="35 in")[0].advice[0].text
    assert "only at 58 in, measured from the left end of the wall" in said
    assert "from 57 in to 59 in, measured from" in lines(wide, cabinet={"left": "39 in", "right": "77 in"},
                                                          sink_width="35 in")[0].advice[0].text


def test_the_counter_left_on_each_side_is_told_when_it_was_measured() -> None:
    best = lines({"left": "40 in", "right": "76 in"}, counter={"left": "15 in", "right": "100 in"})[0]
    assert best.effects[-1] == "Counter beside it: 26-1/2 in on the left, 25-1/2 in on the right."


@pytest.mark.parametrize(("changed", "field"), [
    ({"counter": {"left": "9 in", "right": "8 in"}}, "counter.right"),
    ({"cabinet": {"left": "5 in", "right": "5 in"}}, "cabinet.right"), ({"clip_room": None}, "clip_room"),
    ({"source": ""}, "source"), ({"sink_width": "33"}, "sink_width"), ({"sink": "33 in"}, "sink")])
def test_a_wrong_field_is_named(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        lines({"left": "40 in", "right": "76 in"}, **changed)
    assert refused.value.field == field


def test_the_unstated_size_of_a_sink_is_warned_of() -> None:
    assert any("1 percent" in each.text and "ASME" in each.source for each in centerline.suggestions())


def test_the_form_says_what_an_empty_datum_stands_for() -> None:
    (datum,) = [blank for part in centerline.FORM for blank in part.blanks if blank.name == "datum"]
    assert datum.hint == f"Empty: {lines(None)[0].wall.datum}."
