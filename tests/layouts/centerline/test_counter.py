"""The counter beside a sink: what is asked stops, the published landing is advised, and what mends a line mends it."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import centerline
from portal.layouts.centerline.layout import CenterLine
from portal.layouts.centerline.mending import move, narrower
from portal.layouts.length import DimensionError, Length
from tests.layouts.centerline.test_layout import lines

WINDOW = {"left": "40 in", "right": "76 in"}  # center 58; the cabinet's is 57, and the sink fits from 56 to 58


def counter(left: str, right: str, **least: str) -> dict[str, Any]:
    return {"counter": {"left": left, "right": right} | least}


def on_window(found: list[CenterLine]) -> CenterLine:
    return next(line for line in found if line.key == "centerline:window")


def test_what_is_asked_of_the_counter_is_left_or_the_line_is_not_offered() -> None:
    """Sink on the window: 41-1/2 to 74-1/2 in. Counter to 95 in: 20-1/2 in on the right, 21-1/4 in are asked."""
    found = lines(WINDOW, **counter("15 in", "95 in", least_right="21-1/4 in"))
    best, window = found[0], on_window(found)
    assert [check.sentence for check in window.failed] == [
        "counter beside the sink, on the right: 20-1/2 in, at least 21-1/4 in: fails"]
    assert (best.key, best.at.text, best.ok) == ("centerline:near-window", "57-1/4 in", True)
    (mend,) = window.mends
    assert mend == "Move the center line 3/4 in to the left: the sink fits with its center from 56 in to 57-1/4 in."
    assert window.not_checked == ("how much counter is needed on the left",)


def test_where_nothing_is_asked_the_published_landing_is_advised_on_whichever_sides_it_fits() -> None:
    """Counter from 20 to 93 in: on the window 21-1/2 and 18-1/2 in, so neither side has 24 in."""
    found = lines(WINDOW, **counter("20 in", "93 in"))
    window = on_window(found)
    assert window.ok and [check.sentence for check in window.noted] == [
        "landing beside the sink, wider side: 21-1/2 in, at least 24 in: not as advised"]
    assert {check.source for check in window.noted} == {"NKBA Kitchen Planning Guidelines"}
    assert not any("memory" in each.source for each in centerline.suggestions())


def test_a_line_with_the_landing_on_both_sides_is_found_where_there_is_one() -> None:
    """Counter from 16 to 92-1/4 in: 24 in left and 18 in right leave 56-1/2 to 57-3/4 in for the center."""
    found = lines(WINDOW, **counter("16 in", "92-1/4 in"))
    assert (found[0].key, found[0].at.text) == ("centerline:landing", "57-3/4 in")
    assert found[0].title == "With the landing that is advised on both sides"
    assert not found[0].noted and on_window(found).noted
    assert found[0].effects[-1] == "Counter beside it: 25-1/4 in on the left, 18 in on the right."


def test_a_sink_that_runs_past_its_counter_is_no_layout_and_no_negative_width() -> None:
    window = on_window(lines(WINDOW, **counter("15 in", "73 in")))
    assert not window.ok
    assert window.effects[-1] == ("Counter beside it: 26-1/2 in on the left, none on the right, where the sink runs "
                                  "1-1/2 in past it.")
    said = " ".join([*window.effects, window.reason, *window.mends, *(check.sentence for check in window.checks)])
    assert "-1-1/2" not in said and "1-1/2 in past it, at least 0 in: fails" in said


@pytest.mark.parametrize(("changed", "mend", "advice"), [
    (counter("40 in", "74 in", least_left="1 in", least_right="1 in"), "A sink 1 in narrower fits.",
     "The sink fits nowhere on this counter: with what is to be left beside it, it is 1 in too wide."),
    ({"sink_width": "36 in"}, "A sink 1 in narrower fits.",
     ("The sink fits nowhere in this cabinet: with its clips it is 1 in too wide. Choose a narrower sink or a wider "
      "cabinet.")),
    (counter("15 in", "72 in"), "A sink 1/2 in narrower fits.",
     "Where the cabinet takes the sink, the counter does not leave what is asked, and the other way round."),
    (counter("1 in", "5 in"), "No sink fits: measure the cabinet and the counter again.",
     "The sink fits nowhere on this counter: with what is to be left beside it, it is 29 in too wide."),
])
def test_a_sink_that_fits_nowhere_says_why_and_how_much_narrower_it_must_be(
    changed: dict[str, Any], mend: str, advice: str
) -> None:
    found = lines(WINDOW, **changed)
    assert not any(line.ok for line in found) and {line.mends for line in found} == {(mend,)}
    assert found[0].advice[0].text == advice and found[0].to_json()["range"] is None


def test_what_was_not_measured_is_named_as_not_checked() -> None:
    assert lines(WINDOW)[0].not_checked == ("the counter left beside the sink",)
    assert lines(WINDOW, **counter("15 in", "100 in"))[0].not_checked == ()


@pytest.mark.parametrize("field", ["least_left", "least_right"])
def test_least_counter_is_a_length(field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        lines(WINDOW, **counter("15 in", "100 in", **{field: "24"}))
    assert refused.value.field == f"counter.{field}"


# Against a search by other code: whole sixteenths of an inch, every place along the wall tried one by one.

@st.composite
def walls(draw: st.DrawFn) -> dict[str, int | None]:
    """A wall in sixteenths of an inch."""
    left, counter_left = draw(st.integers(100, 400)), draw(st.integers(0, 400))
    return {
        "left": left, "right": left + draw(st.integers(200, 700)), "sink": draw(st.integers(150, 600)),
        "clips": draw(st.integers(0, 30)), "counter_left": counter_left,
        "counter_right": counter_left + draw(st.integers(100, 1500)),
        "least_left": draw(st.none() | st.integers(0, 400)), "least_right": draw(st.none() | st.integers(0, 400)),
        "window": draw(st.none() | st.integers(200, 900)),
    }  # fmt: skip


def _wall_json(wall: dict[str, Any], sink: Length | None = None) -> dict[str, Any]:
    def inches(name: str) -> str:
        return f"{wall[name] * 1.5875:.4f} mm"

    top = {"left": inches("counter_left"), "right": inches("counter_right")}
    top |= {name: inches(name) for name in ("least_left", "least_right") if wall[name] is not None}
    window = wall["window"] and {"left": f"{(wall['window'] - 50) * 1.5875:.4f} mm",
                                 "right": f"{(wall['window'] + 50) * 1.5875:.4f} mm"}
    return {"window": window, "cabinet": {"left": inches("left"), "right": inches("right")}, "counter": top,
            "sink_width": sink.text if sink else inches("sink"), "clip_room": inches("clips"), "source": "the sheet"}


def _holds(wall: dict[str, Any], doubled: int) -> bool:
    """Whether the sink may have its center at half of `doubled` sixteenths: written from the issue, not the product."""
    left, right = doubled - wall["sink"], doubled + wall["sink"]
    in_cabinet = left >= 2 * (wall["left"] + wall["clips"]) and right <= 2 * (wall["right"] - wall["clips"])
    least_left, least_right = wall["least_left"] or 0, wall["least_right"] or 0
    on_top = left >= 2 * (wall["counter_left"] + least_left) and right <= 2 * (wall["counter_right"] - least_right)
    return in_cabinet and on_top


@settings(max_examples=40)
@given(walls())
def test_a_sink_fits_where_every_place_tried_one_by_one_says_so(wall: dict[str, Any]) -> None:
    places = [at for at in range(0, 2 * 2000) if _holds(wall, at)]
    found = centerline.layouts(centerline.from_json(_wall_json(wall)))
    assert found[0].ok == bool(places)
    given_range = found[0].to_json()["range"]
    assert (given_range is not None) == bool(places)
    if places:
        ends = [round(float(limit["mm"]) / 25.4 * 32, 4) for limit in given_range]
        assert ends == [places[0], places[-1]]
    for line in found:
        assert line.ok == _holds(wall, round(float(line.at.mm) / 25.4 * 32)) or float(line.at.mm) * 32 / 25.4 % 1


@settings(max_examples=40)
@given(walls())
def test_what_is_said_to_mend_a_line_mends_it(wall: dict[str, Any]) -> None:
    for line in centerline.layouts(centerline.from_json(_wall_json(wall))):
        there = move(line)
        assert bool(line.mends) == (not line.ok) and (there is None or not line.ok)
        if there:
            assert _holds(wall, round(float((line.at + there.by).mm) / 25.4 * 32))
        elif not line.ok and narrower(line.wall).by < line.wall.sink:
            less = line.wall.sink - narrower(line.wall).by
            again = centerline.layouts(centerline.from_json(_wall_json(wall, less)))
            assert again[0].ok
            tight = centerline.layouts(centerline.from_json(_wall_json(wall, less + Length.of_mm("0.01"))))
            assert not tight[0].ok
