"""Idempotency-Key: the same request is done once and answered alike, headers and all; another with it is refused."""

from typing import Any

import pytest

from portal.store.tables import Answered, Room, Visit
from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

VISIT = {
    "crew": "Glazier", "purpose": "Measure", "starts_at": "2026-12-10T09:00:00", "ends_at": "2026-12-10T10:00:00"
}  # fmt: skip


def send(client: ApiClient, path: str, body: Any, key: str = "k-1") -> Any:
    return client.post(path, body, Idempotency_Key=key)


def test_the_second_answer_is_the_first_one(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/visits"
    first, again = send(manager, path, VISIT), send(manager, path, VISIT)
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.get_json() == first.get_json()
    for header in ("ETag", "Location"):
        assert again.headers[header] == first.headers[header]
    assert "Idempotent-Replayed" not in first.headers and again.headers["Idempotent-Replayed"] == "true"
    assert Visit.select().where(Visit.crew == "Glazier").count() == 1
    assert kinds(house.project) == ["visit_booked"]


def test_the_answer_stays_what_it_was_when_the_row_has_changed(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/rooms"
    made = send(manager, path, {"name": "Porch"})
    manager.change(f"{path}/{made.get_json()['id']}", {"name": "Veranda"})
    assert send(manager, path, {"name": "Porch"}).get_json()["name"] == "Porch"


def test_without_a_key_it_is_done_each_time(manager: ApiClient, house: House) -> None:
    for _ in range(2):
        assert manager.post(f"projects/{house.project}/visits", VISIT).status_code == 201
    assert Visit.select().where(Visit.crew == "Glazier").count() == 2
    assert Answered.select().count() == 0


@pytest.mark.parametrize("key", ['"k-1"', " k-1 ", "k-1"])
def test_quotes_of_a_structured_field_are_not_part_of_the_key(manager: ApiClient, house: House, key: str) -> None:
    path = f"projects/{house.project}/rooms"
    send(manager, path, {"name": "Porch"}, "k-1")
    assert send(manager, path, {"name": "Porch"}, key).headers["Idempotent-Replayed"] == "true"


@pytest.mark.parametrize("key", ["", '""', "x" * 201])
def test_a_key_has_a_length(manager: ApiClient, house: House, key: str) -> None:
    told = refused(send(manager, f"projects/{house.project}/rooms", {"name": "Porch"}, key), 422, "Idempotency-Key")
    assert "1 to 200" in told["errors"][0]["detail"]
    assert Room.get_or_none(Room.name == "Porch") is None
    assert send(manager, f"projects/{house.project}/rooms", {"name": "Porch"}, "x" * 200).status_code == 201


@pytest.mark.parametrize("key", ['"k-1', 'k"1', "k 1", "k\xe9"])
def test_a_key_is_what_the_description_says(manager: ApiClient, house: House, key: str) -> None:
    path = f"projects/{house.project}/rooms"
    refused(send(manager, path, {"name": "Porch"}, key), 422, "Idempotency-Key")
    assert Room.get_or_none(Room.name == "Porch") is None


def test_another_request_with_the_key_is_refused_and_not_done(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/rooms"
    send(manager, path, {"name": "Porch"})
    for other, body in ((path, {"name": "Attic"}), (f"projects/{house.other_project}/rooms", {"name": "Porch"})):
        told = refused(send(manager, other, body), 422, "Idempotency-Key")
        assert told["type"] == "/problems/key-reused"
    assert Room.get_or_none(Room.name == "Attic") is None
    assert Room.select().where(Room.name == "Porch").count() == 1


def test_a_key_is_that_of_its_sender(sending_as: As, house: House) -> None:
    path = f"projects/{house.project}/rooms"
    assert send(sending_as("manager"), path, {"name": "Porch"}).status_code == 201
    assert send(sending_as("office"), path, {"name": "Attic"}).status_code == 201


def test_a_refusal_is_not_kept(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/rooms"
    refused(send(manager, path, {"name": ""}), 422, "name")
    refused(send(manager, path, {"name": "Kitchen"}), 422, "name")
    assert Answered.select().count() == 0
    assert send(manager, path, {"name": "Porch"}).status_code == 201


def test_an_approval_sent_twice_with_its_key_is_one(homeowner: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/decisions/{house.decisions[1]}/approvals"
    body = {"revision": 1, "option": "a", "name": house.homeowner.name}
    first, again = send(homeowner, path, body), send(homeowner, path, body)
    assert (first.status_code, again.status_code) == (201, 201)
    assert kinds(house.project).count("approved") == 1
    assert homeowner.post(path, body).status_code == 200, "without the key it says that it was there"
