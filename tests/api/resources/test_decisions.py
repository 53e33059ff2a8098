"""Decisions over the API: asked, changed, asked again, listed with their revisions and approvals."""

from typing import Any

import pytest

from portal.store.tables import Decision
from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

LAMP: dict[str, Any] = {"question": "Which lamp?", "options": [{"title": "The round one"}, {"title": "The long one"}]}


@pytest.fixture
def decisions(house: House) -> str:
    return f"projects/{house.project}/decisions"


def test_a_question_is_asked_with_what_was_left_out_filled_in(manager: ApiClient, decisions: str, house: House) -> None:
    made = manager.post(decisions, LAMP)
    body = made.get_json()
    assert made.headers["Location"] == f"/api/v1/{decisions}/{body['id']}"
    assert (body["number"], body["revision"], body["state"], body["kind"]) == (
        len(house.decisions) + 1, 1, "asked", "general"
    )  # fmt: skip
    assert (body["lead_days"], body["approvers"], body["holds"], body["room"]) == (1, "any", [], None)
    assert body["options"][1] == {
        "key": "b", "title": "The long one", "effects": "", "cannot_be_undone": "", "recommended": False,
        "cost_cents": None, "days": None, "detail": None,
    }  # fmt: skip
    assert len(body["check_code"]) == 64 and body["approvals"] == [] == body["questions_back"]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"options": []}, "options"), ({"options": [{"title": "x"}] * 13}, "options"), ({"kind": "Deck!"}, "kind"),
        ({"options": [{"title": "x", "cost_cents": 1.5}]}, "options.0.cost_cents"),
        ({"options": [{"title": "x", "cost_cents": 10**10 + 1}]}, "options.0.cost_cents"),
        ({"options": [{"title": "x", "days": 1001}]}, "options.0.days"), ({"lead_days": 366}, "lead_days"),
        ({"options": [{"title": "x", "key": "A b"}]}, "options.0.key"), ({"lead_days": -1}, "lead_days"),
        ({"approvers": "nobody"}, "approvers"), ({"approvers": "999999"}, "approvers"), ({"number": 9}, "number"),
        ({"holds": [999_999]}, "holds"), ({"question": " "}, "question"), ({"asked_for": "9999-01-01"}, "asked_for"),
    ],
)  # fmt: skip
def test_what_can_not_be_asked_is_refused_by_its_field(
    manager: ApiClient, decisions: str, house: House, wrong: dict[str, Any], field: str
) -> None:
    refused(manager.post(decisions, LAMP | wrong), 422, field)
    assert Decision.select().count() == len(house.decisions)
    assert kinds(house.project) == []


def test_they_are_listed_by_their_numbers(manager: ApiClient, decisions: str, house: House) -> None:
    manager.post(decisions, LAMP)
    assert [one["number"] for one in manager.get(decisions).get_json()] == list(range(1, len(house.decisions) + 2))


def test_a_change_keeps_the_question_out(manager: ApiClient, decisions: str, house: House) -> None:
    path = f"{decisions}/{house.decisions[1]}"
    for name, value in (("question", "Other?"), ("options", []), ("kind", "lamp"), ("detail", {})):
        refused(manager.change(path, {name: value}), 422, name)
    changed = manager.change(path, {"lead_days": 4, "holds": [house.phases["drill"], house.phases["sink"]]}).get_json()
    assert (changed["lead_days"], changed["revision"]) == (4, 1)
    assert set(changed["holds"]) == {house.phases["drill"], house.phases["sink"]}


def test_each_revision_stays_as_it_was_asked(manager: ApiClient, decisions: str, house: House) -> None:
    path = f"{decisions}/{house.decisions[1]}"
    before = manager.get(path).get_json()
    manager.post(f"{path}/revisions", {"question": "Two or three?", "reason": "The sink is another"})
    first, second = manager.get(f"{path}/revisions").get_json()
    assert (first["number"], first["question"], first["check_code"]) == (1, before["question"], before["check_code"])
    assert (second["number"], second["question"], second["reason"]) == (2, "Two or three?", "The sink is another")
    assert second["options"] == first["options"]


def test_what_was_approved_and_taken_back_stays_on_the_list(sending_as: As, decisions: str, house: House) -> None:
    path, homeowner = f"{decisions}/{house.decisions[1]}", sending_as("homeowner")
    given = homeowner.post(f"{path}/approvals", {"revision": 1, "option": "a", "name": house.homeowner.name}).get_json()
    assert (given["person"], given["option"], given["at"]) == (house.homeowner.id, "a", "2026-12-02T13:30:00Z")
    back = homeowner.post(f"{path}/withdrawals", {"reason": "We thought again"}).get_json()
    assert (back["state"], back["approvals"]) == ("asked", [])
    assert [one["name"] for one in homeowner.get(f"{path}/approvals").get_json()] == [house.homeowner.name]


def test_a_question_back_and_its_answer_stand_with_the_decision(sending_as: As, decisions: str, house: House) -> None:
    path = f"{decisions}/{house.decisions[1]}"
    asked = sending_as("homeowner").post(f"{path}/questions", {"revision": 1, "text": "Does it drip?"}).get_json()
    assert (asked["name"], asked["answer"]) == (house.homeowner.name, None)
    sending_as("office").post(f"{path}/questions/{asked['id']}/answer", {"answer": "No."})
    (told,) = sending_as("co_owner").get(path).get_json()["questions_back"]
    assert (told["text"], told["answer"], told["answered_at"]) == ("Does it drip?", "No.", "2026-12-02T13:30:00Z")
    assert sending_as("manager").get(path).get_json()["state"] == "asked"


def test_paper_is_entered_with_the_signers_name_or_one_that_someone_has_looked_at(
    office: ApiClient, decisions: str, house: House
) -> None:
    path = f"{decisions}/{house.decisions[1]}/paper"
    sheet = {"revision": 1, "option": "a", "person": house.co_owner.id, "name": "Somebody Else"}
    refused(office.post(path, sheet), 422, "name")
    entered = office.post(path, sheet | {"another_name": True, "signed_on": "2026-12-01"})
    assert (entered.status_code, entered.get_json()["name"], entered.get_json()["person"]) == (
        201, "Somebody Else", house.co_owner.id
    )  # fmt: skip
    back = office.post(f"{path}/withdrawals", {"person": house.co_owner.id, "reason": "Another house"})
    assert back.headers["ETag"] and back.get_json()["state"] == "asked"


def test_a_decision_of_another_house_is_none_of_this_one(manager: ApiClient, house: House) -> None:
    path = f"projects/{house.other_project}/decisions/{house.decisions[1]}"
    for answer in (
        manager.get(path), manager.get(f"{path}/revisions"), manager.get(f"{path}/approvals"),
        manager.post(f"{path}/revisions", {"question": "Other?"}),
    ):  # fmt: skip
        refused(answer, 404)
