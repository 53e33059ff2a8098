"""Warnings with a write: nights to tell the household about, answers and orders while the contract can be cancelled."""

from typing import Any

import pytest

from portal.store import tables
from tests.house import House
from tests.served import ApiClient

NO_TOILET = [{"service": "toilet", "until": "done", "wait_hours": 24}]


def _of(answer: Any, *kinds: str) -> list[dict[str, Any]]:
    return [one for one in answer.get_json()["warnings"] if one["kind"] in kinds]


def _phase(house: House, key: str) -> str:
    return f"projects/{house.project}/phases/{house.phases[key]}"


def _sign(manager: ApiClient, house: House, day: str = "2026-12-01") -> Any:
    return manager.change(f"projects/{house.project}", {"signed_on": day})


def test_planning_a_night_without_a_toilet_warns_at_once(manager: ApiClient, house: House) -> None:
    """Not before Dec 14, so there are three working days left to tell the household."""
    changed = manager.change(_phase(house, "floor_grout"), {"takes": NO_TOILET, "not_before": "2026-12-14"})
    (night,) = _of(changed, "no_toilet")
    assert night["words"] == (
        "In the night of Mon Dec 14 no toilet can be used, because of Grout and seal the floor. "
        "Tell the household by Wed Dec 9."
    )
    assert (night["on"], night["phases"], night["visit"]) == ("2026-12-14", [house.phases["floor_grout"]], None)


def test_a_night_too_near_to_be_told_in_time_says_so(manager: ApiClient, house: House) -> None:
    (night,) = _of(manager.change(_phase(house, "floor_grout"), {"takes": NO_TOILET}), "no_toilet")
    assert night["on"] == "2026-12-03"
    assert "The household must be told today: it is less than three working days ahead." in night["words"]


def test_a_night_that_was_known_is_not_told_again(manager: ApiClient, house: House) -> None:
    manager.change(_phase(house, "floor_grout"), {"takes": NO_TOILET})
    assert _of(manager.change(_phase(house, "floor_grout"), {"note": "Two coats."}), "no_toilet") == []


def test_a_booked_visit_that_moves_such_a_night_warns_of_the_new_one(manager: ApiClient, house: House) -> None:
    manager.change(_phase(house, "floor_grout"), {"takes": NO_TOILET})
    visit = f"projects/{house.project}/visits/{house.visits['floor_grout']}"
    moved = manager.change(visit, {"starts_at": "2026-12-10T08:00", "ends_at": "2026-12-10T12:00", "reason": "Rain"})
    assert [night["on"] for night in _of(moved, "no_toilet")] == ["2026-12-10"]


def test_signing_shows_what_falls_into_the_days_to_cancel(manager: ApiClient, house: House) -> None:
    """Signed on Tue Dec 1: Wed, Thu and Fri are business days (16 CFR 429.0(f)), so until midnight of Fri Dec 4."""
    answers = _of(_sign(manager, house), "contract_answer")
    assert {one["decision"] for one in answers} == {house.decisions[1], house.decisions[2]}
    orders = _of(_sign(manager, house, "2026-11-30"), "contract_order")
    assert orders == []  # they were told of before; the window ends on Thu Dec 3 now
    words = next(one["words"] for one in answers if one["decision"] == house.decisions[1])
    assert words.startswith("Decision 1 is needed by Thu Dec 3, and the contract can be cancelled until the end of Fri")


def test_an_order_while_the_contract_can_be_cancelled_warns(manager: ApiClient, house: House) -> None:
    _sign(manager, house)
    ordered = manager.post(f"projects/{house.project}/deliveries", {"item": "Vanity", "expected_on": "2026-12-10"})
    (one,) = _of(ordered, "contract_order")
    assert one["delivery"] == ordered.get_json()["id"]
    assert one["words"].startswith("Vanity is on order, and the contract can be cancelled until the end of Fri Dec 4.")


def test_asking_what_is_needed_within_the_window_warns(manager: ApiClient, house: House) -> None:
    _sign(manager, house)
    asked = manager.post(f"projects/{house.project}/decisions", {
        "question": "Which way does the door open?", "holds": [house.phases["top"]],
        "options": [{"title": "In"}, {"title": "Out"}],
    })
    assert asked.status_code == 201
    assert [one["decision"] for one in _of(asked, "contract_answer")] == [asked.get_json()["id"]]


@pytest.mark.parametrize(
    ("day", "country"),
    [("2026-11-24", "US"), ("2026-12-01", "CA")],  # over on Sat Nov 28; a rule of the United States
)
def test_outside_the_window_and_the_states_nothing_is_said(
    manager: ApiClient, house: House, day: str, country: str
) -> None:
    calendar = tables.Project.get_by_id(house.project).calendar | {"holidays": {"country": country}}
    changed = manager.change(f"projects/{house.project}", {"signed_on": day, "calendar": calendar})
    assert _of(changed, "contract_answer", "contract_order") == []

def test_asking_again_holds_the_work_again_and_warns_of_its_visit(
    manager: ApiClient, homeowner: ApiClient, house: House
) -> None:
    """Approved in time; asked again with a lead of ten days, the drill on Fri Dec 4 can't be kept."""
    decision = f"projects/{house.project}/decisions/{house.decisions[1]}"
    manager.change(decision, {"lead_days": 10})
    choice = {"revision": 1, "option": "a", "name": "Maren Okafor"}
    assert homeowner.post(f"{decision}/approvals", choice).status_code == 201
    asked = manager.post(f"{decision}/revisions", {"question": "Which holes beside the wider sink?"})
    assert house.visits["drill"] in [one["visit"] for one in _of(asked, "held")]


def test_taking_a_toilet_off_the_list_of_a_room_warns_of_the_nights_without_one(
    manager: ApiClient, house: House
) -> None:
    laundry = f"projects/{house.project}/rooms/{house.rooms['laundry']}"
    manager.change(laundry, {"services": ["water", "drain", "power", "toilet"]})
    assert _of(manager.change(_phase(house, "floor_grout"), {"takes": NO_TOILET}), "no_toilet") == []
    changed = manager.change(laundry, {"services": ["water", "drain", "power"]})
    assert [house.phases["floor_grout"]] in [one["phases"] for one in _of(changed, "no_toilet")]
