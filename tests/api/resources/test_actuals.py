"""Actuals over HTTP: work rests, goes on, waits for the inspector, takes longer; the rest of the plan moves by it."""

from datetime import UTC, datetime
from typing import Any

import pytest
from freezegun import freeze_time

from portal.store import tables
from tests.api.conftest import As
from tests.house import House, at
from tests.served import ApiClient, refused


@pytest.fixture
def cabinets(house: House) -> str:
    """Under way since yesterday, 16 hours of work, and what the stone top follows."""
    return f"projects/{house.project}/phases/{house.phases['cabinets']}"


def _dates(client: ApiClient, house: House, key: str) -> dict[str, Any]:
    schedule = client.get(f"projects/{house.project}/schedule").get_json()
    found: dict[str, Any] = next(one for one in schedule["phases"] if one["phase"] == house.phases[key])
    return found


def _later(text: str) -> Any:
    return freeze_time(datetime.fromtimestamp(at(text), UTC))


def test_stopped_work_moves_the_rest_and_flags_the_visits(manager: ApiClient, house: House, cabinets: str) -> None:
    rest = {"reason": "The floor is out of level.", "resumes_at": "2026-12-07T08:00"}
    stopped = manager.post(f"{cabinets}/stop", rest)
    assert stopped.status_code == 200
    body = stopped.get_json()
    assert (body["state"], body["resumes_at"], body["stopped_at"]) == (
        "stopped", "2026-12-07T14:00:00Z", "2026-12-02T13:30:00Z",
    )
    # 16 hours less yesterday's 8 and a half are left on Monday morning: until half past three.
    assert _dates(manager, house, "cabinets")["early_finish"] == "2026-12-07T15:30:00-06:00"
    assert {house.visits["top"], house.visits["drill"]} <= {one["visit"] for one in body["warnings"]}


def test_the_page_says_why_work_rests_and_when_it_goes_on(manager: ApiClient, house: House, cabinets: str) -> None:
    manager.post(f"{cabinets}/stop", {"reason": "The floor is out of level.", "resumes_at": "2026-12-07T08:00"})
    with manager.client.get(f"/p/{house.links['homeowner']}/") as page:
        text = page.get_data(as_text=True)
    assert "stopped Wed\u00a0Dec\u00a02, goes on Mon\u00a0Dec\u00a07" in text and "The floor is out of level." in text


def test_the_hours_of_a_rest_are_no_work(manager: ApiClient, house: House, cabinets: str) -> None:
    manager.post(f"{cabinets}/stop", {"reason": "Waiting for a part."})
    with _later("2026-12-04T08:00"):
        assert manager.post(f"{cabinets}/resume").get_json()["state"] == "under_way"
        # Seven and a half hours were left when it was stopped before Wednesday's work began.
        assert _dates(manager, house, "cabinets")["early_finish"] == "2026-12-04T15:30:00-06:00"


def test_an_inspection_ends_by_an_event(manager: ApiClient, house: House, cabinets: str) -> None:
    tables.Delivery.update(arrived_at=at("2026-12-01T09:00")).execute()
    waiting = manager.post(f"{cabinets}/inspection", {"expected_at": "2026-12-03T10:00"}).get_json()
    assert (waiting["state"], waiting["inspection_at"]) == ("inspection", "2026-12-03T16:00:00Z")
    assert _dates(manager, house, "top")["early_start"] == "2026-12-03T10:00:00-06:00"
    with _later("2026-12-03T12:00"):  # the inspector is late: nothing that follows lies in the past
        assert _dates(manager, house, "top")["early_start"] == "2026-12-03T12:00:00-06:00"
        assert manager.post(f"{cabinets}/finish").get_json()["state"] == "done"


def test_more_work_after_an_inspection(manager: ApiClient, house: House, cabinets: str) -> None:
    manager.post(f"{cabinets}/inspection")
    with _later("2026-12-03T08:00"):
        again = manager.post(f"{cabinets}/resume", {"remaining_hours": 3}).get_json()
        assert (again["state"], again["remaining_hours"]) == ("under_way", 3)
        assert _dates(manager, house, "cabinets")["early_finish"] == "2026-12-03T11:00:00-06:00"


