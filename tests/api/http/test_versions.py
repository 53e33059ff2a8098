"""An edit names the version that it saw (RFC 9110, 13; RFC 6585, 3), and what is known is not sent again."""

import pytest

from portal.store.tables import Room
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def bath(house: House) -> str:
    return f"projects/{house.project}/rooms/{house.rooms['bath']}"


def test_what_is_read_bears_its_version(manager: ApiClient, bath: str, house: House) -> None:
    version = Room.get_by_id(house.rooms["bath"]).version
    assert manager.get(bath).headers["ETag"] == f'"{version}"'
    changed = manager.change(bath, {"name": "Bath"})
    assert changed.headers["ETag"] == f'"{version + 1}"'


def test_an_edit_without_a_version_is_asked_for_one(manager: ApiClient, bath: str, house: House) -> None:
    for answer in (manager.patch(bath, {"name": "Bath"}), manager.send("DELETE", bath)):
        told = refused(answer, 428)
        assert told["type"] == "/problems/version-missing" and "Read the room first" in told["detail"]
    assert Room.get_by_id(house.rooms["bath"]).name == "Hall bath"


@pytest.mark.parametrize("seen", ['"0"', '"99"', "99", '"x"', 'W/"1"'])
def test_an_edit_of_an_older_version_is_refused(manager: ApiClient, bath: str, house: House, seen: str) -> None:
    """Also a weak one: it says that two are alike, and not that they are the same (RFC 9110, 13.1.1)."""
    told = refused(manager.patch(bath, {"name": "Bath"}, If_Match=seen), 412)
    assert told["type"] == "/problems/stale"
    assert Room.get_by_id(house.rooms["bath"]).name == "Hall bath"


def test_one_of_several_versions_is_enough_and_so_is_any(manager: ApiClient, bath: str) -> None:
    version = manager.get(bath).headers["ETag"]
    assert manager.patch(bath, {"name": "Bath"}, If_Match=f'"77", {version}').status_code == 200
    assert manager.patch(bath, {"name": "Bathroom"}, If_Match="*").status_code == 200


def test_a_wrong_body_is_told_before_a_missing_version(manager: ApiClient, bath: str) -> None:
    refused(manager.patch(bath, {"name": ""}), 422, "name")


def test_what_is_not_there_is_not_asked_for_its_version(manager: ApiClient, house: House) -> None:
    refused(manager.patch(f"projects/{house.project}/rooms/999999", {"name": "Bath"}), 404)
    refused(manager.patch(f"projects/{house.other_project}/rooms/{house.rooms['bath']}", {"name": "Bath"}), 404)


def test_each_resource_is_called_by_its_name(manager: ApiClient, house: House) -> None:
    project = f"projects/{house.project}"
    for path, name in (
        (project, "project"), (f"{project}/people/{house.homeowner.id}", "person"),
        (f"{project}/phases/{house.phases['top']}", "phase"), (f"{project}/visits/{house.visits['paint']}", "visit"),
        (f"{project}/deliveries/{house.deliveries['tile']}", "delivery"),
        (f"{project}/decisions/{house.decisions[1]}", "decision"),
    ):  # fmt: skip
        assert f"Read the {name} first" in refused(manager.patch(path, {}), 428)["detail"]


def test_asking_again_may_leave_the_version_out_but_not_name_an_older_one(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/decisions/{house.decisions[1]}"
    version = manager.get(path).headers["ETag"]
    asked = manager.post(f"{path}/revisions", {"question": "Two or three?"}, If_Match=version)
    assert (asked.status_code, asked.headers["Location"]) == (201, f"/api/v1/{path}")
    refused(manager.post(f"{path}/revisions", {"question": "Four?"}, If_Match=version), 412)
    assert manager.post(f"{path}/revisions", {"question": "Four?"}).status_code == 201


def test_what_is_known_is_not_sent_again(manager: ApiClient, bath: str) -> None:
    version = manager.get(bath).headers["ETag"]
    known = manager.get(bath, If_None_Match=version)
    assert (known.status_code, known.get_data()) == (304, b"")
    manager.change(bath, {"name": "Bath"})
    assert manager.get(bath, If_None_Match=version).status_code == 200


def test_two_who_saw_the_same_do_not_both_write(sending_as: As, bath: str) -> None:
    manager, office = sending_as("manager"), sending_as("office")
    seen = manager.get(bath).headers["ETag"]
    assert manager.patch(bath, {"name": "Bath"}, If_Match=seen).status_code == 200
    refused(office.patch(bath, {"name": "Washroom"}, If_Match=seen), 412)
    assert office.get(bath).get_json()["name"] == "Bath"
