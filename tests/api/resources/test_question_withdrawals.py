"""A question withdrawn over the API: by a manager alone, with a reason, and what becomes of its hold."""

from collections.abc import Callable

import pytest

from tests.house import House
from tests.served import ApiClient, refused

As = Callable[[str | None], ApiClient]


def path(house: House, number: int = 1) -> str:
    return f"projects/{house.project}/decisions/{house.decisions[number]}"


def test_it_answers_the_decision_as_it_is_then(manager: ApiClient, homeowner: ApiClient, house: House) -> None:
    answer = manager.post(f"{path(house)}/question/withdrawals", {"reason": "Sold out"})
    assert answer.status_code == 200
    for found in (answer.json, homeowner.get(path(house)).json):
        assert (found["state"], found["closed"]) == ("withdrawn", "withdrawn")
        withdrawal = found["withdrawal"]
        assert (withdrawal["reason"], withdrawal["name"], withdrawal["lift_hold"]) == (
            "Sold out", "Dana Whitcombe", False
        )  # fmt: skip
    phase = f"projects/{house.project}/phases/{house.phases['drill']}/start"
    problem = refused(manager.post(phase, {}), 409)
    assert [(one["number"], one["state"]) for one in problem["decisions"]] == [(1, "withdrawn")]


def test_its_hold_is_lifted_where_that_is_sent(manager: ApiClient, house: House) -> None:
    manager.post(f"{path(house)}/question/withdrawals", {"reason": "Sold out", "lift_hold": True})
    start = f"projects/{house.project}/phases/{house.phases['drill']}/start"
    assert manager.post(start, {"anyway": True}).status_code == 200


@pytest.mark.parametrize("who", ["office", "homeowner", "co_owner", "other_homeowner", None])
def test_it_is_for_the_manager_alone(sending_as: As, manager: ApiClient, house: House, who: str | None) -> None:
    status = {None: 401, "other_homeowner": 404}.get(who, 403)
    refused(sending_as(who).post(f"{path(house)}/question/withdrawals", {"reason": "Sold out"}), status)
    assert manager.get(path(house)).json["withdrawal"] is None


def test_a_reason_is_needed_and_an_approved_question_stands(manager: ApiClient, house: House) -> None:
    refused(manager.post(f"{path(house)}/question/withdrawals", {}), 422, "reason")
    refused(manager.post(f"{path(house)}/question/withdrawals", {"reason": "  "}), 422, "reason")
    problem = refused(manager.post(f"{path(house, 3)}/question/withdrawals", {"reason": "Sold out"}), 409)
    assert problem["type"] == "/problems/approved-already"


def test_what_is_withdrawn_takes_no_answer_and_may_be_asked_again_unchanged(
    manager: ApiClient, homeowner: ApiClient, house: House
) -> None:
    manager.post(f"{path(house)}/question/withdrawals", {"reason": "Sold out"})
    body = {"revision": 1, "option": "a", "name": "Maren Okafor"}
    problem = refused(homeowner.post(f"{path(house)}/approvals", body), 409)
    assert problem["type"] == "/problems/question-withdrawn"
    again = manager.post(f"{path(house)}/revisions", {"reason": "There again"})
    assert (again.status_code, again.json["state"], again.json["closed"], again.json["withdrawal"]) == (
        201, "asked", None, None
    )  # fmt: skip
    assert homeowner.post(f"{path(house)}/approvals", body | {"revision": 2}).status_code == 201
