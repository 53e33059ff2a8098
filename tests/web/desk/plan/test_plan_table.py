"""The plan as one table: filled in, checked and saved as a whole."""

from typing import Any

import pytest

from portal.store.rows import plan_rows
from portal.store.tables import Phase, PlannedQuestion
from tests.house import House
from tests.household import PHASES
from tests.web.signed_in import Desk

PLAN = "/desk/projects/7/plan"
EMPTY = len(PHASES) + 1
NUMBER = {key: number for number, key in enumerate(PHASES, 1)}


Values = dict[str, str | list[str]]
NAME = {key: values[1] for key, values in PHASES.items()}


def line(key: str, **values: Any) -> dict[str, Any]:
    return _sent(NUMBER[key], values)


def new(number: int = 0, **values: Any) -> dict[str, Any]:
    return _sent(EMPTY + number, values)


def _sent(number: int, values: dict[str, Any]) -> dict[str, Any]:
    """`after`: names, each alone or with the hours of its wait."""
    sent = {f"lines.{number}.{name}": value for name, value in values.items() if name != "after"}
    pairs = [one if isinstance(one, tuple) else (one, "") for one in values.get("after", ())]
    for row, (name, wait) in enumerate(pairs):
        sent |= {f"lines.{number}.after.{row}.phase": name, f"lines.{number}.after.{row}.wait": wait}
    return sent


def without_links(key: str) -> dict[str, Any]:
    rows = range(len(PHASES[key][4]))
    return {f"lines.{NUMBER[key]}.after.{row}.{name}": "" for row in rows for name in ("phase", "wait")}


def typed(desk: Desk, *changes: dict[str, Any]) -> dict[str, Any]:
    desk.open(PLAN)
    sent = desk.typed()
    for change in changes:
        sent |= change
    return sent


def save(desk: Desk, *changes: dict[str, Any], status: int = 200) -> Desk:
    sent = typed(desk, *changes)
    return desk.looked(sent) if status == 200 else desk.post(sent, status)


def versions() -> dict[int, int]:
    return {row.id: row.version for row in Phase.select()}


def test_saving_what_is_there_changes_nothing(manager: Desk, house: House) -> None:
    before = versions()
    save(manager)
    assert "Nothing on the plan was changed." in manager.says
    assert versions() == before


def test_new_lines_come_after_each_other_by_their_names(manager: Desk, house: House) -> None:
    room = str(house.rooms["laundry"])
    save(manager,
         new(name="Lay the laundry floor", crew="Tile setter", work="6 / 8 / 12", room=room,
             after=[(NAME["paint"], "24")]),
         new(1, name="Seal the laundry floor", crew="Tile setter", work="1.5", held_by=["1", "4"],
             after=[("lay the  LAUNDRY floor", "12"), NAME["top"]], not_before="2026-12-14"))  # fmt: skip
    assert "The plan is saved: 2 lines changed." in manager.says
    floor, seal = Phase.select().where(Phase.name.contains("laundry floor")).order_by(Phase.id)
    assert (floor.work_low, floor.work_likely, floor.work_high) == (360, 480, 720)
    assert plan_rows.links_of(floor.id) == [(house.phases["paint"], 24 * 60)]
    assert plan_rows.links_of(seal.id) == [(floor.id, 12 * 60), (house.phases["top"], 0)]
    assert plan_rows.held_by(seal.id) == [house.decisions[1], house.decisions[4]]
    assert (seal.work_low, seal.work_high, str(seal.not_before)) == (90, 90, "2026-12-14")


def test_a_phase_with_a_new_name_is_still_meant_by_its_old_one(manager: Desk, house: House) -> None:
    save(manager, line("paint", name="Paint the wash room"))
    assert "1 line changed" in manager.says
    assert plan_rows.links_of(house.phases["shelves"]) == [(house.phases["paint"], 24 * 60)]


def test_only_the_line_that_differs_is_written(manager: Desk, house: House) -> None:
    before = versions()
    save(manager, line("sink", crew="Plumber and helper"))
    assert "1 line changed" in manager.says
    changed = {phase for phase, version in versions().items() if before[phase] != version}
    assert changed == {house.phases["sink"]}


def test_links_and_holds_alone_are_a_change(manager: Desk, house: House) -> None:
    save(manager, without_links("shelves"), line("shelves", held_by=["5"]))
    assert plan_rows.links_of(house.phases["shelves"]) == []
    assert plan_rows.held_by(house.phases["shelves"]) == [house.decisions[5]]


def test_a_loop_is_refused_by_the_names_in_it(manager: Desk, house: House) -> None:
    before = versions()
    save(manager, line("top", after=[NAME["sink"]]), new(name="Extra", work="4"), status=422)
    said = manager.wrong(f"lines.{NUMBER['top']}.after.0.phase")
    for name in ("Set the stone top", "Drill the holes in the stone top", "Connect the sink and faucet"):
        assert name in said
    assert manager.wrong(f"lines.{NUMBER['sink']}.after.0.phase") == said
    assert manager.typed()[f"lines.{EMPTY}.name"] == "Extra"
    assert versions() == before


