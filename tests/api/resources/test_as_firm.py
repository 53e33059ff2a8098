"""`as_firm` of a project: its timezone and calendar are those of the firm."""

from typing import Any

from portal.api.resources.projects import WORKING_CALENDAR
from portal.store.tables import Firm
from tests.house import House
from tests.household import CALENDAR
from tests.served import ApiClient, refused

PORCH: dict[str, Any] = {
    "name": "Lindqvist porch", "address": "5 Alder Row", "timezone": "America/Chicago", "starts_on": "2027-01-11",
}  # fmt: skip
FIRMS = CALENDAR | {"days_off": ["2027-01-15"]}


def written_down() -> None:
    Firm.update(timezone="America/Chicago", calendar=FIRMS).execute()


def test_a_client_that_knows_nothing_of_it_keeps_what_it_sends(manager: ApiClient, house: House) -> None:
    written_down()
    made = manager.post("projects", PORCH).get_json()
    assert (made["as_firm"], made["calendar"]["week"]) == (False, WORKING_CALENDAR["week"])
    assert made["calendar"]["days_off"] == []


def test_a_project_takes_the_firms_calendar(manager: ApiClient, house: House) -> None:
    refused(manager.post("projects", PORCH | {"as_firm": True}), 422, "as_firm")
    written_down()
    made = manager.post("projects", PORCH | {"as_firm": True}).get_json()
    assert (made["as_firm"], made["calendar"]["days_off"]) == (True, ["2027-01-15"])
    refused(manager.post("projects", PORCH | {"as_firm": True, "timezone": "America/Denver"}), 422, "as_firm")
    refused(manager.post("projects", PORCH | {"as_firm": None}), 422, "as_firm")


def test_what_was_read_is_sent_back_and_a_calendar_of_its_own_ends_it(manager: ApiClient, house: House) -> None:
    written_down()
    path = f"projects/{house.project}"
    taken = manager.change(path, {"as_firm": True}).get_json()
    assert taken["calendar"]["days_off"] == ["2027-01-15"]
    again = {name: taken[name] for name in ("name", "timezone", "calendar", "as_firm")}
    assert manager.change(path, again).get_json()["as_firm"]
    own = manager.change(path, {"calendar": CALENDAR}).get_json()
    assert (own["as_firm"], own["calendar"]["days_off"]) == (False, CALENDAR["days_off"])
