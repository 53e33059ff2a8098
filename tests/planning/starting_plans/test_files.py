"""Plan files: read strictly, refused with file, line and reason."""

from pathlib import Path

import pytest

from portal.content import cures
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


FULL = """\
title = "A bath"
about = " One bath, made new. "
source = "our own work"
rooms = [{ key = "hall", name = "Hall" }, { key = "bath", name = "Guest bath", services = ["toilet"] }]

[[phases]]
key = "out"
name = "Take out"
room = "bath"
crew = "Carpenter"
hours = [0.5, 1, 2000]
note = "Dusty."

[[phases]]
key = "tile"
name = "Tile"
hours = [1, 1, 1]
after = [{ phase = "out", wait_hours = 1.5 }]
held_by = ["color", "joint"]

[[phases.takes]]
service = "toilet"
room = "bath"
until = "done"
back_with = "hand_over"
wait_hours = 2
instead = "Use the one upstairs."

[[phases]]
key = "hand_over"
name = "Hand over"
room = "house"
hours = [0, 0, 0]

[[decisions]]
key = "color"
kind = "finish"
question = "Which color?"
lead_days = 0
room = "bath"
[[decisions.options]]
key = "a"
title = "Gray"
effects = "None."
recommended = true
cannot_be_undone = "The joint."
cost_cents = -500
days = 2
[[decisions.options]]
key = "b"
title = "White"

[[decisions]]
key = "joint"
question = "Which joint?"
lead_days = 260
options = [{ key = "a", title = "Thin" }, { key = "b", title = "Wide" }]

[[deliveries]]
item = "Tile"
phases = ["tile", "out"]
"""


def test_a_good_plan_is_read() -> None:
    plan = read_plan(GOOD, "bath.toml", cures())
    out, tile = plan.phases
    assert (out.low, out.likely, out.high, out.room) == (60, 150, 240, "bath")
    assert out.takes[1].back_with == "tile"
    assert out.takes[1].take.wait == cures()["grout_water"].hours * 60
    assert tile.after == (("out", 0), ("out", 30))
    assert [option["title"] for option in plan.decisions[0].options] == ["Gray", "White"]
    assert plan.deliveries[0].phases == ("tile",)
    assert (plan.title, plan.about, plan.source) == ("Bath", "", "common practice")
    assert [(room.key, room.name) for room in plan.rooms] == [("bath", "Bath")]
    assert [service.service for service in plan.rooms[0].services] == ["water", "drain", "toilet"]
    (color,) = plan.decisions
    assert (color.key, color.kind, color.question, color.lead_days, color.room) == (
        "color", "general", "Which color?", 1, "bath",
    )


def test_everything_that_may_be_said_of_a_plan_is_read() -> None:
    """Each part with every key that it knows, each with a value of its own."""
    plan = read_plan(FULL, "bath.toml", cures())
    assert (plan.title, plan.about, plan.source) == ("A bath", "One bath, made new.", "our own work")
    hall, bath = plan.rooms
    assert (hall.key, hall.name, bath.key, bath.name) == ("hall", "Hall", "bath", "Guest bath")
    out, tile, hand_over = plan.phases
    assert (out.key, out.name, out.room, out.crew, out.note) == ("out", "Take out", "bath", "Carpenter", "Dusty.")
    assert (out.low, out.likely, out.high) == (30, 60, 120_000)
    assert tile.room == "hall", "the first room, when none is named"
    assert tile.after == (("out", 90),) and tile.held_by == ("color", "joint")
    assert (hand_over.low, hand_over.likely, hand_over.high, hand_over.room) == (0, 0, 0, "house")
    (taken,) = tile.takes
    assert (taken.room, taken.back_with, taken.take.wait, taken.take.back_with) == ("bath", "hand_over", 120, None)
    assert (taken.take.service, taken.take.instead) == ("toilet", "Use the one upstairs.")
    color, joint = plan.decisions
    assert (color.kind, color.lead_days, color.room) == ("finish", 0, "bath")
    assert (joint.kind, joint.lead_days, joint.room) == ("general", 260, "hall")
    assert color.options[0] == {
        "key": "a", "title": "Gray", "effects": "None.", "recommended": True, "cannot_be_undone": "The joint.",
        "cost_cents": -500, "days": 2,
    }
    assert [(one.item, one.phases) for one in plan.deliveries] == [("Tile", ("tile", "out"))]


def test_without_rooms_everything_is_in_the_house() -> None:
    text = 'title = "Paint"\nsource = "us"\n[[phases]]\nkey = "paint"\nname = "Paint"\nhours = [1, 2, 3]'
    plan = read_plan(text, "paint.toml", cures())
    assert (plan.rooms, plan.phases[0].room, plan.decisions, plan.deliveries) == ((), "house", (), ())