def test_every_wrong_line_is_marked_and_nothing_is_half_written(manager: Desk, house: House) -> None:
    before = versions()
    save(
        manager, line("top", work="long"), line("drill", after=[("", "3")]), line("sink", work="6 / 4 / 8"),
        line("grout", after=[(NAME["splash"], "soon")]), line("paint", name=""), line("walk", not_before="soon"),
        new(name="Extra", work="4"), new(1, crew="Painter"), status=422,
    )  # fmt: skip
    assert "one number such as 8" in manager.wrong(f"lines.{NUMBER['top']}.work")
    assert manager.wrong(f"lines.{NUMBER['drill']}.after.0.phase") == "Please fill this in."
    assert "in order" in manager.wrong(f"lines.{NUMBER['sink']}.work")
    assert "Give hours as a number" in manager.wrong(f"lines.{NUMBER['grout']}.after.0.wait")
    assert manager.wrong(f"lines.{NUMBER['paint']}.name")
    assert manager.wrong(f"lines.{NUMBER['walk']}.not_before") == "Give a date, such as 2026-12-04."
    assert manager.wrong(f"lines.{EMPTY + 1}.name") == "Please fill this in."
    typed = manager.typed()
    assert typed[f"lines.{NUMBER['top']}.work"] == "long"
    assert typed[f"lines.{EMPTY}.name"] == "Extra"
    assert versions() == before


def test_what_the_plan_itself_refuses_is_marked_in_its_line(manager: Desk, house: House) -> None:
    save(
        manager, line("drill", after=[NAME["drill"]]), line("grout", held_by=["77"]), line("shelves", room="999"),
        new(name="Set the stone top", work="1"), status=422,
    )  # fmt: skip
    assert "can’t come after itself" in manager.wrong(f"lines.{NUMBER['drill']}.after.0.phase")
    assert "There is no decision 77" in manager.wrong(f"lines.{NUMBER['grout']}.held_by")
    assert "no such room" in manager.wrong(f"lines.{NUMBER['shelves']}.room")
    assert "Another phase is called “Set the stone top”" in manager.wrong(f"lines.{EMPTY}.name")


def test_a_name_that_no_phase_has_is_refused_with_the_one_that_may_be_meant(manager: Desk, house: House) -> None:
    save(manager, line("drill", after=["Set the stone tob"]), line("sink", after=["Nothing of the kind"]), status=422)
    found = manager.wrong(f"lines.{NUMBER['drill']}.after.0.phase")
    assert found == "There is no phase “Set the stone tob”. Is “Set the stone top” meant?"
    assert "Write it as it stands" in manager.wrong(f"lines.{NUMBER['sink']}.after.0.phase")


def test_a_line_that_someone_else_changed_is_refused_and_the_others_wait(manager: Desk, house: House) -> None:
    sent = typed(manager) | line("top", crew="Two stone crews") | line("sink", crew="Plumber and helper")
    Phase.update(crew="Crane crew", version=Phase.version + 1).where(Phase.id == house.phases["top"]).execute()
    manager.post(sent, 422)
    assert "changed by someone else" in manager.wrong(f"lines.{NUMBER['top']}.name")
    assert Phase.get_by_id(house.phases["top"]).crew == "Crane crew"
    assert Phase.get_by_id(house.phases["sink"]).crew == "Plumber"


def test_starting_a_phase_meanwhile_is_no_conflict(manager: Desk, house: House) -> None:
    sent = typed(manager) | line("sink", crew="Plumber and helper")
    Phase.update(started_at=1, version=Phase.version + 1).where(Phase.id == house.phases["top"]).execute()
    manager.looked(sent)
    assert "1 line changed" in manager.says


def test_a_phase_is_taken_off_with_what_followed_it_told(manager: Desk, house: House) -> None:
    gone = line("shelves", remove="on")
    save(manager, gone, status=422)
    assert "“Hang the shelves” is taken off" in manager.wrong(f"lines.{NUMBER['walk']}.after.0.phase")
    save(manager, gone, without_links("walk"), line("walk", after=[NAME["sink"], NAME["grout"], NAME["vanity"]]))
    assert Phase.get_or_none(Phase.id == house.phases["shelves"]) is None


def test_what_has_started_stays_on_the_plan(manager: Desk, house: House) -> None:
    save(manager, line("floor", remove="on"), without_links("floor_grout"), status=422)
    assert "has been started and stays" in manager.wrong(f"lines.{NUMBER['floor']}.name")


def test_a_phase_of_another_house_is_not_taken_in(manager: Desk, house: House) -> None:
    other = Phase.create(project=house.other_project, name="Theirs", work_low=60, work_likely=60, work_high=60)
    save(manager, line("top", phase=str(other.id)), status=422)
    assert "no longer on the plan" in manager.wrong(f"lines.{NUMBER['top']}.name")
    assert Phase.get_by_id(other.id).name == "Theirs"


def test_an_empty_plan_of_a_new_house_can_be_filled(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/8/plan")
    manager.send(lines__1__name="Take out the tub", lines__1__work="8", lines__2__name="Set the tub",
                 lines__2__work="4", **{"lines__2__after__0__phase": "Take out the tub"})  # fmt: skip
    tub, bath = Phase.select().where(Phase.project == 8).order_by(Phase.position)
    assert plan_rows.links_of(bath.id) == [(tub.id, 0)]


@pytest.mark.parametrize("change", [{"lines.200.name": "Far", "lines.200.work": "1"}])
def test_lines_that_were_shown_are_read_even_if_the_plan_has_shrunk(manager: Desk, change: dict[str, str]) -> None:
    save(manager, change)
    assert Phase.select().where(Phase.name == "Far").count() == 1


def test_a_hold_is_not_emptied_out_of_the_table(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.project}/plan")
    save(manager, line("drill", held_by=[]), status=422)
    assert "Release it instead" in manager.wrong(f"lines.{NUMBER['drill']}.held_by")
    assert plan_rows.held_by(house.phases["drill"]) == [house.decisions[1]]


def test_a_question_that_the_plan_wants_asked_is_told_where_it_holds(manager: Desk, house: House) -> None:
    PlannedQuestion.create(
        project=house.project, question="Which hooks?", options=[], holds=[house.phases["shelves"]]
    )
    manager.open(PLAN)
    assert "“Which hooks?”: not asked yet." in manager.says
