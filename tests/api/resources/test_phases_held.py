"""Over the API: a refused start lists everything in the way, and a release what it leaves there."""

from portal.store.tables import PlannedQuestion
from tests.house import House
from tests.served import ApiClient, refused


def path(house: House, key: str, doing: str) -> str:
    return f"projects/{house.project}/phases/{house.phases[key]}/{doing}"


def bolts(house: House, key: str) -> int:
    made = PlannedQuestion.create(project=house.project, question="Which bolts?", options=[], holds=[house.phases[key]])
    return int(made.id)


def test_the_problem_lists_decisions_and_what_the_plan_wants_asked(manager: ApiClient, house: House) -> None:
    question = bolts(house, "drill")
    problem = refused(manager.post(path(house, "drill", "start"), {}), 409)
    assert problem["type"] == "/problems/held"
    assert [(one["id"], one["number"]) for one in problem["decisions"]] == [(house.decisions[1], 1)]
    assert problem["planned"] == [{"id": question, "question": "Which bolts?"}]


def test_where_only_the_plan_wants_it_asked_the_problem_lists_that(manager: ApiClient, house: House) -> None:
    question = bolts(house, "top")
    for doing, body, kind in (("start", {}, "not-asked"), ("release", {"reason": "So"}, "only-planned")):
        problem = refused(manager.post(path(house, "top", doing), body), 409)
        assert problem["type"] == f"/problems/{kind}"
        assert problem["planned"] == [{"id": question, "question": "Which bolts?"}]


def test_a_release_answers_what_it_does_not_lift(manager: ApiClient, house: House) -> None:
    question = bolts(house, "drill")
    answer = manager.post(path(house, "drill", "release"), {"reason": "They are here"})
    assert answer.status_code == 200 and answer.json["id"] == house.phases["drill"]
    left = answer.json["still_in_the_way"]
    assert [(one["kind"], one["id"]) for one in left] == [
        ("planned_question", question), ("phase", house.phases["top"])
    ]  # fmt: skip
    assert left[0]["words"] == "The plan wants “Which bolts?” asked first, or dropped."
