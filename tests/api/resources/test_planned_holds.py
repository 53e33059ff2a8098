"""What the plan holds until a question is asked and approved is not free unseen, whichever way that question goes."""

from typing import Any

import pytest

from portal.store.tables import PlannedQuestion
from tests.acts.kept import kinds, newest
from tests.house import House
from tests.served import ApiClient, refused

WORDS = {"options": [{"title": "One"}, {"title": "Two"}]}


def planned(house: House, **changed: Any) -> str:
    values = {"kind": "finish", "room": house.rooms["kitchen"], "holds": [house.phases["top"]]} | changed
    made = PlannedQuestion.create(project=house.project, question="Which edge?", options=[], **values)
    return f"projects/{house.project}/plans/questions/{made.id}"


def start(house: House, manager: ApiClient) -> int:
    return manager.post(f"projects/{house.project}/phases/{house.phases['top']}/start", {"anyway": True}).status_code


@pytest.mark.parametrize("less", ["nothing", "other work"])
def test_it_is_not_asked_with_less_than_the_plan_holds(manager: ApiClient, house: House, less: str) -> None:
    holds = [] if less == "nothing" else [house.phases["sink"]]
    path, before = planned(house), kinds(house.project)
    problem = refused(manager.post(path, WORDS | {"holds": holds}), 422)
    assert "The plan holds “Set the stone top” until this is approved" in str(problem["errors"])
    assert kinds(house.project) == before and start(house, manager) == 409


def test_it_is_asked_with_more_and_then_holds_until_approved_or_released(manager: ApiClient, house: House) -> None:
    path, every = planned(house), [house.phases["top"], house.phases["sink"]]
    asked = manager.post(path, WORDS | {"holds": every})
    assert (asked.status_code, asked.json["holds"]) == (201, every)
    assert start(house, manager) == 409
    top = f"projects/{house.project}/phases/{house.phases['top']}"
    assert manager.post(f"{top}/release", {"reason": "It fits every edge"}).status_code == 200
    assert newest(house.project)["kind"] == "released" and start(house, manager) == 200


@pytest.mark.parametrize("other", ["kind", "room"])
def test_a_question_of_another_kind_or_room_does_not_settle_it(
    manager: ApiClient, house: House, other: str
) -> None:
    path = planned(house)
    sent = {"kind": "deck"} if other == "kind" else {"room": house.rooms["laundry"]}
    problem = refused(manager.post(path, WORDS | sent), 422)
    assert other in str(problem["errors"])
    assert start(house, manager) == 409


def test_it_is_dropped_with_a_reason_that_is_on_the_record(manager: ApiClient, house: House) -> None:
    path, before = planned(house), kinds(house.project)
    for body in (None, {}, {"reason": " "}, {"reason": "."}):
        refused(manager.send("DELETE", path, body), 422)
    assert kinds(house.project) == before and start(house, manager) == 409
    assert manager.send("DELETE", path, {"reason": "The contract says it"}).status_code == 204
    entry = newest(house.project)
    assert (entry["kind"], entry["actor"]["id"]) == ("planned_question_dropped", house.manager.id)
    assert entry["body"] == {
        "question": "Which edge?", "reason": "The contract says it", "held": ["Set the stone top"]}  # fmt: skip
    assert start(house, manager) == 200


@pytest.mark.parametrize("held", ["nothing", "begun work"])
def test_where_it_holds_no_work_back_no_reason_is_needed(manager: ApiClient, house: House, held: str) -> None:
    holds = [house.phases["cabinets"]] if held == "begun work" else []
    path, before = planned(house, holds=holds), kinds(house.project)
    assert manager.send("DELETE", path).status_code == 204
    assert kinds(house.project) == [*before, "planned_question_dropped"], "also where nothing is held back"
