"""Waits that only a label knows: asked for when a plan is started from, said at the desk until they are entered."""

import pytest

from portal.store.rows import plan_rows
from portal.store.tables import Phase
from tests.house import NOW, House
from tests.web.desk.plan.test_starting import choose
from tests.web.signed_in import Desk


def phase(house: House, starter: str) -> Phase:
    found: Phase = Phase.get(Phase.project == house.other_project, Phase.starter == starter)
    return found


def wait(house: House, starter: str, before: str) -> int:
    return dict(plan_rows.links_of(phase(house, starter).id))[phase(house, before).id]


def test_the_form_asks_for_the_figures_of_labels_and_the_plan_waits_for_them(manager: Desk, house: House) -> None:
    choose(manager, house, "stone_top", labels={"seam_adhesive": "0.5", "sink_adhesive": "12"})
    assert wait(house, "stone_top.drill", "stone_top.set") == 30
    assert wait(house, "stone_top.connect", "stone_top.drill") == 12 * 60
    assert wait(house, "stone_top.connect", "stone_top.set") == 24 * 60, "the table’s own"
    assert "Not entered yet" not in manager.says


def test_what_is_left_empty_is_said_until_it_is_entered(manager: Desk, house: House) -> None:
    choose(manager, house, "stone_top", labels={"sink_adhesive": "12"})
    drill = phase(house, "stone_top.drill")
    assert "Not entered yet" in manager.says
    assert f"“{drill.name}” counts as free to follow “{phase(house, 'stone_top.set').name}” at once." in manager.says
    manager.open(f"phases/{drill.id}/label-wait/seam_adhesive")
    assert "no figure is published for all products" in manager.says
    manager.send(hours="1.5")
    assert wait(house, "stone_top.drill", "stone_top.set") == 90
    assert "the wait is entered" in manager.says and "Not entered yet" not in manager.says


def test_what_a_phase_gives_back_only_after_its_label_is_entered_there_too(manager: Desk, house: House) -> None:
    choose(manager, house, "kitchen", labels={"seam_adhesive": "1", "sink_adhesive": "1", "paint": "4"})
    floor = phase(house, "kitchen.floor")
    assert f"what “{floor.name}” takes is out until further notice" in manager.says
    manager.open(f"phases/{floor.id}/label-wait/floor_finish").send(hours="30")
    (taken,) = [one for one in phase(house, "kitchen.floor").takes if one["service"] == "floor"]
    assert (taken["gate"], taken["wait_hours"]) == ("floor_finish", 30)
    cabinets = phase(house, "kitchen.cabinets")
    manager.open(f"/desk/projects/{house.other_project}/phases/{cabinets.id}/label-wait/floor_finish").send(hours="40")
    assert wait(house, "kitchen.cabinets", "kitchen.floor") == 40 * 60
    assert "Not entered yet" not in manager.says


def test_the_page_names_no_end_before_the_label_is_read(manager: Desk, house: House) -> None:
    finish = Phase.get_by_id(house.phases["floor_grout"])
    Phase.update(started_at=NOW - 7200, finished_at=NOW - 60, state="done").where(Phase.id == finish.id).execute()
    manager.open(f"/desk/projects/{house.project}/phases/{finish.id}/takes").send(
        takes__0__service="floor", takes__0__until="done", takes__0__gate="floor_finish_oil")
    assert "Keep off this floor, no date yet." in page(manager, house)
    manager.open(f"/desk/projects/{house.project}/phases/{finish.id}/label-wait/floor_finish_oil").send(hours="36")
    assert "no date" not in page(manager, house)


def page(manager: Desk, house: House) -> str:
    return manager.client.get(f"/desk/projects/{house.project}/page/").get_data(as_text=True)


def test_nothing_must_rest_is_an_answer_too(manager: Desk, house: House) -> None:
    choose(manager, house, "stone_top", labels={"seam_adhesive": "0", "sink_adhesive": "0"})
    assert "Not entered yet" not in manager.says and wait(house, "stone_top.drill", "stone_top.set") == 1


def test_what_has_begun_is_asked_for_no_more(manager: Desk, house: House) -> None:
    choose(manager, house, "stone_top", labels={"sink_adhesive": "1"})
    drill = phase(house, "stone_top.drill")
    Phase.update(started_at=1).where(Phase.id == drill.id).execute()
    manager.open(f"/desk/projects/{house.other_project}/")
    assert "Not entered yet" not in manager.says
    manager.open(f"phases/{drill.id}/label-wait/seam_adhesive", 404)


@pytest.mark.parametrize("typed", ["", "-1", "soon"])
def test_what_is_no_wait_is_refused(manager: Desk, house: House, typed: str) -> None:
    choose(manager, house, "stone_top", labels={"sink_adhesive": "1"})
    manager.open(f"phases/{phase(house, 'stone_top.drill').id}/label-wait/seam_adhesive")
    manager.send(status=422, hours=typed)
    assert wait(house, "stone_top.drill", "stone_top.set") == 0


def test_the_office_reads_it_and_does_not_enter_it(manager: Desk, office: Desk, house: House) -> None:
    choose(manager, house, "stone_top", labels={})
    office.open(f"/desk/projects/{house.other_project}/")
    assert "Not entered yet" in office.says and not [way for way in office.ways if "label-wait" in way]
