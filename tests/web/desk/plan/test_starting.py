"""Starting from a plan at the desk: chosen by ticks, refused by file and line, and what it wants asked and ordered."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from portal.store.engine.database import write
from portal.store.reading.plans_to_start_from import OURS, starter
from portal.store.tables import Decision, Delivery, Phase, PlannedOrder, PlannedQuestion, Room
from tests.house import House
from tests.web.signed_in import Desk


def choose(
    desk: Desk, house: House, *titles: str, labels: Mapping[str, str] | None = None, **changed: str
) -> Desk:
    """Tick the plans of these keys, and type hours of labels by the keys of cures."""
    desk.open(f"/desk/projects/{house.other_project}/start-from")
    typed = desk.typed()
    ticked = {}
    for name, value in typed.items():
        if name.endswith(".key"):
            number = name.split(".")[1]
            if value in titles:
                ticked[f"plans__{number}__chosen"] = "on"
            ticked |= {f"plans__{number}__rooms__{key}": room for key, room in changed.items() if value in titles}
            for cure, hours in (labels or {}).items():
                ticked |= {f"plans__{number}__labels__{cure}": hours} if value in titles else {}
    return desk.send(**ticked)


def _phases(house: House) -> list[str]:
    return [row.name for row in Phase.select().where(Phase.project == house.other_project).order_by(Phase.position)]


def test_a_ticked_plan_is_added_with_its_room(manager: Desk, house: House) -> None:
    choose(manager, house, "bath", bath="Guest bath")
    plan = starter(OURS, "bath")
    assert f"{len(plan.phases)} phases are on the plan." in manager.says
    assert _phases(house) == [phase.name for phase in plan.phases]
    assert [row.name for row in Room.select().where(Room.project == house.other_project)] == ["Guest bath"]


def test_several_are_added_at_once(manager: Desk, house: House) -> None:
    choose(manager, house, "kitchen", "stone_top")
    assert len(_phases(house)) == len(starter(OURS, "kitchen").phases) + len(starter(OURS, "stone_top").phases)


def test_nothing_ticked_is_refused(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.other_project}/start-from").send(status=422)
    assert "Choose at least one plan to start from." in manager.says and _phases(house) == []


def test_an_earlier_project_is_offered(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.other_project}/start-from").send(project=str(house.project))
    assert len(_phases(house)) == len(house.phases)


def test_a_wrong_file_is_named_with_its_line_and_the_others_work(manager: Desk, house: House, tmp_path: Path) -> None:
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "garage.toml").write_text('title = "A garage"\nsource = "us"\nphase = []\n')
    choose(manager, house, "laundry")
    assert _phases(house)
    for page in ("start-from", "/desk/plans/"):
        manager.open(f"/desk/projects/{house.other_project}/").open(page)
        assert "garage.toml, line 3: phase: is not known here" in manager.says


def test_the_plan_leads_on_to_what_it_wants_asked_and_ordered(manager: Desk, house: House) -> None:
    choose(manager, house, "bath")
    assert "Not asked yet:" in manager.says and "Not ordered yet:" in manager.says
    assert "an answer is needed by" in manager.open("questions/").says
    manager.open("../")
    question = PlannedQuestion.select().order_by(PlannedQuestion.id).first()
    manager.open(f"planned/{question.id}/ask")
    assert manager.typed()["question"].strip() == question.question
    manager.send(question="Which way round?")
    asked = Decision.select().where(Decision.project == house.other_project).get()
    assert "is asked" in manager.says and PlannedQuestion.get_by_id(question.id).decision_id == asked.id


def test_mirror_and_lamps_of_a_bath_are_asked_by_drawing_and_hold_boxes_and_walls(manager: Desk, house: House) -> None:
    choose(manager, house, "bath")
    question = PlannedQuestion.get(PlannedQuestion.kind == "vanity")
    names = [Phase.get_by_id(phase).name for phase in question.holds]
    assert names == ["Rough plumbing and wiring", "Close the walls and set the backer board"]
    manager.open(f"planned/{question.id}/ask")
    assert manager.path.startswith(f"/desk/projects/{house.other_project}/decisions/layouts?kind=vanity")
    assert question.question in manager.says


def test_what_the_plan_needs_is_ordered_by_the_office(manager: Desk, office: Desk, house: House) -> None:
    choose(manager, house, "bath")
    order = PlannedOrder.select().order_by(PlannedOrder.id).first()
    office.open(f"/desk/projects/{house.other_project}/").open(f"orders/{order.id}/order")
    office.send(expected_on="2026-12-16")
    assert Delivery.get(Delivery.project == house.other_project).item == order.item
    assert f"orders/{order.id}/order" not in office.ways


@pytest.mark.parametrize(("kind", "table"), [("planned", PlannedQuestion), ("orders", PlannedOrder)])
def test_what_this_house_does_not_need_is_dropped(
    manager: Desk, house: House, kind: str, table: type[PlannedQuestion]
) -> None:
    choose(manager, house, "bath")
    row = table.select().first()
    why = {"reason": "They have it already"} if kind == "planned" else {}
    manager.open(f"{kind}/{row.id}/drop").send(**why)
    assert f"{kind}/{row.id}/drop" not in manager.ways and table.get_by_id(row.id).dropped_at
    manager.open(f"{kind}/{row.id}/drop", 404)


def test_a_phase_that_waits_for_a_planned_question_says_so(manager: Desk, house: House) -> None:
    with write():
        PlannedQuestion.create(project=house.project, question="Which edge?", options=[], holds=[house.phases["top"]])
    manager.open(f"/desk/projects/{house.project}/phases/{house.phases['top']}/start").send(status=409)
    assert "the plan wants “Which edge?” asked first" in manager.says
