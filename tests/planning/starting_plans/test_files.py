"""Plan files: read strictly, refused with file, line and reason."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.household.cure_times import GATES
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from portal.planning.starting_plans.files import PlanFileError, read_plan
from portal.planning.starting_plans.plans import HOUSE, StartingPhase, StartingPlan, phases_of
from portal.planning.starting_plans.starter_text import toml_value, write_plan
from portal.planning.starting_plans.toml_lines import line_of, lines_of
from tests.planning.homes import CREW
from tests.planning.houses import at

PLANS = sorted((Path(__file__).parents[3] / "content" / "plans").glob("*.toml"))

GOOD = """\
title = "Bath"
source = "common practice"

[[rooms]]
key = "bath"
name = "Bath"
services = ["water", "drain", "toilet"]

[[phases]]
key = "out"
name = "Take out"
hours = [1, 2.5, 4]
takes = [
    { service = "dust" },  # cut # here
    { service = "toilet", until = "done", back_with = "tile", gate = "grout_water" },
]

[[phases]]
key = "tile"
name = "Tile"
hours = [1, 2, 4]
after = ["out", { phase = "out", wait_hours = 0.5 }]
held_by = ["color"]

[[decisions]]
key = "color"
question = "Which color?"
[[decisions.options]]
key = "a"
title = "Gray"
[[decisions.options]]
key = "b"
title = "White"

