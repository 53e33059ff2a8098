"""Plans to start from: ours and the firm's own as files, and what an earlier project's plan is to the next one."""

from pathlib import Path
from typing import Any

import pytest

from portal.planning.household.services import Service, Take
from portal.planning.starting_plans.plans import (
    WHOLE_HOUSE,
    StartingDecision,
    StartingDelivery,
    StartingPhase,
    StartingPlan,
    StartingRoom,
    StartingTake,
)
from portal.store import tables
from portal.store.reading.plans_to_start_from import OURS, WrongPlanFile, earlier_plan, starter, starters
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from tests.house import NOW, House

PLAN = """title = "{title}"
about = "A porch."
source = "our own work"

[[phases]]
key = "floor"
name = "Lay the porch floor"
hours = [1, 2, 3]
"""


def written(folder: Path, **titles: str) -> Path:
    folder.mkdir(exist_ok=True)
    for name, title in titles.items():
        (folder / f"{name}.toml").write_text(PLAN.format(title=title), encoding="utf-8")
    return folder


def ours() -> list[str]:
    return [path.stem for path in OURS.glob("*.toml")]


def test_without_a_folder_of_its_own_a_firm_has_ours(tmp_path: Path) -> None:
    found = starters(tmp_path / "there is none")
    assert sorted(one.key for one in found) == sorted(ours()) != []
    assert not any(one.own or one.refused for one in found)
    assert [one.title for one in found] == sorted((one.title for one in found), key=str.casefold)


def test_its_own_stand_among_ours_by_title_whatever_the_capitals(tmp_path: Path) -> None:
    own = written(tmp_path / "plans", z_porch="a A porch", porch="B porch", zz="zz porch")
    found = [one for one in starters(own) if one.own]
    assert [(one.key, one.title) for one in found] == [
        ("z_porch", "a A porch"), ("porch", "B porch"), ("zz", "zz porch")
    ]
    everything = [one.title.casefold() for one in starters(own)]
    assert everything == sorted(everything) and len(everything) == len(ours()) + 3


def test_its_own_of_the_same_name_takes_the_place_of_ours(tmp_path: Path) -> None:
    own = written(tmp_path / "plans", bath="Our way to make a bath")
    (found,) = [one for one in starters(own) if one.key == "bath"]
    assert (found.own, found.title) == (True, "Our way to make a bath")
    assert starter(own, "bath").title == "Our way to make a bath"
    assert starter(tmp_path, "bath").title != "Our way to make a bath"


def test_only_plan_files_count(tmp_path: Path) -> None:
    own = written(tmp_path / "plans", porch="A porch")
    (own / "notes.txt").write_text("Not a plan")
    assert len(starters(own)) == len(ours()) + 1


def test_a_plan_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="no such plan to start from here"):
        starter(tmp_path, "barn")


def test_a_file_that_can_not_be_used_goes_by_its_name_and_is_refused_with_its_line(tmp_path: Path) -> None:
    own = written(tmp_path / "plans", porch="A porch")
    with (own / "porch.toml").open("a") as file:
        file.write('\n[[phases]]\nkey = "roof"\nname = "Lay the roof"\nhours = [3, 2, 1]\n')
    (found,) = [one for one in starters(own) if one.own]
    assert (found.key, found.title, found.plan) == ("porch", "porch", None)
    with pytest.raises(WrongPlanFile) as refused:
        starter(own, "porch")
    assert refused.value.status == 422 and refused.value.field == "plans"
    assert (refused.value.details["file"], refused.value.details["line"]) == ("porch.toml", 13)
    assert "hours" in refused.value.details["reason"]
    assert str(refused.value).startswith("porch.toml, line 13: ")
    assert str(refused.value).endswith("Correct the file, then try again; nothing was changed.")


@pytest.mark.parametrize(("before", "line"), [(b"", 1), (b'title = "A', 1), (b"# 1\n# 2\ntitle = ", 3), (b"#\n", 2)])
def test_a_file_that_is_not_utf_8_is_refused_with_the_line_of_the_letter(
    tmp_path: Path, before: bytes, line: int
) -> None:
    (tmp_path / "porch.toml").write_bytes(before + "é".encode("latin-1") + b'"\n')
    with pytest.raises(WrongPlanFile, match="is not UTF-8; save it as plain text") as refused:
        starter(tmp_path, "porch")
    assert (refused.value.details["file"], refused.value.details["line"]) == ("porch.toml", line)


def plan_of(house: House, questions: Any = (), orders: Any = ()) -> StartingPlan:
    return earlier_plan(read_snapshot(house.project), questions, orders)


def phase_of(plan: StartingPlan, phase: int) -> StartingPhase:
    return next(one for one in plan.phases if one.key == f"p{phase}")


def test_an_earlier_plan_is_named_after_its_project(house: House) -> None:
    plan = plan_of(house)
    assert (plan.title, plan.about, plan.source) == ("Okafor house", "", "the plan of Okafor house")
    assert [len(part) for part in (plan.rooms, plan.phases, plan.decisions, plan.deliveries)] == [3, 15, 4, 3]
    empty = earlier_plan(read_snapshot(house.other_project))
    assert empty == StartingPlan("Sorensen bath", "", "the plan of Sorensen bath", (), ())


def test_rooms_come_with_what_the_household_uses_in_them(house: House) -> None:
    found = plan_of(house).rooms[2]
    services = tuple(Service(name) for name in ("water", "drain", "power"))
    assert found == StartingRoom(f"r{house.rooms['laundry']}", "Laundry room", services)


