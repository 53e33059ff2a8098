"""Deliveries over the API: when they are expected, who waits, and when they came."""

from typing import Any

import pytest

from tests.acts.kept import newest
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def deliveries(house: House) -> str:
    return f"projects/{house.project}/deliveries"


def order(office: ApiClient, deliveries: str, **changed: Any) -> Any:
    return office.post(deliveries, {"item": "Hinges", "expected_on": "2026-12-10"} | changed)


def test_an_order_is_expected_on_its_day_and_waited_for(office: ApiClient, deliveries: str, house: House) -> None:
    made = order(office, deliveries, phases=[house.phases["vanity"]], expected_high="2026-12-12", note="Side door")
    body = made.get_json()
    assert made.status_code == 201 and made.headers["Location"] == f"/api/v1/{deliveries}/{body['id']}"
    assert (body["expected_low"], body["expected_on"], body["expected_high"]) == (
        "2026-12-10", "2026-12-10", "2026-12-12"
    )  # fmt: skip
    assert (body["phases"], body["note"], body["arrived_at"]) == ([house.phases["vanity"]], "Side door", None)
    read = office.get(f"{deliveries}/{body['id']}")
    assert read.headers["ETag"] == made.headers["ETag"]
    assert read.get_json() == {name: value for name, value in body.items() if name != "warnings"}


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"item": ""}, "item"), ({"expected_on": "soon"}, "expected_on"), ({"expected_on": None}, "expected_on"),
        ({"expected_low": "2026-12-11"}, "expected_on"), ({"phases": [999_999]}, "phases"),
        ({"arrived_at": "2026-12-01T08:00:00Z"}, "arrived_at"), ({"phases": ["top"]}, "phases.0"),
    ],
)  # fmt: skip
def test_what_can_not_be_ordered_is_refused_by_its_field(
    office: ApiClient, deliveries: str, wrong: dict[str, Any], field: str
) -> None:
    before = office.get(deliveries).headers["Total-Count"]
    refused(order(office, deliveries, **wrong), 422, field)
    assert office.get(deliveries).headers["Total-Count"] == before


def test_they_are_listed_by_when_they_are_expected(office: ApiClient, deliveries: str) -> None:
    order(office, deliveries, expected_on="2026-12-01")
    order(office, deliveries, expected_on="2026-12-24")
    days = [one["expected_on"] for one in office.get(deliveries).get_json()]
    assert days == sorted(days) and days[-1] == "2026-12-24"


def test_a_change_of_the_day_moves_all_three(office: ApiClient, deliveries: str) -> None:
    path = f"{deliveries}/{order(office, deliveries).get_json()['id']}"
    changed = office.change(path, {"expected_on": "2026-12-14", "reason": "The truck broke down"}).get_json()
    assert {changed[f"expected_{name}"] for name in ("low", "on", "high")} == {"2026-12-14"}


def test_it_came_now_or_when_it_came(office: ApiClient, deliveries: str, house: House) -> None:
    for body, at in ((None, "2026-12-02T13:30:00Z"), ({"at": "2026-12-01T16:05:00"}, "2026-12-01T22:05:00Z")):
        path = f"{deliveries}/{order(office, deliveries).get_json()['id']}"
        came = office.post(f"{path}/arrival", body)
        assert (came.status_code, came.get_json()["arrived_at"]) == (200, at)
        assert newest(house.project)["body"]["at"] == at
    refused(office.post(f"{path}/arrival", {"at": "2026-12-03T08:00:00"}), 422, "arrived_at")


def test_an_order_is_taken_off_by_who_has_seen_it(office: ApiClient, deliveries: str) -> None:
    path = f"{deliveries}/{order(office, deliveries).get_json()['id']}"
    refused(office.send("DELETE", path), 428)
    assert office.send("DELETE", path, If_Match=office.get(path).headers["ETag"]).status_code == 204
    refused(office.get(path), 404)
