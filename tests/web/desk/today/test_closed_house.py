"""What ended with a house that was closed must still be told to whom no mail reaches."""

from portal.acts.firm.ending import close_house, open_house
from portal.store.tables import Person, Project
from tests.house import NOW, House
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
