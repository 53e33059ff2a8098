"""One phase of the plan: added behind another, changed, taken off; and what it does is seen before it is done."""

from datetime import date

from portal.store.rows import plan_rows
from portal.store.tables import Phase, Project
from tests.house import NOW, House
from tests.web.signed_in import Desk

PLAN = "/desk/projects/7/plan"
HOURS = {"likely": "4"}


def named(name: str) -> Phase:
    found: Phase = Phase.get(Phase.name == name)
    return found


def order() -> list[str]:
    return [phase.name for phase in plan_rows.phases(7)]


def test_the_plan_lists_its_phases_with_where_who_and_how_long(manager: Desk, house: House) -> None:
    manager.open(PLAN)
    assert "Connect the sink and faucet Kitchen, Plumber, 4 h: from" in manager.says
    assert "Take out the old kitchen Kitchen, Carpenters, 16 h: done Tue Nov 17" in manager.says
    assert "Drill the holes in the stone top Kitchen, Stone crew, 2 h: held, from" in manager.says


def test_a_phase_is_added_behind_another_in_its_room_and_after_it(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/new?after={house.phases['paint']}")
    assert "Add a phase after Paint the laundry room" in manager.says
    manager.looked(manager.typed() | {"name": "Second coat", "after.0.wait": "24", **HOURS})
    assert "Second coat is on the plan." in manager.says
    added = named("Second coat")
    assert order()[order().index("Paint the laundry room") + 1] == "Second coat"
    assert added.room_id == house.rooms["laundry"]
    assert plan_rows.links_of(added.id) == [(house.phases["paint"], 24 * 60)]
    assert (added.work_low, added.work_likely, added.work_high) == (240, 240, 240)
    assert [row.position for row in plan_rows.phases(7)] == sorted({row.position for row in plan_rows.phases(7)})


def test_a_phase_is_changed_with_what_it_comes_after_and_what_holds_it(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['shelves']}")
    changed = {"crew": "Joiner", "likely": "5", "low": "4", "high": "8", "held_by": [str(house.decisions[5])],
               "after.1.phase": str(house.phases["vanity"]), "after.1.wait": "1.5"}
    manager.looked(manager.typed() | changed)
    row = named("Hang the shelves")
    assert (row.crew, row.work_low, row.work_likely, row.work_high) == ("Joiner", 240, 300, 480)
    assert plan_rows.links_of(row.id) == [(house.phases["paint"], 24 * 60), (house.phases["vanity"], 90)]
    assert plan_rows.held_by(row.id) == [house.decisions[5]]


def test_hours_out_of_order_and_a_loop_are_said_at_their_place(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['shelves']}")
    sent = manager.typed()
    manager.post(sent | {"low": "9"}, 422)
    assert manager.wrong("low") == "At best it takes no longer than it likely does."
    manager.post(sent | {"low": "1", "likely": "4", "high": "2"}, 422)
    assert "At worst" in manager.wrong("high")
    manager.open(f"{PLAN}/{house.phases['top']}")
    manager.post(manager.typed() | {"after.0.phase": str(house.phases["sink"])}, 422)
    assert "would wait for each other" in manager.wrong("after.0.phase")


def test_what_it_does_to_the_finish_is_shown_before_it_is_saved(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['drill']}")
    sent = manager.typed() | {"likely": "120", "high": "120"}
    manager.post(sent, 409)
    assert "What it does" in manager.says and "instead of" in manager.says and "days later" in manager.says
    assert "The first time that works" in manager.says  # the visit that is booked for it
    assert named("Drill the holes in the stone top").work_likely == 120
    assert manager.typed()["likely"] == "120"
    other = manager.typed() | {"likely": "150", "high": "150"}
    manager.post(other, 409)  # not what was looked at
    manager.post(manager.typed())
    assert "is changed. Done" in manager.says
    assert named("Drill the holes in the stone top").work_likely == 150 * 60


def test_what_moves_nothing_is_saved_at_once(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['shelves']}")
    manager.post(manager.typed() | {"crew": "Joiner"})
    assert "Hang the shelves is changed." in manager.says


def test_the_second_press_counts_however_much_later_it_comes(manager: Desk, house: House) -> None:
    """The desk's script says with each press when it was."""
    manager.open(f"{PLAN}/{house.phases['drill']}")
    manager.post(manager.typed() | {"likely": "120", "high": "120", "pressed_at": str(NOW - 90)}, 409)
    manager.post(manager.typed() | {"pressed_at": str(NOW - 5)})
    assert named("Drill the holes in the stone top").work_likely == 120 * 60


def test_a_promise_that_the_change_breaks_is_named(manager: Desk, house: House) -> None:
    Project.update(promised_on=date(2027, 1, 8)).where(Project.id == 7).execute()
    manager.open(f"{PLAN}/{house.phases['drill']}")
    manager.post(manager.typed() | {"likely": "400", "high": "400"}, 409)
    assert "Promised is Fri Jan 8. By the plan as booked, all is done on" in manager.says


def test_a_phase_is_taken_off_after_a_look(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['shelves']}/remove")
    assert "“Walk through the work with you” will no longer wait for it." in manager.says
    manager.looked(manager.typed())
    assert "Hang the shelves is off the plan." in manager.says
    assert "Hang the shelves" not in order()


def test_two_who_change_one_phase(manager: Desk, house: House) -> None:
    manager.open(f"{PLAN}/{house.phases['shelves']}")
    sent = manager.typed() | {"crew": "Joiner"}
    Phase.update(version=Phase.version + 1).where(Phase.id == house.phases["shelves"]).execute()
    manager.post(sent, 412)
    assert "was changed by someone else" in manager.says
