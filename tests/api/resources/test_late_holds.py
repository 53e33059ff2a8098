"""A question that is closed, since its work has begun, holds nothing more; and none is asked about begun work only."""

from collections.abc import Callable

import pytest
from werkzeug.test import TestResponse

from portal.acts.plan.plan_table import Line, PlanRefused, fill_plan
from tests.acts.kept import kinds
from tests.house import NOW, House
from tests.served import ApiClient, refused

As = Callable[[str | None], ApiClient]
WORK = {"low": 4, "likely": 4, "high": 4}


def begin(house: House, manager: ApiClient) -> None:
    phase = f"projects/{house.project}/phases/{house.phases['drill']}"
    assert manager.post(f"{phase}/release", {"reason": "They are here"}).status_code == 200
    assert manager.post(f"{phase}/start", {"anyway": True}).status_code == 200


def hold_more(house: House, manager: ApiClient, way: str) -> TestResponse:
    """Let decision 1 hold more work than the drilling."""
    decision, project = house.decisions[1], f"projects/{house.project}"
    if way == "holds":
        return manager.change(f"{project}/decisions/{decision}", {
            "holds": [house.phases["drill"], house.phases["sink"]]})  # fmt: skip
    if way == "held_by":
        sink = f"{project}/phases/{house.phases['sink']}"
        return manager.change(sink, {"held_by": [*manager.get(sink).json["held_by"], decision]})
    return manager.post(f"{project}/phases", {"name": "Drill one more", "work": WORK, "held_by": [decision]})


@pytest.mark.parametrize("way", ["holds", "held_by", "new"])
def test_a_closed_question_is_not_opened_by_more_work(
    sending_as: As, manager: ApiClient, house: House, way: str
) -> None:
    begin(house, manager)
    before = kinds(house.project)
    problem = refused(hold_more(house, manager, way), 422)
    said = "Decision 1 is closed: the work has begun (“Drill the holes in the stone top”)."
    assert said in str(problem["errors"]), problem
    path = f"projects/{house.project}/decisions/{house.decisions[1]}"
    assert manager.get(path).json["closed"] == "work_has_begun"
    yes = {"revision": 1, "option": "b", "name": "Maren Okafor"}
    assert sending_as("homeowner").post(f"{path}/approvals", yes).json["type"] == "/problems/work-has-begun"
    assert kinds(house.project) == before


@pytest.mark.parametrize("way", ["holds", "held_by", "new"])
def test_while_the_work_waits_the_question_may_hold_more(manager: ApiClient, house: House, way: str) -> None:
    assert hold_more(house, manager, way).status_code in (200, 201)


def test_a_line_of_the_table_does_not_open_it_either(house: House, manager: ApiClient) -> None:
    begin(house, manager)
    with pytest.raises(PlanRefused) as refusal:
        fill_plan(house.manager, house.project, [Line(1, "Drill one more", (60, 60, 60), held_by=[1])], now=NOW)
    ((line, field, said),) = refusal.value.details["faults"]
    assert (line, field) == (1, "held_by") and "Decision 1 is closed" in said


def test_no_question_is_asked_that_holds_begun_work_only(house: House, manager: ApiClient) -> None:
    begin(house, manager)
    drill, sink, path = house.phases["drill"], house.phases["sink"], f"projects/{house.project}/decisions"
    question = {"question": "Which?", "options": [{"title": "One"}, {"title": "Two"}]}
    problem = refused(manager.post(path, question | {"holds": [drill]}), 422)
    assert "all has begun already (“Drill the holes in the stone top”)" in str(problem["errors"])
    assert manager.post(path, question | {"holds": [drill, sink]}).status_code == 201
    asked = manager.post(path, question | {"holds": []}).json
    problem = refused(manager.change(f"{path}/{asked['id']}", {"holds": [drill]}), 422)
    assert "nobody could answer it" in str(problem["errors"])
