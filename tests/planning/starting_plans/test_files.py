"""Plan files: read strictly, refused with file, line and reason."""

from pathlib import Path

import pytest

from portal.planning.household.cure_times import CURE_TIMES
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from portal.planning.starting_plans.files import PlanFileError, read_plan
from tests.planning.homes import CREW
from tests.planning.houses import at
from tests.planning.starting_plans.scheduled import phases_of

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


def test_a_good_plan_is_read() -> None:
    plan = read_plan(GOOD, "bath.toml")
    out, tile = plan.phases
    assert (out.low, out.likely, out.high, out.room) == (60, 150, 240, "bath")
    assert out.takes[1].back_with == "tile"
    assert out.takes[1].take.wait == CURE_TIMES["grout_water"].hours * 60
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


def test_the_plans_are_there() -> None:
    assert {path.stem for path in PLANS} == {"stone_top", "bath", "laundry", "kitchen"}
