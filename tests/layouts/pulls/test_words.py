"""What is said of pulls, whole: a spoon drawer of 15 by 6 in and a sink door of 15 by 22 in, a pull of 160 mm."""

from portal.layouts.pulls import words
from portal.layouts.pulls.layout import PullsLayout
from tests.layouts.pulls.test_layout import BANK, found

TWO = {"fronts": BANK["fronts"][2:4]}


def middle(**changed: object) -> PullsLayout:
    return next(one for one in found(**(TWO | changed)) if one.height == "middle" and not one.share)


def test_pulls_holes_and_heights_are_counted() -> None:
    layout = middle()
    assert layout.effects == ("2 pulls, 4 holes.",), "the drawer hangs higher than the door: no line could run through"
    assert layout.reason == "Fits; pulls at 2 heights; 4 holes to drill."
    deep = {"name": "deep drawer", "type": "drawer", "width": "33 in", "height": "12 in", "from_left": "0 in",
            "from_floor": "24 in"}
    beside = next(one for one in found(fronts=[deep, BANK["fronts"][2]]) if one.height == "middle" and not one.share)
    assert beside.effects == ("2 pulls, 4 holes.", "No line runs through: each front has its own height.")
    assert beside.reason == "Fits; no two fronts share a line; pulls at 2 heights; 4 holes to drill."


def test_stacked_drawers_are_not_told_that_no_line_runs_through() -> None:
    stack = [{"name": name, "type": "drawer", "width": "18 in", "height": "6 in", "from_left": "3 in",
              "from_floor": low} for name, low in (("low", "5 in"), ("mid", "11-1/8 in"), ("high", "17-1/4 in"))]
    best = found(fronts=stack, drawers=None, two_over=None)[0]
    assert best.effects == ("3 pulls, 6 holes.", "The pulls stand one above the other.")
    assert best.reason == "Fits; pulls at 3 heights; 6 holes to drill."


def test_one_pull_is_no_several_pulls() -> None:
    knob = {"length": "1-1/4 in", "projection": "1 in"}
    (one,) = found(fronts=BANK["fronts"][3:], drawers=None, pull=knob)
    assert one.effects == ("1 pull, 1 hole.",)
    assert one.reason == "Fits; pulls at one height; 1 hole to drill."
    assert words.work(one) == "Drill one hole for one pull."


def test_the_checks_are_called_by_what_they_measure() -> None:
    """Drawer: 3 in to its edges, 190.5 - 87.5 = 103 mm beside the pull. Door: 143.5 - 87.5 = 56 mm above it."""
    assert [check.sentence for check in middle().checks] == [
        "hole to edge, spoon drawer: 3 in, at least 3/4 in: passes",
        "pull within its front, spoon drawer: about 4-1/16 in, at least 0 in: passes",
        "hole to edge, sink door: 1-1/4 in, at least 3/4 in: passes",
        "pull within its front, sink door: about 2-3/16 in, at least 0 in: passes"]
    named = middle(pull=BANK["pull"] | {"centers": "6-5/16 in"}).checks[0]
    assert named.sentence.startswith("metric pull by its inch name, 6-5/16 in is the inch name of a 160 mm pull; each")
    assert named.source == "the maker's sheet"


def test_the_sheet_says_from_hole_to_hole_and_the_drill() -> None:
    assert words.sizes(middle().bank) == (
        "Hole to hole of each pull: 160 mm exactly. Drill size: from the maker's sheet.",
        "Drill 160 mm, not 6-5/16 in: the inch name is off by 0.3375 mm.")
    inch = BANK["pull"] | {"centers": "5 in", "drill": "3/16 in"}
    assert words.sizes(middle(pull=inch).bank) == (
        "Hole to hole of each pull: 5 in (127 mm). Drill size: 3/16 in (4.7625 mm).",)
    knob = {"length": "1-1/4 in", "projection": "1 in"}
    assert words.sizes(middle(pull=knob).bank) == ("One hole for each pull. Drill size: from the maker's sheet.",)
    assert words.work(middle()) == "Drill four holes for two pulls."


def test_a_metric_pull_is_told_in_mm_and_an_inch_pull_in_inches() -> None:
    """Holes of the drawer: 190.5 - 80 = 110.5 and 270.5 mm; in inches 7-1/2 - 2-1/2 = 5 and 10 in."""
    layout = middle()
    said = words.description(layout, [("A", layout.bank.fronts[0]), ("B", layout.bank.fronts[1])])
    assert "A, spoon drawer (drawer), 15 in wide and 6 in high: 110.5 mm and 270.5 mm from its left" in said
    assert ("B, sink door (door, hinges left), 15 in wide and 22 in high: 349.25 mm (13-3/4 in) from its left "
            "edge, 63.5 mm (2-1/2 in)") in said
    inch = middle(pull=BANK["pull"] | {"centers": "5 in"})
    assert "5 in (127 mm) and 10 in (254 mm) from its left edge, 3 in (76.2 mm) from its top edge" in (
        words.description(inch, [("A", inch.bank.fronts[0])]))
    assert words.drawing(layout) == "Pulls: In the middle of each drawer"


def test_a_hole_is_named_by_front_and_number_and_its_drill() -> None:
    layout = middle(pull=BANK["pull"] | {"drill": "5 mm"})
    front = layout.bank.fronts[0]
    assert words.hole_note(layout.bank, front, 2) == "spoon drawer, hole 2, drill 5 mm"
    assert words.hole_note(middle().bank, front, 2) == "spoon drawer, hole 2"
    assert [mark.name for mark in layout.marks][:3] == ["spoon drawer, hole 1"] * 2 + ["spoon drawer, hole 2"]


def test_lines_and_heights_are_those_of_the_fronts() -> None:
    three = next(one for one in found() if one.key == "pulls:middle")
    assert (three.in_line, three.heights, three.holes) == (2, 3, 8)
    assert three.to_json()["lines"] == [{"from_floor": {"text": "31 in", "mm": 787.4},
                                         "fronts": ["top drawer", "spoon drawer"]}]
