"""The plan as one table: filled in, checked and saved as a whole."""

from typing import Any

import pytest

from portal.store.rows import plan_rows
from portal.store.tables import Phase
from tests.house import House
from tests.household import PHASES
from tests.web.signed_in import Desk

PLAN = "/desk/projects/7/plan"
EMPTY = len(PHASES) + 1
NUMBER = {key: number for number, key in enumerate(PHASES, 1)}


def line(key: str, **values: str) -> dict[str, str]:
    return {f"lines.{NUMBER[key]}.{name}": value for name, value in values.items()}


def new(number: int = 0, **values: str) -> dict[str, str]:
    return {f"lines.{EMPTY + number}.{name}": value for name, value in values.items()}


def save(desk: Desk, *changes: dict[str, Any], status: int = 200) -> Desk:
    desk.open(PLAN)
    sent = desk.typed()
    for change in changes:
        sent |= change
    return desk.post(sent, status)


def versions() -> dict[int, int]:
    return {row.id: row.version for row in Phase.select()}


def test_saving_what_is_there_changes_nothing(manager: Desk, house: House) -> None:
    before = versions()
    save(manager)
    assert "Nothing on the plan was changed." in manager.says
    assert versions() == before


def test_new_lines_follow_each_other_by_their_numbers(manager: Desk, house: House) -> None:
    room = str(house.rooms["laundry"])
    after = (f"{NUMBER['paint']} + 24", f"{EMPTY} + 12, {NUMBER['top']}")
    save(manager,
         new(name="Lay the laundry floor", crew="Tile setter", work="6 / 8 / 12", room=room, after=after[0]),
         new(1, name="Seal the laundry floor", crew="Tile setter", work="1.5", after=after[1], held_by="1, 4",
             not_before="2026-12-14"))  # fmt: skip
    assert "The plan is saved: 2 lines changed." in manager.says
    floor, seal = Phase.select().where(Phase.name.contains("laundry floor")).order_by(Phase.id)
    assert (floor.work_low, floor.work_likely, floor.work_high) == (360, 480, 720)
    assert plan_rows.links_of(floor.id) == [(house.phases["paint"], 24 * 60)]
    assert plan_rows.links_of(seal.id) == [(floor.id, 12 * 60), (house.phases["top"], 0)]
    assert plan_rows.held_by(seal.id) == [house.decisions[1], house.decisions[4]]
    assert (seal.work_low, seal.work_high, str(seal.not_before)) == (90, 90, "2026-12-14")


def test_only_the_line_that_differs_is_written(manager: Desk, house: House) -> None:
    before = versions()
    save(manager, line("sink", crew="Plumber and helper"))
    assert "1 line changed" in manager.says
    changed = {phase for phase, version in versions().items() if before[phase] != version}
    assert changed == {house.phases["sink"]}


def test_links_and_holds_alone_are_a_change(manager: Desk, house: House) -> None:
    save(manager, line("shelves", after="", held_by="5"))
    assert plan_rows.links_of(house.phases["shelves"]) == []
    assert plan_rows.held_by(house.phases["shelves"]) == [house.decisions[5]]


def test_a_loop_is_refused_by_the_names_in_it(manager: Desk, house: House) -> None:
    before = versions()
    save(manager, line("top", after=str(NUMBER["sink"])), new(name="Extra", work="4"), status=422)
    said = manager.wrong(f"lines.{NUMBER['top']}.after")
    for name in ("Set the stone top", "Drill the holes in the stone top", "Connect the sink and faucet"):
        assert name in said
    assert manager.wrong(f"lines.{NUMBER['sink']}.after") == said
    assert manager.typed()[f"lines.{EMPTY}.name"] == "Extra"
    assert versions() == before


def test_every_wrong_line_is_marked_and_nothing_is_half_written(manager: Desk, house: House) -> None:
    before = versions()
    save(
        manager, line("top", work="long"), line("drill", after="top"), line("sink", work="6 / 4 / 8"),
        line("grout", held_by="two"), line("paint", name=""), line("walk", not_before="soon"),
        new(name="Extra", work="4"), new(1, crew="Painter"), status=422,
    )  # fmt: skip
    assert "one number such as 8" in manager.wrong(f"lines.{NUMBER['top']}.work")
    assert "“top” can’t be read" in manager.wrong(f"lines.{NUMBER['drill']}.after")
    assert "in order" in manager.wrong(f"lines.{NUMBER['sink']}.work")
    assert "numbers of decisions" in manager.wrong(f"lines.{NUMBER['grout']}.held_by")
    assert manager.wrong(f"lines.{NUMBER['paint']}.name")
    assert manager.wrong(f"lines.{NUMBER['walk']}.not_before") == "Give a date, such as 2026-12-04."
    assert manager.wrong(f"lines.{EMPTY + 1}.name") == "Please fill this in."
    typed = manager.typed()
    assert typed[f"lines.{NUMBER['top']}.work"] == "long"
    assert typed[f"lines.{EMPTY}.name"] == "Extra"
    assert versions() == before