def test_what_is_left_moves_the_finish(manager: ApiClient, house: House, cabinets: str) -> None:
    etag = manager.get(cabinets).headers["ETag"]
    left = manager.post(f"{cabinets}/remaining", {"remaining_hours": 17}, If_Match=etag)
    assert left.get_json()["remaining_hours"] == 17
    assert _dates(manager, house, "cabinets")["early_finish"] == "2026-12-03T16:30:00-06:00"
    assert house.visits["top"] in {one["visit"] for one in left.get_json()["warnings"]}
    refused(manager.post(f"{cabinets}/remaining", {"remaining_hours": 1}, If_Match=etag), 412)


@pytest.mark.parametrize(
    ("way", "body", "field"),
    [
        ("stop", {}, "reason"),
        ("stop", {"reason": "Rain", "resumes_at": "2026-12-01T08:00"}, "resumes_at"),
        ("stop", {"reason": "Rain", "resumes_at": "2027-03-14T02:30"}, "resumes_at"),  # the clocks go forward
        ("inspection", {"expected_at": "soon"}, "expected_at"),
        ("remaining", {"remaining_hours": -1}, "remaining_hours"),
        ("resume", {"hours": 1}, "hours"),
    ],
)
def test_what_makes_no_sense_is_refused(
    manager: ApiClient, house: House, cabinets: str, way: str, body: dict[str, Any], field: str
) -> None:
    headers = {"If_Match": manager.get(cabinets).headers["ETag"]} if way == "remaining" else {}
    refused(manager.post(f"{cabinets}/{way}", body, **headers), 422, field)
    assert manager.get(cabinets).get_json()["state"] == "under_way"


def test_only_what_rests_goes_on_and_only_what_has_started_rests(
    manager: ApiClient, house: House, cabinets: str
) -> None:
    assert refused(manager.post(f"{cabinets}/resume"), 409)["type"] == "/problems/not-stopped"
    top = f"projects/{house.project}/phases/{house.phases['top']}"
    assert refused(manager.post(f"{top}/stop", {"reason": "Rain"}), 409)["type"] == "/problems/not-started"


@pytest.mark.parametrize("way", ["stop", "resume", "inspection", "remaining"])
def test_it_is_for_the_manager(sending_as: As, cabinets: str, way: str) -> None:
    refused(sending_as("office").post(f"{cabinets}/{way}", {}), 403)


def test_each_goes_on_the_record(manager: ApiClient, house: House, cabinets: str) -> None:
    manager.post(f"{cabinets}/stop", {"reason": "Rain"})
    manager.post(f"{cabinets}/resume")
    manager.post(f"{cabinets}/inspection")
    kinds = [row.kind for row in tables.RecordEntry.select().order_by(tables.RecordEntry.sequence)]
    assert kinds[-3:] == ["stopped", "resumed", "inspection_awaited"]


def test_a_phase_that_starts_ahead_of_what_it_follows_is_started_with_a_warning(
    manager: ApiClient, house: House, cabinets: str
) -> None:
    last = house.phases["cabinets"]
    sent = {"name": "Fit the shelves", "work_hours": 2, "after": [{"phase": last, "wait_hours": 0}]}
    shelves = manager.post(f"projects/{house.project}/phases", sent).get_json()["id"]
    answer = manager.post(f"projects/{house.project}/phases/{shelves}/start", {"anyway": True})
    assert answer.status_code == 200
    (ahead,) = [one for one in answer.get_json()["warnings"] if one["kind"] == "begun_ahead"]
    assert ahead["phases"] == [shelves, last] and "which is not finished" in ahead["words"]
    again = manager.post(f"{cabinets}/stop", {"reason": "The floor is out of level."}).get_json()["warnings"]
    assert "begun_ahead" not in {one["kind"] for one in again}  # it was there before


def test_a_conflict_is_told_again_only_when_it_gets_worse(manager: ApiClient, house: House, cabinets: str) -> None:
    def told(hours: int) -> list[dict[str, Any]]:
        seen = manager.get(cabinets).headers["ETag"]
        found = manager.post(f"{cabinets}/remaining", {"remaining_hours": hours}, If_Match=seen).get_json()["warnings"]
        return [one for one in found if one["visit"] == house.visits["top"]]

    (soon,), (later,) = told(60), told(80)
    assert soon["kind"] == later["kind"] and soon["first_that_works"] < later["first_that_works"]
    assert told(80) == told(70) == []
