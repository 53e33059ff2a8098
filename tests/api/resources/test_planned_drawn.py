"""Over the API, a drawn question settles what the plan wanted asked of its kind and room, as by form."""

from portal.store.tables import PlannedQuestion
from tests.drawn import deck_question
from tests.house import House
from tests.served import ApiClient


def planned(house: House) -> int:
    made = PlannedQuestion.create(
        project=house.project, kind="deck", room=house.rooms["kitchen"], question="Which holes?", lead_days=3,
        options=[{"key": "a", "title": "One"}], holds=[house.phases["top"]],
    )  # fmt: skip
    return int(made.id)


def test_asked_by_itself_it_is_listed_no_more_and_its_hold_is_the_decisions(manager: ApiClient, house: House) -> None:
    planned(house)
    path = f"projects/{house.project}"
    asked = manager.post(f"{path}/decisions", deck_question(room=house.rooms["kitchen"]))
    assert (asked.status_code, asked.json["holds"]) == (201, [house.phases["top"]])
    assert manager.get(f"{path}/plans").json["questions"] == []
    problem = manager.post(f"{path}/phases/{house.phases['top']}/start", {}).json
    assert [one["id"] for one in problem["decisions"]] == [asked.json["id"]] and problem["planned"] == []


def test_asked_as_planned_with_drawings_it_keeps_what_the_plan_knows(manager: ApiClient, house: House) -> None:
    question, drawn = planned(house), deck_question()
    sent = {name: drawn[name] for name in ("options", "detail")}
    asked = manager.post(f"projects/{house.project}/plans/questions/{question}", sent)
    assert asked.status_code == 201, asked.json
    assert (asked.json["kind"], asked.json["room"], asked.json["lead_days"], asked.json["holds"]) == (
        "deck", house.rooms["kitchen"], 3, [house.phases["top"]]
    )  # fmt: skip
    assert asked.json["options"][0]["detail"]["drawing"]
    assert manager.get(f"projects/{house.project}/plans").json["questions"] == []