[[deliveries]]
item = "Tile"
phases = ["tile"]
"""


NESTED = '''\
a = "[[x]] # no"
b = [ # one
  1,
  [2, "]"],
  { c = "}", d = [
    3] },
]
e = """
[[f]]
"q" = 1"""
[[f]]
g = """
#"""
[[f.h]]
[[f]]
[[f.h]]
i = 2024-01-01
'''


def test_a_good_plan_is_read() -> None:
    plan = read_plan(GOOD, "bath.toml")
    out, tile = plan.phases
    assert (out.low, out.likely, out.high, out.room) == (60, 150, 240, "bath")
    assert out.takes[1].back_with == "tile"
    assert out.takes[1].take.wait == GATES["grout_water"].hours * 60
    assert tile.after == (("out", 0), ("out", 30))
    assert [option["title"] for option in plan.decisions[0].options] == ["Gray", "White"]
    assert plan.deliveries[0].phases == ("tile",)


@pytest.mark.parametrize(
    ("old", "new", "line", "part"),
    [
        ('title = "Bath"', 'title = ', 1, "TOML"),
        ('title = "Bath"', "", 1, "title"),
        ('source = "common practice"', 'sauce = "x"', 2, "sauce"),
        ('"toilet"]', '"kettle"]', 7, "rooms[0].services[2].service"),
        ("hours = [1, 2.5, 4]", "hours = [3, 2.5, 4]", 12, "rising order"),
        ("hours = [1, 2.5, 4]", "hours = [1, 2.5]", 12, "three"),
        ("hours = [1, 2.5, 4]", 'hours = [1, 2.5, "4"]', 12, "hours"),
        ("hours = [1, 2.5, 4]", "hours = [1, 2.5, inf]", 12, "hours"),
        ("hours = [1, 2.5, 4]", "hours = [1, 2.5, nan]", 12, "hours"),
        ('{ service = "dust" }', '{ service = "fog" }', 14, "takes[0].service"),
        ('until = "done", back', 'until = "later", back', 15, "takes[1].until"),
        ('back_with = "tile"', 'back_with = "tiles"', 15, "no phase here has the key 'tiles'"),
        ('back_with = "tile"', "back_with = 2", 15, "no key"),
        ('service = "toilet"', 'service = "bath"', 15, "bath lists no bath"),
        ('service = "toilet"', 'room = "attic", service = "toilet"', 15, "no room"),
        ('key = "tile"', 'key = "out"', 19, "twice"),
        ('key = "tile"', 'key = "house"', 19, "house"),
        ('name = "Tile"', "name = 3", 20, "text"),
        ('after = ["out"', 'after = ["outs"', 22, "no phase"),
        ('after = ["out"', 'after = ["tile"', 22, "wait for each other"),
        ("wait_hours = 0.5", "wait_hours = -0.5", 22, "wait_hours"),
        ("wait_hours = 0.5", "wait_days = 1", 22, "wait_days"),
        ('held_by = ["color"]', 'held_by = ["colour"]', 23, "no decision"),
        ('question = "Which color?"', 'question = "Which color?"\nlead_days = 1.5', 28, "working days"),
        ('key = "b"', 'key = "a"', 32, "twice"),
        ('title = "White"', 'title = "White"\nrecommended = 1', 34, "true or false"),
        ('title = "White"', 'title = "White"\ncost_cents = true', 34, "whole number"),
        ('title = "White"', "", 31, "title"),
        ('item = "Tile"', 'item = ""', 36, "text"),
        ('phases = ["tile"]', 'phases = ["tile", "roof"]', 37, "no phase"),
    ],
)
def test_a_wrong_plan_is_refused_with_file_line_and_reason(old: str, new: str, line: int, part: str) -> None:
    wrong = GOOD.replace(old, new, 1)
    assert wrong != GOOD
    with pytest.raises(PlanFileError) as refused:
        read_plan(wrong, "bath.toml")
    error = refused.value
    assert (error.filename, error.line) == ("bath.toml", line), error
    assert part in error.reason
    assert str(error).startswith(f"bath.toml:{line}: ")


def test_a_plan_without_phases_or_with_one_option_is_refused() -> None:
    with pytest.raises(PlanFileError, match="at least one phase"):
        read_plan('title = "Bath"\nsource = "common practice"', "bath.toml")
    alone = GOOD.replace('[[decisions.options]]\nkey = "b"\ntitle = "White"\n', "")
    with pytest.raises(PlanFileError, match="at least two options"):
        read_plan(alone, "bath.toml")


def test_lines_are_found_through_comments_strings_and_nesting() -> None:
    text = NESTED
    tomllib.loads(text)
    lines = lines_of(text)
    assert lines["a",] == 1
    assert [lines["b", n] for n in (0, 1, 2)] == [3, 4, 5]
    assert lines["b", 2, "d", 0] == 6
    assert lines["f", 0] == 11
    assert lines["f", 0, "g"] == 12
    assert (lines["f", 0, "h", 0], lines["f", 1], lines["f", 1, "h", 0]) == (14, 15, 16)
    assert line_of(lines, ("f", 1, "h", 0, "i", "deep")) == 17
    assert line_of(lines, ("nowhere",)) == 1
    assert ("f", 2) not in lines


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=12)
TREES = st.recursive(
    WORDS | st.integers(-9, 9) | st.booleans(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["a", "b", "c"]), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=60)
@given(st.dictionaries(st.sampled_from(["p", "q", "r"]), TREES, max_size=3))
def test_every_key_and_element_of_any_text_has_its_line(tree: dict[str, object]) -> None:
    """What tomllib reads, the lines name; one key a line, so its line is known."""
    text = "\n".join(f"{key} = {toml_value(value)}" for key, value in tree.items())
    assert tomllib.loads(text) == tree
    lines = lines_of(text)
    for row, (key, value) in enumerate(tree.items(), 1):
        assert {path: lines.get(path) for path in _paths((key,), value)} == dict.fromkeys(_paths((key,), value), row)


def _paths(path: tuple[str | int, ...], value: object) -> list[tuple[str | int, ...]]:
    inner: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    return [path, *(deeper for key, one in inner for deeper in _paths((*path, key), one))]


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_plan_of_the_house_can_be_started_from(path: Path) -> None:
    """It reads, says where its times come from, has questions, and can be scheduled."""
    plan = read_plan(path.read_text(encoding="utf-8"), path.name)
    assert plan.source == "common practice"
    assert plan.decisions and all(phase.crew for phase in plan.phases)
    assert {key for phase in plan.phases for key in phase.held_by} == {decision.key for decision in plan.decisions}
    starts = at(CREW, "2026-11-30 08:00")
    done = schedule(Plan(phases_of(plan), CREW, starts), starts)
    assert done.finish > starts
    assert read_plan(write_plan(plan), "written.toml") == plan


def test_the_plans_are_there() -> None:
    assert {path.stem for path in PLANS} == {"stone_top", "bath", "laundry", "kitchen"}


@settings(max_examples=40)
@given(WORDS.filter(str.strip), WORDS, st.lists(st.integers(0, 9_999), min_size=3, max_size=3).map(sorted))
def test_a_written_plan_reads_back_the_same(name: str, note: str, times: list[int]) -> None:
    low, likely, high = times
    phase = StartingPhase("one", name.strip(), low, likely, high, HOUSE, note=note.strip())
    plan = StartingPlan(name.strip(), note.strip(), "our own work", (), (phase,))
    assert read_plan(write_plan(plan), "own.toml") == plan
