"""Hand-overs over the API: offered when finished, a list that grows, accepted as it was read."""

from typing import Any

import pytest

from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def handovers(house: House) -> str:
    return f"projects/{house.project}/handovers"


def offer(manager: ApiClient, handovers: str, house: House, **changed: Any) -> Any:
    items = [{"item": "A tile is loose", "room": house.rooms["bath"], "who": "Tile setter", "by_on": "2026-12-11"}]
    return manager.post(handovers, {"phase": house.phases["floor"], "items": items} | changed)


def test_a_finished_phase_is_offered_with_its_list(manager: ApiClient, handovers: str, house: House) -> None:
    made = offer(manager, handovers, house, note="Please look at the corner")
    body = made.get_json()
    assert made.headers["Location"] == f"/api/v1/{handovers}/{body['id']}"
    assert (body["phase"], body["note"], body["accepted_at"], body["offered_at"]) == (
        house.phases["floor"], "Please look at the corner", None, "2026-12-02T13:30:00Z"
    )  # fmt: skip
    (item,) = body["items"]
    assert item == {
        "id": item["id"], "item": "A tile is loose", "room": house.rooms["bath"], "who": "Tile setter",
        "by_on": "2026-12-11", "added_by": house.manager.name, "done_at": None,
    }  # fmt: skip
    assert manager.get(f"{handovers}/{body['id']}").get_json() == body
    assert manager.get(handovers).get_json() == [body]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"phase": 999_999}, "phase"), ({"items": [{"item": " "}]}, "items.0.item"), ({"phase": None}, "phase"),
        ({"items": [{"item": "x", "room": 999_999}]}, "room"), ({"accepted_name": "x"}, "accepted_name"),
        ({"items": [{"item": "x"}] * 201}, "items"), ({"items": [{"item": "x", "who": "x" * 81}]}, "items.0.who"),
    ],
)  # fmt: skip
def test_what_can_not_be_handed_over_is_refused_by_its_field(
    manager: ApiClient, handovers: str, house: House, wrong: dict[str, Any], field: str
) -> None:
    refused(offer(manager, handovers, house, **wrong), 422, field)
    assert (manager.get(handovers).get_json(), kinds(house.project)) == ([], [])


def test_work_under_way_and_what_was_offered_is_not_offered(manager: ApiClient, handovers: str, house: House) -> None:
    refused(offer(manager, handovers, house, phase=house.phases["cabinets"]), 422, "phase")
    offer(manager, handovers, house)
    refused(offer(manager, handovers, house), 422, "phase")


def test_the_list_grows_until_it_is_accepted_as_it_was_read(sending_as: As, handovers: str, house: House) -> None:
    manager, homeowner = sending_as("manager"), sending_as("homeowner")
    path = f"{handovers}/{offer(manager, handovers, house).get_json()['id']}"
    added = homeowner.post(f"{path}/items", {"item": "The grout is gray"})
    assert (added.status_code, added.get_json()["added_by"]) == (201, house.homeowner.name)
    name = {"name": house.homeowner.name}
    refused(homeowner.post(f"{path}/accept", name | {"seen": 1}), 422, "seen")
    refused(homeowner.post(f"{path}/accept", {"seen": 2}), 422, "name")
    accepted = homeowner.post(f"{path}/accept", name | {"seen": 2}).get_json()
    assert (accepted["accepted_name"], accepted["accepted_at"]) == (house.homeowner.name, "2026-12-02T13:30:00Z")
    refused(homeowner.post(f"{path}/items", {"item": "One more"}), 409)
    refused(homeowner.post(f"{path}/accept", name | {"seen": 2}), 409)
    assert sending_as("office").post(f"{path}/items", {"item": "One more"}).status_code == 201


def test_an_item_is_done_once_and_stays_done(office: ApiClient, sending_as: As, handovers: str, house: House) -> None:
    (item,) = offer(sending_as("manager"), handovers, house).get_json()["items"]
    path = f"{handovers}/items/{item['id']}/done"
    done = office.post(path).get_json()
    assert done["done_at"] == "2026-12-02T13:30:00Z" and office.post(path).get_json() == done
    assert kinds(house.project).count("item_closed") == 1
    refused(office.post(f"projects/{house.other_project}/handovers/items/{item['id']}/done"), 404)
    refused(sending_as("homeowner").post(path), 403)


def test_until_when_the_list_can_grow_is_set_with_it_and_changed_later(
    sending_as: As, handovers: str, house: House
) -> None:
    manager, homeowner = sending_as("manager"), sending_as("homeowner")
    made = offer(manager, handovers, house, items_until="2026-12-09").get_json()
    assert made["items_until"] == "2026-12-09"
    way = f"{handovers}/{made['id']}"
    homeowner.post(f"{way}/accept", {"name": "Maren Okafor", "seen": 1})
    assert homeowner.post(f"{way}/items", {"item": "A chip"}).status_code == 201
    changed = manager.post(f"{way}/items-until", {"until": None})
    assert changed.status_code == 200 and changed.get_json()["items_until"] is None
    refused(homeowner.post(f"{way}/items", {"item": "A chip"}), 409)
    refused(manager.post(f"{way}/items-until", {"until": "2026-12-01"}), 422, "until")
    refused(homeowner.post(f"{way}/items-until", {"until": "2026-12-30"}), 403)
