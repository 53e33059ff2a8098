"""What the manager must see to in time, at the desk: when it is planned, and from then on."""

from datetime import date

from portal.store import tables
from tests.house import House
from tests.web.signed_in import Desk


def _no_toilet(house: House) -> None:
    take = [{"service": "toilet", "until": "done", "wait_hours": 24}]
    tables.Phase.update(takes=take).where(tables.Phase.id == house.phases["floor_grout"]).execute()


def test_a_night_to_tell_about_stands_on_the_project(manager: Desk, house: House) -> None:
    _no_toilet(house)
    manager.open(f"/desk/projects/{house.project}/")
    assert "Late: tell them" in manager.says
    assert "In the night of Thu Dec 3 no toilet can be used" in manager.says


def test_a_change_that_moves_such_a_night_says_so(office: Desk, house: House) -> None:
    _no_toilet(house)
    office.open(f"/desk/projects/{house.project}/visits/{house.visits['floor_grout']}/change")
    office.send(starts_at="2026-12-10T08:00", ends_at="2026-12-10T12:00", reason="Rain")
    assert "The visit is changed. In the night of Thu Dec 10 no toilet can be used" in office.says
    assert "Tell the household by Mon Dec 7." in office.says


def test_orders_while_the_contract_can_be_cancelled_stand_on_the_project(office: Desk, house: House) -> None:
    tables.Project.update(signed_on=date(2026, 12, 1)).where(tables.Project.id == house.project).execute()
    office.open(f"/desk/projects/{house.project}/")
    assert "Splash tile is on order, and the contract can be cancelled until the end of Fri Dec 4." in office.says


def test_what_no_room_is_said_to_have_is_named_as_not_watched(manager: Desk, house: House) -> None:
    tables.Room.update(services=["water"]).where(tables.Room.id == house.rooms["bath"]).execute()
    manager.open(f"/desk/projects/{house.project}/")
    assert "No room is said to have a toilet, so it isn’t watched." in manager.says


def test_the_project_leads_to_the_plan_on_one_sheet(office: Desk, house: House) -> None:
    here = f"/desk/projects/{house.project}/"
    assert "work/" in office.open(here).ways and f"{here}chart/" in office.open(f"{here}work/").ways
