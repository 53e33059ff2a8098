"""A drawn question settles what the plan wanted asked of its kind and room, and holds what that held."""

from typing import Any

import pytest

from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.plan.planned_questions import ask_planned
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import Held
from portal.store.rows import plan_rows, planned_rows
from portal.store.tables import PlannedQuestion
from tests.drawn import ask_deck, deck_question
from tests.house import NOW, House


def planned(house: House, room: str | None = "kitchen", **changed: Any) -> PlannedQuestion:
    values = {"kind": "deck", "question": "Which holes?", "options": [], "holds": [house.phases["drill"]]} | changed
    return PlannedQuestion.create(project=house.project, room=house.rooms[room] if room else None, **values)


def open_ones(house: House) -> list[int]:
    return [one.id for one in planned_rows.questions(house.project)]


def test_it_is_settled_and_its_hold_goes_on_as_the_decisions(house: House) -> None:
    row = planned(house, holds=[house.phases["top"], house.phases["cabinets"]])
    asked = ask_deck(house)
    assert open_ones(house) == [] and PlannedQuestion.get_by_id(row.id).decision_id == asked.id
    assert plan_rows.held_phases(asked.id) == [house.phases["drill"], house.phases["top"]], "the cabinets have begun"
    with pytest.raises(Held, match=f"until decision {asked.number} is approved"):
        start_phase(house.manager, house.project, house.phases["top"], now=NOW)


@pytest.mark.parametrize("other", [
    {"room": "laundry"}, {"room": None}, {"kind": "pulls"}, {"kind": "grout"}, {"dropped_at": NOW},
])  # fmt: skip
def test_another_kind_or_room_is_not(house: House, other: dict[str, Any]) -> None:
    row = planned(house, **other)
    ask_deck(house)
    assert PlannedQuestion.get_by_id(row.id).decision_id is None


def test_what_is_asked_in_words_settles_nothing(house: House) -> None:
    row = planned(house)
    options = [{"title": "One"}, {"title": "Two"}]
    words = {"kind": "deck", "room": house.rooms["kitchen"], "question": "Which?", "options": options}
    asked = ask_decision(house.manager, house.project, words, NOW)
    assert open_ones(house) == [row.id]
    question = deck_question()
    drawn = {name: question[name] for name in ("options", "detail")}
    ask_again(house.manager, house.project, asked.id, drawn, NOW)
    assert open_ones(house) == [], "asked again, with drawings"


def test_of_two_that_are_alike_it_is_the_one_that_holds_the_same_work(house: House) -> None:
    first, second = planned(house, holds=[house.phases["sink"]]), planned(house)
    ask_deck(house)
    assert open_ones(house) == [first.id] and PlannedQuestion.get_by_id(second.id).decision_id


def test_of_two_that_are_as_near_none_is_settled_unseen(house: House) -> None:
    rows = [planned(house), planned(house)]
    ask_deck(house)
    assert open_ones(house) == [row.id for row in rows]


def test_the_planned_question_that_is_named_is_settled_and_no_other(house: House) -> None:
    first, second = planned(house), planned(house)
    values = deck_question(room=house.rooms["kitchen"], holds=[house.phases["sink"], house.phases["drill"]])
    asked = ask_planned(house.manager, house.project, second.id, values, NOW)
    assert open_ones(house) == [first.id]
    assert plan_rows.held_phases(asked.id) == [house.phases["sink"], house.phases["drill"]], "as it was asked"


def test_a_question_of_the_whole_house_settles_that_of_the_whole_house(house: House) -> None:
    row = planned(house, room=None)
    ask_decision(house.manager, house.project, deck_question(), NOW)
    assert PlannedQuestion.get_by_id(row.id).decision_id
