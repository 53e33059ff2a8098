"""Approving, paper, taking back and handing over through the API: a homeowner's link is the bearer token."""

from portal.store.tables import Approval, Decision
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

APPROVAL = {"revision": 1, "option": "a", "name": "Maren Okafor"}


def drill(house: House, way: str = "") -> str:
    return f"projects/{house.project}/decisions/{house.decisions[1]}{way}"


def test_the_hold_is_lifted_by_the_homeowners_approval(homeowner: ApiClient, manager: ApiClient, house: House) -> None:
    start = f"projects/{house.project}/phases/{house.phases['drill']}/start"
    problem = refused(manager.post(start), 409)
    assert problem["decisions"] == [{"id": house.decisions[1], "number": 1, "state": "asked", "revision": 1}]
    assert problem["decision_ids"] == [house.decisions[1]] and "decision 1 is approved" in problem["detail"]
    assert homeowner.post(drill(house, "/approvals"), APPROVAL).status_code == 201
    assert homeowner.post(drill(house, "/approvals"), APPROVAL).status_code == 200
    started = manager.post(start, {"anyway": True})
    assert (started.status_code, started.get_json()["state"]) == (200, "under_way")


def test_an_answer_to_an_old_revision_says_what_changed(
    homeowner: ApiClient, manager: ApiClient, house: House
) -> None:
    manager.post(drill(house, "/revisions"), {"question": "One hole or two?", "reason": "The sink has changed."})
    problem = refused(homeowner.post(drill(house, "/approvals"), APPROVAL), 409)
    assert problem["type"] == "/problems/superseded" and problem["revision"] == 2
    assert problem["changed"] == ["The question is now: “One hole or two?”."]
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()


def test_asking_the_same_again_is_refused(manager: ApiClient, house: House) -> None:
    refused(manager.post(drill(house, "/revisions"), {}), 422, "question")
    assert Decision.get_by_id(house.decisions[1]).revision == 1


def test_asking_again_minds_the_version_that_was_seen(manager: ApiClient, house: House) -> None:
    seen = manager.get(drill(house)).headers["ETag"]
    manager.patch(drill(house), {"lead_days": 3}, If_Match=seen)
    refused(manager.post(drill(house, "/revisions"), {"question": "One hole or two?"}, If_Match=seen), 412)
    assert Decision.get_by_id(house.decisions[1]).revision == 1
    now = manager.get(drill(house)).headers["ETag"]
    again = manager.post(drill(house, "/revisions"), {"question": "One hole or two?"}, If_Match=now)
    assert (again.status_code, again.get_json()["revision"]) == (201, 2)
    assert manager.get(again.headers["Location"].removeprefix("/api/v1/")).headers["ETag"] == again.headers["ETag"]


def test_a_question_back_is_answered(homeowner: ApiClient, office: ApiClient, house: House) -> None:
    question = homeowner.post(drill(house, "/questions"), {"revision": 1, "text": "Does it drip?"}).get_json()
    assert office.get(drill(house)).get_json()["state"] == "asked_back"
    answer = office.post(drill(house, f"/questions/{question['id']}/answer"), {"answer": "No."})
    assert answer.get_json()["answer"] == "No."
    assert office.get(drill(house)).get_json()["state"] == "asked"
    refused(office.post(drill(house, f"/questions/{question['id']}/answer"), {"answer": "No, no."}), 409)


def test_paper_is_entered_and_an_approval_is_taken_back(
    homeowner: ApiClient, office: ApiClient, house: House
) -> None:
    paper = APPROVAL | {"person": house.co_owner.id, "name": "Jonas Okafor"}
    assert office.post(drill(house, "/paper"), paper).status_code == 201
    assert homeowner.get(drill(house)).get_json()["state"] == "approved"
    refused(homeowner.post(drill(house, "/withdrawals"), {"reason": "No"}), 409)
    homeowner.post(drill(house, "/approvals"), APPROVAL)
    assert homeowner.post(drill(house, "/withdrawals"), {"reason": "We thought again"}).status_code == 200


def test_what_was_entered_from_paper_by_mistake_is_taken_back(
    homeowner: ApiClient, office: ApiClient, house: House
) -> None:
    paper = APPROVAL | {"person": house.homeowner.id, "signed_on": "2026-12-01"}
    refused(office.post(drill(house, "/paper"), paper | {"name": "Jonas Okafor"}), 422, "name")
    refused(office.post(drill(house, "/paper"), paper | {"signed_on": "2026-12-03"}), 422, "signed_on")
    assert office.post(drill(house, "/paper"), paper).status_code == 201
    slip = {"person": house.homeowner.id, "reason": "The sheet was of decision 2"}
    refused(homeowner.post(drill(house, "/paper/withdrawals"), slip), 403)
    refused(office.post(drill(house, "/paper/withdrawals"), slip | {"reason": ""}), 422, "reason")
    assert office.post(drill(house, "/paper/withdrawals"), slip).get_json()["state"] == "asked"


def test_a_hand_over_goes_its_way(sending_as: As, manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/handovers"
    refused(manager.post(path, {"phase": house.phases["top"]}), 422, "phase")
    made = manager.post(path, {"phase": house.phases["floor"], "items": [{"item": "One loose tile"}]})
    assert made.status_code == 201 and made.get_json()["items"][0]["item"] == "One loose tile"
    owner = sending_as("homeowner")
    one = f"{path}/{made.get_json()['id']}"
    assert owner.post(f"{one}/items", {"item": "A scratch", "room": house.rooms["bath"]}).status_code == 201
    refused(owner.post(f"{one}/accept", {"name": "Maren Okafor", "seen": 1}), 422, "seen")
    accepted = owner.post(f"{one}/accept", {"name": "Maren Okafor", "seen": 2})
    assert accepted.get_json()["accepted_name"] == "Maren Okafor"
    item = accepted.get_json()["items"][0]["id"]
    assert manager.post(f"{path}/items/{item}/done").get_json()["done_at"] is not None
    assert [row["id"] for row in owner.get(path).get_json()] == [made.get_json()["id"]]


def test_a_phase_is_released_only_with_a_reason(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/phases/{house.phases['drill']}"
    refused(manager.post(f"{path}/release", {}), 422, "reason")
    assert manager.post(f"{path}/release", {"reason": "The template is on site"}).status_code == 200
    assert manager.post(f"{path}/start", {"anyway": True}).status_code == 200


def test_a_contract_change_counts_from_its_approval_on(
    sending_as: As, manager: ApiClient, house: House
) -> None:
    page = sending_as("homeowner").client.get(f"/p/{house.links['homeowner']}/").get_data(as_text=True)
    assert "Nothing approved so far changes it" in page
    sending_as("homeowner").post(drill(house, "/approvals"), APPROVAL | {"option": "b"})
    page = sending_as("homeowner").client.get(f"/p/{house.links['homeowner']}/").get_data(as_text=True)
    assert "add $45" in page and "$48,645" in page
