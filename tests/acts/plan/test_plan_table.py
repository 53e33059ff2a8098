"""The plan as one table: every line is saved, or none; each wrong line says what is wrong with it."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.plan.plan_table import Line, PlanRefused, fill_plan
from portal.acts.plan.starting import release_phase, start_phase
from portal.store.rows import plan_rows
from portal.store.tables import Phase
from tests.house import NOW, House

WORK = (60, 90, 120)


def fill(house: House, *lines: Line, project: int = 0) -> int:
    return fill_plan(house.manager, project or house.project, lines, now=NOW)


def wrong(house: House, *lines: Line, project: int = 0) -> list[tuple[int, str, str]]:
    """The faults; and nothing was written."""
    before = snapshot_of_plan()
    with pytest.raises(PlanRefused) as refused:
        fill(house, *lines, project=project)
    assert snapshot_of_plan() == before
    found: list[tuple[int, str, str]] = refused.value.details["faults"]
    return found


def snapshot_of_plan() -> list[Any]:
    rows = Phase.select().order_by(Phase.id)
    return [(row.__data__, plan_rows.links_of(row.id), plan_rows.held_by(row.id)) for row in rows]


def line_of(house: House, key: str, number: int, **changed: Any) -> Line:
    """The line of a phase as it is, without its links."""
    row = Phase.get_by_id(house.phases[key])
    line = Line(
        number, row.name, (row.work_low, row.work_likely, row.work_high), row.id, row.version, row.room_id, row.crew,
        not_before=row.not_before,
    )  # fmt: skip
    return replace(line, **changed)


def named(name: str, house: House) -> Phase:
    found: Phase = Phase.get((Phase.name == name) & (Phase.project == house.project))
    return found


def test_new_lines_become_phases_in_their_order_with_their_links(house: House) -> None:
    changed = fill(
        house,
        Line(3, "Frame the porch", WORK, room=house.rooms["kitchen"], crew="Carpenters", not_before=date(2027, 1, 4)),
        Line(7, "Roof the porch", (30, 30, 30), after=[(3, 90)], held_by=[1, 2]),
    )
    frame, roof = named("Frame the porch", house), named("Roof the porch", house)
    assert changed == 2
    assert (frame.position, frame.crew, frame.room_id, frame.not_before) == (
        3, "Carpenters", house.rooms["kitchen"], date(2027, 1, 4)
    )  # fmt: skip
    assert (frame.work_low, frame.work_likely, frame.work_high) == WORK
    assert (roof.position, roof.room_id, roof.crew, roof.not_before) == (7, None, "", None)
    assert plan_rows.links_of(roof.id) == [(frame.id, 90)]
    assert plan_rows.held_by(roof.id) == [house.decisions[1], house.decisions[2]]


def test_a_line_that_is_as_it_was_is_not_written(house: House) -> None:
    before = Phase.get_by_id(house.phases["out"])
    assert fill(house, line_of(house, "out", 1)) == 0
    assert Phase.get_by_id(before.id).version == before.version


def test_only_what_differs_is_written_and_counted(house: House) -> None:
    assert fill(house, line_of(house, "out", 1), line_of(house, "rough", 2, crew="Plumber and electrician",
                                                         after=[(1, 0)])) == 1
    rough = Phase.get_by_id(house.phases["rough"])
    assert (rough.crew, rough.name) == ("Plumber and electrician", "Rough plumbing and wiring")
    assert rough.started_at is not None


def test_a_link_or_a_hold_alone_is_a_change_of_the_line(house: House) -> None:
    top, walk = line_of(house, "out", 1), line_of(house, "rough", 2, after=[(1, 45)])
    assert fill(house, top, walk) == 1
    assert plan_rows.links_of(house.phases["rough"]) == [(house.phases["out"], 45)]
    assert Phase.get_by_id(house.phases["rough"]).version == walk.seen + 1  # type: ignore[operator]
    held = line_of(house, "walk", 3, held_by=[5])
    assert fill(house, held) == 1
    assert plan_rows.held_by(house.phases["walk"]) == [house.decisions[5]]


def test_phases_that_no_line_names_stay_as_they_are(house: House) -> None:
    before = {row[0]["id"]: row for row in snapshot_of_plan()}
    fill(house, Line(1, "Frame the porch", WORK))
    assert {row[0]["id"]: row for row in snapshot_of_plan() if row[0]["id"] in before} == before


def test_a_line_is_taken_off_and_its_name_is_free(house: House) -> None:
    shelves = line_of(house, "shelves", 1, remove=True)
    assert fill(house, Line(2, shelves.name, WORK), shelves) == 2
    assert Phase.get_or_none(Phase.id == house.phases["shelves"]) is None
    assert named(shelves.name, house).work_likely == 90


def test_a_new_line_that_is_ticked_off_at_once_is_nothing(house: House) -> None:
    assert fill(house, Line(1, "Frame the porch", WORK, remove=True)) == 0
    assert Phase.get_or_none(Phase.name == "Frame the porch") is None


def test_two_lines_with_one_name_are_refused_whatever_their_capitals(house: House) -> None:
    faults = wrong(house, Line(1, "Frame", WORK), Line(2, "frame", WORK), Line(4, "FRAME", WORK))
    assert faults == [
        (2, "name", "Another phase is called “frame”, too. Give each its own name."),
        (4, "name", "Another phase is called “FRAME”, too. Give each its own name."),
    ]  # fmt: skip


def test_the_name_of_another_phase_is_refused_until_that_one_has_another(house: House) -> None:
    ((number, name, message),) = wrong(house, Line(5, "Set the stone top", WORK))
    assert (number, name) == (5, "name") and "still has this name" in message


def test_each_wrong_place_is_named_with_its_line(house: House) -> None:
    faults = wrong(
        house, Line(1, "Frame", WORK, room=10**6), Line(2, "Roof", WORK, after=[(2, 0), (9, 0)], held_by=[77]),
    )  # fmt: skip
    assert faults == [
        (1, "room", "There is no such room in this project. Choose one that is."),
        (2, "held_by", "There is no decision 77. Ask it first, or leave it out."),
        (2, "after", "A phase can’t come after itself."),
        (2, "after", "There is no phase on line 9."),
    ]  # fmt: skip


def test_a_line_that_is_taken_off_is_followed_by_nobody(house: House) -> None:
    gone = line_of(house, "walk", 1, remove=True)
    assert wrong(house, gone, Line(2, "Roof", WORK, after=[(1, 0)])) == [
        (2, "after", "“Walk through the work with you” is taken off the plan. Choose another, or keep it.")
    ]  # fmt: skip


def test_the_room_of_another_house_is_none_of_this_one(house: House) -> None:
    assert wrong(house, Line(1, "Frame", WORK, room=house.rooms["bath"]), project=house.other_project) == [
        (1, "room", "There is no such room in this project. Choose one that is.")
    ]
    assert wrong(house, Line(1, "Frame", WORK, held_by=[1]), project=house.other_project) == [
        (1, "held_by", "There is no decision 1. Ask it first, or leave it out.")
    ]


def test_lines_that_wait_for_each_other_are_each_marked(house: House) -> None:
    faults = wrong(
        house, Line(1, "Frame", WORK, after=[(2, 0)]), Line(2, "Roof", WORK, after=[(1, 0)]), Line(3, "Paint it", WORK),
    )  # fmt: skip
    assert [(number, name) for number, name, _ in faults] == [(1, "after"), (2, "after")]
    assert all("would wait for each other" in message and "Frame" in message for _, _, message in faults)


def test_a_line_that_somebody_else_has_changed_is_refused_with_all_others(house: House) -> None:
    stale = line_of(house, "walk", 1, seen=99, crew="Nobody")
    ((number, name, message),) = wrong(house, stale, Line(2, "Frame", WORK))
    assert (number, name) == (1, "name") and "changed" in message
    ((number, _, _),) = wrong(house, line_of(house, "walk", 4, seen=99, remove=True))
    assert number == 4


def test_a_phase_that_is_gone_or_of_another_house_is_no_line_here(house: House) -> None:
    gone = Line(1, "Frame", WORK, phase=10**6, seen=1)
    said = (1, "name", "This phase is no longer on the plan. Open the plan afresh.")
    assert wrong(house, gone) == [said]
    assert wrong(house, replace(line_of(house, "walk", 1), name="Frame"), project=house.other_project)[0] == said


def test_started_and_held_phases_are_not_taken_off(house: House) -> None:
    faults = wrong(house, line_of(house, "cabinets", 1, remove=True), line_of(house, "drill", 2, remove=True))
    assert [(number, name) for number, name, _ in faults] == [(1, "name"), (2, "name")]
    assert "has been started and stays" in faults[0][2]
    assert "is held by decision 1, which is not approved. Release it instead" in faults[1][2]


def test_a_released_phase_is_not_taken_off_either(house: House) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="They said so by phone", now=NOW)
    ((_, _, message),) = wrong(house, line_of(house, "drill", 1, remove=True))
    assert "was released without an approval" in message


def test_a_hold_that_is_still_open_is_not_dropped_in_a_table(house: House) -> None:
    ((number, name, message),) = wrong(house, line_of(house, "drill", 6))
    assert (number, name) == (6, "held_by") and "Release it instead" in message


def test_a_hold_whose_decision_is_settled_may_go(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert fill(house, line_of(house, "drill", 1)) == 1
    assert plan_rows.held_by(house.phases["drill"]) == []


def test_what_held_work_that_has_started_stays_in_the_table(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    ((_, name, message),) = wrong(house, line_of(house, "drill", 1))
    assert name == "held_by" and "what held it stays" in message


def test_the_same_fault_is_told_once(house: House) -> None:
    faults = wrong(house, Line(1, "Frame", WORK, after=[(9, 0), (9, 30)], held_by=[77, 77]))
    assert [name for _, name, _ in faults] == ["held_by", "after"]


def test_an_empty_table_changes_nothing(house: House) -> None:
    assert fill(house) == 0
