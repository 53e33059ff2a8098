"""What ended with a house that was closed must still be told to whom no mail reaches."""

from portal.acts.firm.ending import close_house, open_house
from portal.store.tables import Person, Project
from tests.house import NOW, House
from tests.web.desk.house.test_projects import many_houses
from tests.web.signed_in import Desk


def test_it_stands_on_today_though_the_house_is_closed(manager: Desk, house: House) -> None:
    Person.update(email="").where(Person.id == house.homeowner.id).execute()
    version = Project.get_by_id(house.project).version
    closed = close_house(house.manager, house.project, version, reason="They moved away.", now=NOW)
    says = manager.open("/desk/").says
    assert "Tell Maren: " in says and "Maren Okafor has no e-mail address." in says
    texts = [way for way in manager.ways if way.startswith("sms:") and "is%20withdrawn" in way]
    assert texts and "house%20is%20closed" in texts[0]
    open_house(house.manager, house.project, closed.version, reason="They stay.", now=NOW)
    manager.open("/desk/")
    texts = [way for way in manager.ways if way.startswith("sms:") and "is%20withdrawn" in way]
    assert texts and "house%20is%20closed" not in texts[0], "it is open again"


def close(house: int, at: int) -> None:
    Project.update(closed_at=at, changed=Project.changed + 1).where(Project.id == house).execute()


def test_closed_houses_are_gone_through_by_name_the_last_closed_first(office: Desk, house: House) -> None:
    assert "/desk/closed/" not in office.open("/desk/").ways, "there is none"
    assert "No house is closed." in office.open("/desk/closed/").says
    close(house.project, NOW - 400 * 86400)
    close(house.other_project, NOW - 86400)
    office.open("/desk/")
    assert "/desk/closed/" in office.ways and "/desk/projects/7/" not in office.ways
    says = office.open("/desk/closed/").says
    first, second = map(says.index, ("Sorensen bath, Quarry Road Closed Tue Dec 1", "Okafor, Tamarack Lane Closed"))
    assert first < second and "Tamarack Lane Closed Tue Oct 28, 2025" in says and "Houses 1 to" not in says
    assert {"/desk/projects/7/", "/desk/projects/8/"} <= office.ways
    Project.update(removed_at=NOW).where(Project.id == house.project).execute()
    assert "Okafor" not in office.open("/desk/closed/").says, "what is removed is gone"


def test_many_of_them_come_in_pages(office: Desk, house: House) -> None:
    many_houses()
    Project.update(closed_at=NOW - Project.id * 60).where(Project.name.startswith("House ")).execute()
    says = office.open("/desk/closed/").says
    assert "Houses 1 to 50 of 148, closed last first." in says and "House 050" in says and "House 051" not in says
    assert "?page=2" in office.ways and "House 051" in office.open("?page=2").says
    assert {"?page=1", "?page=3"} <= office.ways
    assert "Houses 101 to 148 of 148" in office.open("/desk/closed/?page=99").says