def test_what_the_plan_itself_refuses_is_marked_in_its_line(manager: Desk, house: House) -> None:
    save(
        manager, line("top", after="99"), line("drill", after=str(NUMBER["drill"])), line("grout", held_by="77"),
        line("shelves", room="999"), new(name="Set the stone top", work="1"), status=422,
    )  # fmt: skip
    assert "no phase on line 99" in manager.wrong(f"lines.{NUMBER['top']}.after")
    assert "can’t follow itself" in manager.wrong(f"lines.{NUMBER['drill']}.after")
    assert "There is no decision 77" in manager.wrong(f"lines.{NUMBER['grout']}.held_by")
    assert "no such room" in manager.wrong(f"lines.{NUMBER['shelves']}.room")
    assert f"Line {NUMBER['top']} has the same name" in manager.wrong(f"lines.{EMPTY}.name")


def test_a_line_that_someone_else_changed_is_refused_and_the_others_wait(manager: Desk, house: House) -> None:
    manager.open(PLAN)
    sent = manager.typed() | line("top", crew="Two stone crews") | line("sink", crew="Plumber and helper")
    Phase.update(crew="Crane crew", version=Phase.version + 1).where(Phase.id == house.phases["top"]).execute()
    manager.post(sent, 422)
    assert "changed by someone else" in manager.wrong(f"lines.{NUMBER['top']}.name")
    assert Phase.get_by_id(house.phases["top"]).crew == "Crane crew"
    assert Phase.get_by_id(house.phases["sink"]).crew == "Plumber"


def test_starting_a_phase_meanwhile_is_no_conflict(manager: Desk, house: House) -> None:
    manager.open(PLAN)
    sent = manager.typed() | line("sink", crew="Plumber and helper")
    Phase.update(started_at=1, version=Phase.version + 1).where(Phase.id == house.phases["top"]).execute()
    manager.post(sent)
    assert "1 line changed" in manager.says


def test_a_phase_is_taken_off_with_what_followed_it_told(manager: Desk, house: House) -> None:
    save(manager, line("shelves", remove="on"), status=422)
    assert f"no phase on line {NUMBER['shelves']}" in manager.wrong(f"lines.{NUMBER['walk']}.after")
    after = ", ".join(str(NUMBER[key]) for key in ("sink", "grout", "vanity"))
    save(manager, line("shelves", remove="on"), line("walk", after=after))
    assert Phase.get_or_none(Phase.id == house.phases["shelves"]) is None


def test_what_has_started_stays_on_the_plan(manager: Desk, house: House) -> None:
    save(manager, line("floor", remove="on"), line("floor_grout", after=""), status=422)
    assert "has been started and stays" in manager.wrong(f"lines.{NUMBER['floor']}.name")


def test_a_phase_of_another_house_is_not_taken_in(manager: Desk, house: House) -> None:
    other = Phase.create(project=house.other_project, name="Theirs", work_low=60, work_likely=60, work_high=60)
    save(manager, line("top", phase=str(other.id)), status=422)
    assert "no longer on the plan" in manager.wrong(f"lines.{NUMBER['top']}.name")
    assert Phase.get_by_id(other.id).name == "Theirs"


def test_an_empty_plan_of_a_new_house_can_be_filled(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/8/plan")
    manager.send(lines__1__name="Take out the tub", lines__1__work="8", lines__2__name="Set the tub",
                 lines__2__work="4", lines__2__after="1")  # fmt: skip
    tub, bath = Phase.select().where(Phase.project == 8).order_by(Phase.position)
    assert plan_rows.links_of(bath.id) == [(tub.id, 0)]


@pytest.mark.parametrize("change", [{"lines.200.name": "Far", "lines.200.work": "1"}])
def test_lines_that_were_shown_are_read_even_if_the_plan_has_shrunk(manager: Desk, change: dict[str, str]) -> None:
    save(manager, change)
    assert Phase.select().where(Phase.name == "Far").count() == 1


def test_a_hold_is_not_emptied_out_of_the_table(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.project}/plan")
    save(manager, line("drill", held_by=""), status=422)
    assert "Release it instead" in manager.wrong(f"lines.{NUMBER['drill']}.held_by")
    assert plan_rows.held_by(house.phases["drill"]) == [house.decisions[1]]