def test_a_dotted_key_within_braces_is_refused_on_its_line_too() -> None:
    """Reading the lines of such a file once went on for ever."""
    wrong = GOOD.replace('{ service = "dust" }', '{ service = "dust", room.name = "bath" }')
    with pytest.raises(PlanFileError) as refused:
        read_plan(wrong, "bath.toml", cures())
    assert refused.value.line == 14


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
        ('key = "tile"', 'key = "Tile!"', 19, "'Tile!' is no key; use small letters, digits and _"),
        ('key = "tile"', "key = 5", 19, "5 is no key"),
        ('key = "tile"', 'key = "1_tile"', 19, "no key"),
        ('name = "Tile"', "name = 3", 20, "text"),
        ('name = "Tile"', 'name = "  "', 20, "give some text"),
        ('name = "Bath"', "", 4, "name: give some text"),
        ("hours = [1, 2.5, 4]", "hours = [1, 2.5, 2001]", 12, "give hours from 0 to 2000"),
        ("hours = [1, 2.5, 4]", "hours = [1, 2.5, true]", 12, "give hours"),
        ("hours = [1, 2.5, 4]", "hours = 4", 12, "give a list"),
        ("hours = [1, 2.5, 4]", "", 9, "hours: give a list"),
        ("hours = [1, 2.5, 4]", 'hours = [1, 2.5, 4]\nnote = 5', 13, "give some text"),
        ('{ service = "dust" }', '"dust"', 14, 'give a table such as { service = "sink", until = "done" }'),
        ('{ service = "dust" }', '{ service = "dust", room = 5 }', 14, "5 is no key"),
        ('services = ["water", "drain", "toilet"]', 'services = "water"', 7, "rooms[0].services: give a list"),
        ('after = ["out"', 'after = ["outs"', 22, "no phase"),
        ('after = ["out"', 'after = ["tile"', 22, "wait for each other"),
        ("wait_hours = 0.5", "wait_hours = -0.5", 22, "wait_hours"),
        ("wait_hours = 0.5", "wait_days = 1", 22, "wait_days"),
        ('held_by = ["color"]', 'held_by = ["colour"]', 23, "no decision"),
        ('question = "Which color?"', 'question = "Which color?"\nlead_days = 1.5', 28, "working days from 0 to 260"),
        ('question = "Which color?"', "question = 5", 27, "decisions[0].question: give some text"),
        ('question = "Which color?"', 'question = "Which color?"\nlead_days = 261', 28, "working days"),
        ('question = "Which color?"', 'question = "Which color?"\nlead_days = -1', 28, "working days"),
        ('question = "Which color?"', 'question = "Which color?"\nlead_days = true', 28, "working days"),
        ('question = "Which color?"', 'question = "Which color?"\nroom = "attic"', 28, "no room here has the key"),
        ('question = "Which color?"', 'question = "Which color?"\nkind = 5', 28, "no key"),
        ('key = "b"', 'key = "a"', 32, "twice"),
        ('title = "White"', 'title = "White"\nrecommended = 1', 34, "give true or false"),
        ('title = "White"', 'title = "White"\neffects = 1', 34, "give text"),
        ('title = "White"', 'title = "White"\nprice = 1', 34, "is not known here; use key, title, effects"),
        ('title = "White"', 'title = " "', 33, "give some text"),
        ('title = "White"', 'title = "White"\ncost_cents = true', 34, "whole number"),
        ('title = "White"', "", 31, "title"),
        ('item = "Tile"', 'item = ""', 36, "text"),
        ('item = "Tile"', 'thing = "Tile"', 36, "is not known here; use item, phases"),
        ('phases = ["tile"]', "phases = []", 37, "name the phases that wait for it"),
        ('phases = ["tile"]', 'phases = "tile"', 37, "give a list"),
        ('phases = ["tile"]', 'phases = ["tile", "roof"]', 37, "no phase"),
    ],
)
def test_a_wrong_plan_is_refused_with_file_line_and_reason(old: str, new: str, line: int, part: str) -> None:
    wrong = GOOD.replace(old, new, 1)
    assert wrong != GOOD
    with pytest.raises(PlanFileError) as refused:
        read_plan(wrong, "bath.toml", cures())
    error = refused.value
    assert (error.filename, error.line) == ("bath.toml", line), error
    assert part in error.reason
    assert str(error).startswith(f"bath.toml:{line}: ")


def test_a_plan_without_phases_or_with_one_option_is_refused() -> None:
    with pytest.raises(PlanFileError, match="at least one phase"):
        read_plan('title = "Bath"\nsource = "common practice"', "bath.toml", cures())
    alone = GOOD.replace('[[decisions.options]]\nkey = "b"\ntitle = "White"\n', "")
    with pytest.raises(PlanFileError, match="at least two options"):
        read_plan(alone, "bath.toml", cures())


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_plan_of_the_house_can_be_started_from(path: Path) -> None:
    """It reads, says where its times come from, has questions, and can be scheduled."""
    plan = read_plan(path.read_text(encoding="utf-8"), path.name, cures())
    assert plan.source == "common practice"
    assert plan.decisions and all(phase.crew for phase in plan.phases)
    assert {key for phase in plan.phases for key in phase.held_by} == {decision.key for decision in plan.decisions}
    starts = at(CREW, "2026-11-30 08:00")
    done = schedule(Plan(phases_of(plan), CREW, starts), starts)
    assert done.finish > starts


def test_the_plans_are_there() -> None:
    assert {path.stem for path in PLANS} == {"stone_top", "bath", "laundry", "kitchen"}


def test_two_options_may_not_both_be_recommended() -> None:
    twice = GOOD.replace('title = "Gray"', 'title = "Gray"\nrecommended = true').replace(
        'title = "White"', 'title = "White"\nrecommended = true'
    )
    with pytest.raises(PlanFileError, match="recommend at most one option"):
        read_plan(twice, "bath.toml", cures())


def test_what_is_no_table_where_one_is_needed_is_refused() -> None:
    with pytest.raises(PlanFileError, match="phases.0.: give a table with key, name, room, crew, hours, after"):
        read_plan('title = "x"\nsource = "y"\nphases = ["out"]', "bath.toml", cures())
    with pytest.raises(PlanFileError, match="bath.toml:3: rooms: give a list"):
        read_plan('title = "x"\nsource = "y"\nrooms = 5', "bath.toml", cures())


def test_two_decisions_of_one_key_are_refused() -> None:
    with pytest.raises(PlanFileError, match="decisions.1..key: color is there twice"):
        read_plan(FULL.replace('key = "joint"', 'key = "color"').replace(', "joint"', ""), "bath.toml", cures())
