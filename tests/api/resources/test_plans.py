"""Plans to start from over HTTP: listed, started from, refused by file and line; what they want asked and ordered."""

from pathlib import Path
from typing import Any

import pytest

from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

GARAGE = """title = "A garage door"
source = "common practice"

[[phases]]
key = "hang"
name = "Hang the door"
hours = [3, 4, 6]
held_by = ["side"]

[[decisions]]
key = "side"
kind = "general"
question = "Which side does it open to?"
options = [{ key = "a", title = "Left", effects = "" }, { key = "b", title = "Right", effects = "" }]

[[deliveries]]
item = "The door"
phases = ["hang"]
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The firm's own plans, in PORTAL_DATA/plans."""
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "garage.toml").write_text(GARAGE)
    return folder


def _plans(house: House) -> str:
    return f"projects/{house.other_project}/plans"


def _listed(client: ApiClient) -> dict[str, dict[str, Any]]:
    return {one["plan"]: one for one in client.get("plans").get_json()}


def test_ours_and_the_firms_own_are_listed(office: ApiClient, own: Path) -> None:
    listed = _listed(office)
    assert {"bath", "kitchen", "laundry", "stone_top", "garage"} <= set(listed)
    assert [one["plan"] for one in listed.values() if one["own"]] == ["garage"]
    hang = listed["garage"]["phases"][0]
    assert hang["work"] == {"low": 3, "likely": 4, "high": 6} and listed["garage"]["orders"] == ["The door"]
    assert all(one["source"] for one in listed.values())


def test_a_plan_of_the_firms_takes_the_place_of_ours(office: ApiClient, own: Path) -> None:
    (own / "bath.toml").write_text(GARAGE)
    assert _listed(office)["bath"]["title"] == "A garage door" and _listed(office)["bath"]["own"]


@pytest.mark.parametrize(
    ("wrong", "right", "line", "reason"),
    [
        ("hours = [6, 4, 6]", "hours = [3, 4, 6]", 7, "rising order"),
        ('held_by = ["sid"]', 'held_by = ["side"]', 8, "no decision here has the key 'sid'"),
        ("hour = [3, 4, 6]", "hours = [3, 4, 6]", 7, "is not known here"),
        ("title = ", 'title = "A garage door"', 1, "not valid TOML"),
    ],
)
def test_a_wrong_file_is_refused_with_file_line_and_reason(
    manager: ApiClient, house: House, own: Path, wrong: str, right: str, line: int, reason: str
) -> None:
    (own / "garage.toml").write_text(GARAGE.replace(right, wrong))
    told = _listed(manager)["garage"]["refused"]
    assert (told["file"], told["line"]) == ("garage.toml", line) and reason in told["reason"]
    problem = refused(manager.post(_plans(house), {"plans": [{"plan": "garage"}]}), 422, "plans")
    assert (problem["file"], problem["line"]) == ("garage.toml", line) and reason in problem["reason"]
    assert problem["detail"].startswith(f"garage.toml, line {line}: ")
    assert manager.get(f"projects/{house.other_project}/phases").get_json() == []


def test_a_file_that_is_no_text_is_refused_like_the_others(office: ApiClient, own: Path) -> None:
    (own / "photo.toml").write_bytes(b'title = "x"\n\xff\xd8\xff')
    assert _listed(office)["photo"]["refused"] == {
        "file": "photo.toml", "line": 2, "reason": "is not UTF-8; save it as plain text",
    }


def test_a_project_starts_from_several_plans_joined(manager: ApiClient, house: House, own: Path) -> None:
    body = {
        "plans": [{"plan": "laundry", "rooms": {"laundry": "Utility room"}}, {"plan": "garage"}],
        "links": [{"phase": "garage.hang", "after": f"laundry.{_listed(manager)['laundry']['phases'][0]['key']}",
                   "wait_hours": 24}],
    }
    started = manager.post(_plans(house), body)
    assert started.status_code == 201, started.get_json()
    laid = started.get_json()
    phases = {one["id"]: one for one in manager.get(f"projects/{house.other_project}/phases?per_page=100").get_json()}
    assert set(laid["phases"]) == set(phases)
    assert phases[laid["phases"][-1]]["after"] == [{"phase": laid["phases"][0], "wait_hours": 24}]
    assert "Utility room" in [one["name"] for one in manager.get(f"projects/{house.other_project}/rooms").get_json()]
    schedule = manager.get(f"projects/{house.other_project}/schedule").get_json()
    assert schedule["forecast"]["likely_by"] <= schedule["forecast"]["safely_by"]