def test_a_phase_comes_as_it_was_planned_and_without_what_became_of_it(house: House) -> None:
    tables.Phase.update(note="Mind the cat", rested=77, remaining=55, crew="Stone cutters").where(
        tables.Phase.id == house.phases["drill"]
    ).execute()
    assert phase_of(plan_of(house), house.phases["drill"]) == StartingPhase(
        key=f"p{house.phases['drill']}", name="Drill the holes in the stone top", low=60, likely=120, high=180,
        room=f"r{house.rooms['kitchen']}", crew="Stone cutters", after=((f"p{house.phases['top']}", 16 * 60),),
        held_by=(f"d{house.decisions[1]}",),
    )  # fmt: skip


def test_what_is_of_no_room_is_of_the_whole_house(house: House) -> None:
    tables.Decision.update(room=None).where(tables.Decision.id == house.decisions[4]).execute()
    plan = plan_of(house)
    assert phase_of(plan, house.phases["walk"]).room == WHOLE_HOUSE == plan.decisions[3].room
    assert plan.decisions[2].room == f"r{house.rooms['bath']}"


def test_takes_keep_where_they_are_and_what_gives_them_back(house: House) -> None:
    bath, top = house.rooms["bath"], house.phases["top"]
    tables.Phase.update(takes=[
        {"service": "water", "room": None}, {"service": "toilet", "room": bath, "until": "done", "back_with": top},
        {"service": "sink"},
    ]).where(tables.Phase.id == house.phases["drill"]).execute()  # fmt: skip
    water, toilet, sink = phase_of(plan_of(house), house.phases["drill"]).takes
    assert water == StartingTake(Take("water", house=True), WHOLE_HOUSE, "")
    assert toilet == StartingTake(Take("toilet", room=bath, until="done", back_with=top), f"r{bath}", f"p{top}")
    assert sink == StartingTake(Take("sink"), "", "")


def test_questions_come_as_they_are_asked_now_without_their_drawings(house: House) -> None:
    options = [{"key": "a", "title": "Oak", "detail": {"holes": 3}}, {"key": "b", "title": "Ash", "cost_cents": 9}]
    tables.Revision.create(
        decision=house.decisions[2], number=2, question="Oak or ash?", options=options, shown="{}", check_code="0",
        asked_at=NOW,
    )  # fmt: skip
    tables.Decision.update(revision=2).where(tables.Decision.id == house.decisions[2]).execute()
    assert plan_of(house).decisions[1] == StartingDecision(
        f"d{house.decisions[2]}", "grout", "Oak or ash?", 8, ({"key": "a", "title": "Oak"}, options[1]),
        f"r{house.rooms['kitchen']}",
    )  # fmt: skip


def test_what_changed_the_contract_of_that_house_and_its_photos_stay_there(house: House) -> None:
    options = [{"key": "a", "title": "Oak", "photos": [{"name": "ab", "caption": "Their hall"}]}]
    tables.Revision.create(
        decision=house.decisions[2], number=2, question="Oak?", options=options, shown="{}", check_code="0",
        asked_at=NOW,
    )  # fmt: skip
    tables.Decision.update(revision=2).where(tables.Decision.id == house.decisions[2]).execute()
    asked = {one.key: one for one in plan_of(house).decisions}
    assert asked[f"d{house.decisions[2]}"].options == ({"key": "a", "title": "Oak"},)
    tables.Decision.update(kind="contract_change").where(tables.Decision.id == house.decisions[2]).execute()
    left = plan_of(house)
    assert {one.key for one in left.decisions} == set(asked) - {f"d{house.decisions[2]}"}
    assert not any(f"d{house.decisions[2]}" in phase.held_by for phase in left.phases)


def test_what_is_not_asked_yet_comes_after_what_is_and_holds_its_phases(house: House) -> None:
    row = tables.PlannedQuestion.create(
        project=house.project, room=house.rooms["bath"], kind="mirror", question="Which mirror?", lead_days=6,
        options=[{"key": "a", "title": "Round"}], holds=[house.phases["drill"], house.phases["walk"]],
    )  # fmt: skip
    nowhere = tables.PlannedQuestion.create(project=house.project, question="Which bell?", options=[], holds=[])
    plan = plan_of(house, [row, nowhere])
    assert plan.decisions[4:] == (
        StartingDecision(
            f"q{row.id}", "mirror", "Which mirror?", 6, ({"key": "a", "title": "Round"},), f"r{house.rooms['bath']}"
        ),
        StartingDecision(f"q{nowhere.id}", "general", "Which bell?", 1, (), WHOLE_HOUSE),
    )
    assert phase_of(plan, house.phases["drill"]).held_by == (f"d{house.decisions[1]}", f"q{row.id}")
    assert phase_of(plan, house.phases["walk"]).held_by == (f"q{row.id}",)
    assert phase_of(plan, house.phases["out"]).held_by == ()


def test_what_is_not_ordered_yet_comes_after_what_is(house: House) -> None:
    order = tables.PlannedOrder.create(
        project=house.project, item="Mirror", phases=[house.phases["vanity"], house.phases["walk"]]
    )
    assert plan_of(house, orders=[order]).deliveries == (
        StartingDelivery("Sink and faucet", (f"p{house.phases['sink']}",)),
        StartingDelivery("Stone top", (f"p{house.phases['top']}",)),
        StartingDelivery("Splash tile", (f"p{house.phases['splash']}",)),
        StartingDelivery("Mirror", (f"p{house.phases['vanity']}", f"p{house.phases['walk']}")),
    )


def test_an_order_for_a_phase_that_was_taken_out_of_the_plan_no_longer_names_it(house: House) -> None:
    gone = max(house.phases.values()) + 1
    order = tables.PlannedOrder.create(project=house.project, item="Mirror", phases=[gone, house.phases["walk"]])
    assert plan_of(house, orders=[order]).deliveries[-1] == StartingDelivery("Mirror", (f"p{house.phases['walk']}",))
