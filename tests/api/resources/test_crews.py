"""Crews over the API: made, read, changed as they were seen, named, removed; and the texts that plans hold."""

from tests.house import House
from tests.served import ApiClient, refused

CREW = {"name": "Delgado Plumbing", "trade": "Plumbing", "size": 2, "phone": "218-555-0144", "email": "",
        "week": {"mon": [["07:00", "12:00"]]}, "days_off": ["2026-12-24"], "active": True}  # fmt: skip


def test_a_crew_is_made_read_changed_as_it_was_seen_and_removed(manager: ApiClient) -> None:
    made = manager.post("crews", CREW)
    assert made.status_code == 201
    where = made.headers["Location"].removeprefix("/api/v1/")
    read = manager.get(where)
    assert read.get_json() == CREW | {"id": made.get_json()["id"], "names": ["Delgado Plumbing"]}
    assert manager.get("crews").get_json() == [read.get_json()]
    refused(manager.patch(where, {"size": 3}), 428)
    assert manager.patch(where, {"size": 3}, If_Match='"1"').get_json()["size"] == 3
    refused(manager.patch(where, {"size": 4}, If_Match='"1"'), 412)
    assert manager.send("DELETE", where, If_Match='"2"').status_code == 204
    refused(manager.get(where), 404)


def test_a_crew_that_is_booked_is_not_removed(manager: ApiClient) -> None:
    made = manager.post("crews", {"name": "Painter"})
    where = made.headers["Location"].removeprefix("/api/v1/")
    problem = refused(manager.send("DELETE", where, If_Match='"1"'), 409)
    assert "Okafor house" in problem["detail"]


def test_names_that_plans_hold_are_told_and_given_to_a_crew(manager: ApiClient, house: House) -> None:
    crew = manager.post("crews", {"name": "Delgado"}).get_json()["id"]
    before = {one["text"]: one for one in manager.get("crews/written").get_json()}
    assert before["Plumber"]["crew"] is None and before["Plumber"]["houses"] == 1
    named = manager.post(f"crews/{crew}/names", {"names": ["Plumber"]})
    assert named.get_json()["names"] == ["Delgado", "Plumber"]
    assert {one["text"]: one["crew"] for one in manager.get("crews/written").get_json()}["Plumber"] == crew


def test_what_can_not_be_used_names_its_field(manager: ApiClient) -> None:
    manager.post("crews", {"name": "Painter"})
    refused(manager.post("crews", {"name": "painter"}), 422, "name")
    refused(manager.post("crews", {"name": "Roofers", "week": {"mon": [["9", "10"]]}}), 422, "week.mon")
    refused(manager.post("crews", {"name": "Roofers", "days_off": ["soon"]}), 422, "days_off")
    refused(manager.post("crews", {"name": "Roofers", "size": 0}), 422, "size")


def test_the_household_reads_none_of_it(homeowner: ApiClient) -> None:
    refused(homeowner.get("crews"), 403)
