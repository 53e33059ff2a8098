"""Closing a house at the desk says before what ends with it; a house set up by mistake goes from the lists."""

from portal.acts.firm.ending import remove_house
from portal.acts.firm.projects import add_project
from portal.acts.household.handovers import offer_handover
from portal.store.tables import Project
from tests.acts.firm_calls import PROJECT
from tests.house import NOW, House
from tests.web.signed_in import Desk


def home(house: House, rest: str = "") -> str:
    return f"/desk/projects/{house.project}/{rest}"


def test_what_ends_with_it_is_said_before_and_why_is_asked_where_work_is_left(manager: Desk, house: House) -> None:
    manager.open(home(house, "close"))
    said = manager.says
    for kind in ("Not finished: ", "Closed with it, unanswered: ", "Off the list, not here: ", "Cancelled, and told: "):
        assert kind in said
    manager.post(manager.typed() | {"reason": ""}, 422)
    assert "Say why the house is closed all the same" in manager.says
    manager.post(manager.typed() | {"reason": "They stop here."})
    assert "The house is closed." in manager.says


def test_it_is_opened_again(manager: Desk, house: House) -> None:
    manager.open(home(house, "close"))
    manager.post(manager.typed() | {"reason": "They stop here."})
    manager.open(home(house, "open"))
    manager.post(manager.typed() | {"reason": "They go on."})
    assert "The house is open again." in manager.says


def test_a_form_that_was_open_when_the_house_was_closed_keeps_what_was_typed(manager: Desk, house: House) -> None:
    manager.open(home(house, "decisions/new"))
    typed = manager.typed() | {"question": "Which edge?", "options.0.title": "Eased", "options.0.effects": "-"}
    seen = Project.get_by_id(house.project).version
    Project.update(closed_at=NOW, version=seen + 1).where(Project.id == house.project).execute()
    manager.post(typed, 409)
    assert "This house is closed since" in manager.says and manager.typed()["question"] == "Which edge?"


def test_a_house_with_something_in_it_says_why_it_stays(manager: Desk, house: House) -> None:
    manager.open(home(house, "remove"))
    assert "This house can’t be removed: something was approved there." in manager.says
    assert "Remove it" not in manager.says, "no form that would be refused"


def test_a_house_set_up_by_mistake_is_gone_with_its_address(manager: Desk, house: House) -> None:
    there = add_project(house.manager, dict(PROJECT), NOW).id
    manager.open(f"/desk/projects/{there}/remove")
    manager.post(manager.typed() | {"reason": "Entered twice."})
    assert f"{PROJECT['name']} is removed." in manager.says
    assert manager.client.get(f"/desk/projects/{there}/").status_code == 404


def test_a_hand_over_is_taken_back_and_its_old_address_says_why(manager: Desk, house: House) -> None:
    handover = offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "A chip"}], now=NOW
    )
    manager.open(home(house, f"handovers/{handover.id}/take-back"))
    manager.post(manager.typed() | {"reason": "The grout is not dry yet."})
    assert "It is taken back" in manager.says and "Nothing is handed over." in manager.says
    assert ": taken back on " in manager.says and "The grout is not dry yet." in manager.says
    link = f"/p/{house.links['homeowner']}/handovers/{handover.id}/"
    answer = manager.app.test_client().get(link)
    assert answer.status_code == 409 and "taken back: The grout is not dry yet" in answer.get_data(as_text=True)


def test_an_open_item_is_changed_from_the_list(manager: Desk, house: House) -> None:
    offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "A chip"}], now=NOW
    )
    manager.open(home(house, "handovers/"))
    manager.open(next(way for way in manager.ways if way.endswith("/change")))
    manager.post(manager.typed() | {"who": "Tile setter", "by_on": "2026-12-18"})
    assert "A chip; Tile setter, by Fri Dec 18." in manager.says


def test_a_removed_house_is_published_no_more(manager: Desk, house: House) -> None:
    there = add_project(house.manager, dict(PROJECT), NOW).id
    publisher = manager.app.extensions["portal"].publisher
    publisher.publish(there, NOW)
    folder = publisher.site.project_folder(there)
    assert folder.exists()
    remove_house(house.manager, there, Project.get_by_id(there).version, reason="Entered twice.", now=NOW)
    publisher.publish(there, NOW)
    assert not folder.exists() and there not in publisher.stale(NOW)
