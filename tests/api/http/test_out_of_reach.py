"""Dates, waits and hours beyond what can be computed: refused whole, so that no page is ever stuck."""

from typing import Any

import pytest

from portal.store.tables import Phase, Visit
from tests.house import House
from tests.served import ApiClient, refused

FAR: list[tuple[str, dict[str, Any]]] = [
    ("phases", {"name": "Far", "work_hours": 1, "not_before": "9999-12-31"}),
    ("phases", {"name": "Far", "work_hours": 1, "not_before": "2080-01-01"}),
    ("deliveries", {"item": "Far", "expected_on": "9999-12-31", "phases": ["top"]}),
    ("deliveries", {"item": "Waited for by nobody", "expected_on": "9999-12-31"}),
    ("deliveries", {"item": "Far", "expected_on": "2026-12-14", "expected_high": "9999-12-31", "phases": ["top"]}),
    ("decisions", {"question": "Far?", "options": [{"key": "a", "title": "Yes"}], "asked_for": "9999-12-31"}),
    ("visits", {"crew": "Far", "purpose": "Far", "starts_at": "2080-12-01T08:00", "ends_at": "2080-12-01T09:00"}),
    ("visits", {"crew": "Far", "purpose": "Far", "starts_at": "2026-12-14T08:00", "ends_at": "9999-12-31T09:00"}),
    ("visits", {
        "crew": "Far", "purpose": "Far", "starts_at": "0001-01-01T00:00:00+14:00", "ends_at": "2026-12-14T08:00",
    }),
]


@pytest.mark.parametrize(("name", "far"), FAR)
def test_what_lies_too_far_away_is_refused_and_not_kept(
    manager: ApiClient, house: House, name: str, far: dict[str, Any]
) -> None:
    if "phases" in far:
        far = far | {"phases": [house.phases[key] for key in far["phases"]]}
    before = manager.get(f"projects/{house.project}/{name}?per_page=200").get_json()
    refused(manager.post(f"projects/{house.project}/{name}", far), 422)
    assert manager.get(f"projects/{house.project}/{name}?per_page=200").get_json() == before
    assert manager.get(f"projects/{house.project}/schedule").status_code == 200


@pytest.mark.parametrize("moment", ["1700-01-01T00:00:00Z", "0001-01-01T00:00:00+10:00", "1920-01-01T00:00:00Z"])
def test_a_phase_did_not_start_before_the_calendar(manager: ApiClient, house: House, moment: str) -> None:
    phase = house.phases["floor_grout"]
    refused(manager.post(f"projects/{house.project}/phases/{phase}/start", {"at": moment, "anyway": True}), 422)
    assert Phase.get_by_id(phase).started_at is None


@pytest.mark.parametrize("field", ["starts_on", "promised_on", "signed_on"])
@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2080-01-01"])
def test_a_project_lies_among_days_that_can_be_counted_on_from(
    manager: ApiClient, house: House, field: str, day: str
) -> None:
    refused(manager.change(f"projects/{house.project}", {field: day}), 422, field)


def test_waits_that_add_up_to_more_than_a_lifetime_are_refused(manager: ApiClient, house: House) -> None:
    before, statuses = house.phases["walk"], []
    for number in range(7):
        link = [{"phase": before, "wait_hours": 100_000}]
        made = manager.post(f"projects/{house.project}/phases", {"name": f"{number}", "work_hours": 1, "after": link})
        statuses.append(made.status_code)
        if made.status_code == 422:
            break
        before = made.get_json()["id"]
    assert statuses[-1] == 422 and set(statuses[:-1]) == {201}
    assert manager.get(f"projects/{house.project}/schedule").status_code == 200


def test_a_plan_that_is_out_of_reach_already_can_be_put_right(manager: ApiClient, house: House) -> None:
    """Kept before it was refused, it must not stay for ever."""
    visit = f"projects/{house.project}/visits/{house.visits['drill']}"
    Visit.update(starts_at=16_725_254_400, ends_at=16_725_258_000).where(Visit.id == house.visits["drill"]).execute()
    assert manager.change(visit, {"purpose": "Drill"}).status_code == 200
    again = {"starts_at": "2026-12-04T13:00", "ends_at": "2026-12-04T15:30", "reason": "Rain"}
    assert manager.change(visit, again).status_code == 200
    assert manager.get(f"projects/{house.project}/schedule").status_code == 200


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2150-06-01"])
def test_a_night_too_far_away_is_refused(manager: ApiClient, house: House, day: str) -> None:
    refused(manager.get(f"projects/{house.project}/tonight?date={day}"), 422, "date")
