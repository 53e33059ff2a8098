"""Waits of a plan that only a label knows: found, entered, and left as they are where they are not."""

import pytest

from portal.planning.household.cure_times import read_cures
from portal.planning.starting_plans.files import PlanFileError, read_plan
from portal.planning.starting_plans.label_waits import entered_wait, label_waits, with_label_waits
from portal.planning.starting_plans.plans import PlanPart, StartingPlan, combine

TABLE = read_cures("".join(
    f'[[cures]]\nkey = "{key}"\nname = "{key} must dry"\nwhat = "{key}"\ngates = ["next", "walk"]\n{more}'
    for key, more in (("wax", ""), ("glue", ""), ("tile", 'hours = [24, 48]\nsource = "a sheet"\n'))
))
FLOOR = """
title = "A floor"
source = "us"
[[rooms]]
key = "hall"
name = "Hall"
[[phases]]
key = "lay"
name = "Lay it"
hours = [1, 2, 3]
takes = [{ service = "floor", until = "done", gate = "wax" }, { service = "dust" }]
[[phases]]
key = "rail"
name = "Set the rail"
hours = [1, 2, 3]
after = [{ phase = "lay", cure = "wax" }]
[[phases]]
key = "hang"
name = "Hang the door"
hours = [1, 2, 3]
after = [{ phase = "lay", cure = "tile" }, { phase = "rail", cure = "glue" }]
[[phases]]
key = "stop"
name = "Set the stop"
hours = [1, 2, 3]
after = [{ phase = "hang", cure = "glue", wait_hours = 2 }]
"""


def floor(text: str = FLOOR) -> StartingPlan:
    return read_plan(text, "floor.toml", TABLE)


def after(plan: StartingPlan, key: str) -> tuple[tuple[str, int], ...]:
    return next(phase.after for phase in plan.phases if phase.key == key)


def test_a_cure_of_the_table_is_waited_for_at_its_longest_and_hours_win_over_it() -> None:
    assert after(floor(), "hang") == (("lay", 48 * 60), ("rail", 0))
    assert after(floor(), "stop") == (("hang", 120),)


def test_what_only_a_label_knows_is_asked_for_with_what_waits_for_it() -> None:
    assert label_waits(floor()) == {"wax": ("Lay it", "Set the rail"), "glue": ("Hang the door",)}


def test_what_is_entered_stands_wherever_it_is_waited_for_and_is_asked_no_more() -> None:
    entered = with_label_waits(floor(), {"wax": 90, "tile": 5})
    assert after(entered, "rail") == (("lay", 90),)
    assert [one.take.wait for one in entered.phases[0].takes] == [90, 0]
    assert after(entered, "hang") == (("lay", 48 * 60), ("rail", 0)), "the table's own figure stays"
    assert label_waits(entered) == {"glue": ("Hang the door",)}


def test_in_a_plan_of_several_it_is_asked_for_still() -> None:
    both = combine([PlanPart("up", floor()), PlanPart("down", with_label_waits(floor(), {"wax": 60}))])
    assert both.phases[1].rests == (("up.lay", "wax"),)
    assert label_waits(both) == {"wax": ("Lay it", "Set the rail"), "glue": ("Hang the door",)}
    later = with_label_waits(both, {"glue": 30, "wax": 45})
    assert after(later, "up.rail") == (("up.lay", 45),) and after(later, "down.rail") == (("down.lay", 60),)


def test_an_entered_wait_is_never_taken_for_none() -> None:
    assert (entered_wait(0), entered_wait(1), entered_wait(90)) == (1, 1, 90)


@pytest.mark.parametrize(("wrong", "words"), [
    ('cure = "tar"', "'tar' is not known; use one of wax, glue, tile"), ("cure = 5", "is no key"),
])
def test_a_cure_that_is_not_in_the_table_is_refused_on_its_line(wrong: str, words: str) -> None:
    with pytest.raises(PlanFileError, match=words) as refused:
        floor(FLOOR.replace('cure = "wax"', wrong))
    assert refused.value.line == 16
