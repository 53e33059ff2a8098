"""Handing a house over at the desk."""

from portal.store.tables import Project, Staff
from tests.house import House
from tests.web.signed_in import Desk


def test_one_list_and_one_press_hand_it_over(manager: Desk, office: Desk, house: House) -> None:
    here = f"/desk/projects/{house.project}/"
    other = Staff.create(name="Sam Park", email="sam@brackwater.example.com", role="manager", password_hash="none")
    assert "No manager is named for this house." in manager.open(here).says
    assert manager.open(f"{here}responsible").typed()["staff"] == str(house.manager.id)
    manager.send()
    assert manager.open(f"{here}responsible").typed()["staff"] == str(other.id), "the other one is chosen already"
    manager.send()
    assert Project.get_by_id(house.project).responsible_id == other.id
    assert "Run by Sam Park." in office.open(here).says
    assert "responsible" not in office.ways
    manager.open(f"{here}responsible").send(staff="")
    assert Project.get_by_id(house.project).responsible_id is None