def test_hours_that_only_a_label_knows_are_listed_sent_and_told_where_they_are_missing(
    manager: ApiClient, house: House
) -> None:
    listed = {one["cure"]: one for one in _listed(manager)["stone_top"]["label_waits"]}
    assert list(listed) == ["seam_adhesive", "sink_adhesive"]
    assert listed["seam_adhesive"]["phases"] == ["Drill the holes in the stone top"] and listed["seam_adhesive"]["what"]
    body = {"plans": [{"plan": "stone_top", "label_hours": {"sink_adhesive": 12}}]}
    assert manager.post(_plans(house), body).status_code == 201
    rows = manager.get(f"projects/{house.other_project}/phases?per_page=100").get_json()
    phases = {one["name"]: one for one in rows}
    laid, drilled = phases["Set the stone top and its seam"], phases["Drill the holes in the stone top"]
    connected = phases["Connect the sink, faucet and cooktop"]
    assert {one["phase"]: one["wait_hours"] for one in connected["after"]} == {laid["id"]: 24, drilled["id"]: 12}
    assert manager.get(_plans(house)).get_json()["label_waits"] == [
        {"phase": drilled["id"], "cure": "seam_adhesive", "after": [laid["id"]]}
    ]


def test_a_label_of_nothing_in_the_table_is_refused(manager: ApiClient, house: House) -> None:
    body = {"plans": [{"plan": "stone_top", "label_hours": {"tar": 12}}]}
    assert "There is no cure tar" in refused(manager.post(_plans(house), body), 422, "plans")["detail"]


def test_a_plan_that_leaves_the_house_without_warns_at_once(manager: ApiClient, house: House) -> None:
    warned = manager.post(_plans(house), {"plans": [{"plan": "bath"}]}).get_json()["warnings"]
    assert {"no_toilet"} <= {one["kind"] for one in warned}


def test_an_earlier_project_is_a_plan_too(manager: ApiClient, house: House) -> None:
    laid = manager.post(_plans(house), {"project": house.project})
    assert laid.status_code == 201 and len(laid.get_json()["phases"]) == len(house.phases)


def test_the_plans_questions_are_asked_when_someone_asks_them(manager: ApiClient, house: House, own: Path) -> None:
    (hang,) = manager.post(_plans(house), {"plans": [{"plan": "garage"}]}).get_json()["phases"]
    start = f"projects/{house.other_project}/phases/{hang}/start"
    assert refused(manager.post(start), 409)["type"] == "/problems/not-asked"
    (question,) = manager.get(_plans(house)).get_json()["questions"]
    assert question["holds"] == [hang]
    asked = manager.post(f"{_plans(house)}/questions/{question['id']}", {"question": "Left or right?"})
    assert asked.status_code == 201 and asked.get_json()["question"] == "Left or right?"
    assert manager.get(asked.headers["Location"].removeprefix("/api/v1/")).headers["ETag"] == asked.headers["ETag"]
    assert manager.get(_plans(house)).get_json()["questions"] == []
    assert refused(manager.post(start), 409)["type"] == "/problems/held"


def test_orders_are_made_and_questions_dropped(manager: ApiClient, office: ApiClient, house: House, own: Path) -> None:
    (hang,) = manager.post(_plans(house), {"plans": [{"plan": "garage"}]}).get_json()["phases"]
    planned = office.get(_plans(house)).get_json()
    (order,) = planned["orders"]
    refused(office.post(f"{_plans(house)}/orders/{order['id']}", {}), 422, "expected_on")
    ordered = office.post(f"{_plans(house)}/orders/{order['id']}", {"expected_on": "2026-12-10"}).get_json()
    assert (ordered["item"], ordered["phases"]) == ("The door", [hang])
    question = f"{_plans(house)}/questions/{planned['questions'][0]['id']}"
    refused(office.send("DELETE", question), 403)
    refused(manager.send("DELETE", question), 422, "reason")
    refused(manager.send("DELETE", question, {"reason": "..."}), 422, "reason")
    refused(manager.post(f"projects/{house.other_project}/phases/{hang}/start"), 409)
    assert manager.send("DELETE", question, {"reason": "The door is in the garage already"}).status_code == 204
    assert manager.get(_plans(house)).get_json() == {"questions": [], "orders": [], "label_waits": []}
    assert manager.post(f"projects/{house.other_project}/phases/{hang}/start", {"anyway": True}).status_code == 200


@pytest.mark.parametrize(
    ("body", "status", "field"),
    [
        ({}, 422, "plans"),
        ({"plans": [{"plan": "bath"}], "project": 7}, 422, "plans"),
        ({"plans": []}, 422, "plans"),
        ({"plans": [{"plan": "../bath"}]}, 404, None),
        ({"plans": [{"plan": "moon"}]}, 404, None),
        ({"plans": [{"plan": "bath", "rooms": {"bath": ""}}]}, 422, "plans.0.rooms.bath.value"),
        ({"plans": [{"plan": "bath"}], "links": [{"phase": "bath.x", "after": "bath.y"}]}, 422, "plans"),
        ({"project": 8}, 422, "project"),
        ({"project": 99}, 422, "project"),
    ],
)
def test_what_can_not_be_started_from_is_refused_and_adds_nothing(
    manager: ApiClient, house: House, body: Any, status: int, field: str | None
) -> None:
    refused(manager.post(_plans(house), body), status, field)
    assert manager.get(f"projects/{house.other_project}/phases").get_json() == []


def test_a_homeowner_sees_no_plans_to_start_from(sending_as: As) -> None:
    refused(sending_as("homeowner").get("plans"), 403)
