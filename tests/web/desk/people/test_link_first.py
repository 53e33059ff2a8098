"""Before the page has a name and a number, sending a link asks first; the API answers as before, with a warning."""

import pytest

from portal.store.tables import Firm, Notice, Project
from tests.house import House
from tests.served import ApiClient, bearer_for
from tests.web.signed_in import Desk

LACKS = "The page lacks the firm’s name and a phone number yet"


@pytest.fixture
def nobody(house: House) -> House:
    Firm.update(name="", phone="").execute()
    return house


def test_a_link_is_made_with_the_second_press(manager: Desk, nobody: House) -> None:
    manager.open(f"/desk/projects/{nobody.project}/people/{nobody.homeowner.id}/link").send(status=409)
    assert LACKS in manager.says
    manager.send()
    assert "The private link of Maren Okafor" in manager.says


def test_a_link_goes_by_mail_with_the_second_press(manager: Desk, nobody: House) -> None:
    manager.open(f"/desk/projects/{nobody.project}/people/{nobody.homeowner.id}/send-link").send(status=409)
    assert LACKS in manager.says and not Notice.select().exists()
    manager.send()
    assert Notice.get().kind == "link"


def test_a_house_with_a_number_of_its_own_lacks_the_name_alone(manager: Desk, nobody: House) -> None:
    Project.update(phone="218-555-0150").execute()
    manager.open(f"/desk/projects/{nobody.project}/people/{nobody.homeowner.id}/link").send(status=409)
    assert "The page lacks the firm’s name yet" in manager.says


def test_the_api_makes_it_at_once_and_warns_also_when_it_is_asked_again(manager: Desk, nobody: House) -> None:
    api = ApiClient(manager.client, bearer_for(nobody, "manager"))
    path = f"projects/{nobody.project}/people/{nobody.homeowner.id}/link"
    first = api.post(path, Idempotency_Key="once")
    assert first.status_code == 201 and LACKS in first.json["warnings"][0]
    assert api.post(path, Idempotency_Key="once").json == first.json
    Firm.update(name="Brackwater Remodeling", phone="218-555-0142").execute()
    assert api.post(path).json["warnings"] == []
