"""What the plan wants asked, asked by drawing: the form begins with what is known, and it is asked once."""

from typing import Any

import pytest

from portal.acts.decisions.closing import withdraw_question
from portal.demo.dimensions import DECK
from portal.layouts.kinds import KINDS, lay_out
from portal.store.rows import decision_rows
from portal.store.tables import Decision, PlannedQuestion
from portal.web.forms.blanks import texts
from portal.words.drawn.usual_questions import USUAL_QUESTIONS
from tests.drawn import ask_deck
from tests.house import NOW, House
from tests.web.signed_in import Desk

PROJECT = "/desk/projects/7/"


def planned(house: House, kind: str = "deck", room: str | None = "kitchen", **changed: Any) -> PlannedQuestion:
    values = {
        "question": "Which holes do we drill?", "options": [{"key": "a", "title": "One"}], "lead_days": 3,
        "holds": [house.phases["top"]],
    } | changed  # fmt: skip
    return PlannedQuestion.create(
        project=house.project, kind=kind, room=house.rooms[room] if room else None, **values
    )


BEST = lay_out("deck", DECK)[0].key
TYPED = {name: values[0] for name, values in texts("deck", DECK).items()}


def look(desk: Desk) -> Desk:
    return desk.post(desk.typed() | TYPED | {"step": "look"})


def ask(desk: Desk, **changed: Any) -> Desk:
    """Offer the best layout, and press the button."""
    return desk.post(desk.typed() | {"offer": [BEST], "step": "ask"} | changed)


def holds_of(decision: Decision) -> list[int]:
    return sorted(hold.phase_id for hold in decision.holds)


def test_ask_this_leads_to_the_drawn_form_with_what_the_plan_knows(manager: Desk, house: House) -> None:
    row = planned(house)
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    assert manager.path.startswith(f"{PROJECT}decisions/layouts?kind=deck")
    assert "The plan wants this asked: “Which holes do we drill?”" in manager.says
    look(manager)
    typed = manager.typed()
    assert typed["question"].strip() == "Which holes do we drill?"
    assert (typed["room"], typed["lead_days"], typed["holds"]) == (
        str(house.rooms["kitchen"]), "3", str(house.phases["top"])
    )  # fmt: skip
    ask(manager)
    asked = Decision.select().order_by(Decision.id.desc()).first()
    assert (asked.kind, asked.lead_days, holds_of(asked)) == ("deck", 3, [house.phases["top"]])
    assert PlannedQuestion.get_by_id(row.id).decision_id == asked.id
    assert "With it the plan’s question “Which holes do we drill?” is asked, too." in manager.says
    assert f"planned/{row.id}/ask" not in manager.open(PROJECT).ways
    manager.open(f"planned/{row.id}/ask", 404)


def test_dimensions_of_the_like_that_was_asked_before_are_filled_in(manager: Desk, house: House) -> None:
    before = ask_deck(house)
    withdraw_question(house.manager, house.project, before.id, reason="Measured anew", now=NOW)
    row = planned(house)
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    typed = manager.typed()
    assert {name: typed[name] for name in TYPED} == TYPED
    assert typed["question"].strip() == "Which holes do we drill?"
    ask(manager)
    assert PlannedQuestion.get_by_id(row.id).decision_id


def test_those_of_another_room_are_not(manager: Desk, house: House) -> None:
    ask_deck(house)
    row = planned(house, room="laundry")
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    assert not any(manager.typed()[name] for name in TYPED)


def test_it_can_be_asked_in_words_all_the_same(manager: Desk, house: House) -> None:
    row = planned(house)
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    way, = (way for way in manager.ways if "in=words" in way)
    manager.open(way).send()
    assert PlannedQuestion.get_by_id(row.id).decision_id


def test_what_has_no_drawing_is_asked_in_words(manager: Desk, house: House) -> None:
    row = planned(house, kind="grout")
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    assert manager.path.endswith(f"planned/{row.id}/ask")


def test_a_drawn_question_settles_the_planned_one_of_its_kind_and_room(manager: Desk, house: House) -> None:
    row, other = planned(house), planned(house, room="laundry", question="And in the laundry room?")
    look(manager.open(f"{PROJECT}decisions/layouts?kind=deck"))
    ask(manager, question="Which holes?", room=str(house.rooms["kitchen"]), holds=[str(house.phases["drill"])])
    asked = Decision.select().order_by(Decision.id.desc()).first()
    assert PlannedQuestion.get_by_id(row.id).decision_id == asked.id
    assert PlannedQuestion.get_by_id(other.id).decision_id is None
    assert holds_of(asked) == sorted([house.phases["drill"], house.phases["top"]]), "what the plan held is held"


def test_the_same_form_sent_twice_asks_once(manager: Desk, house: House) -> None:
    row = planned(house)
    manager.open(PROJECT).open(f"planned/{row.id}/ask")
    look(manager)
    sent, path = manager.typed() | {"offer": [BEST], "step": "ask"}, manager.path
    before = Decision.select().count()
    for _ in range(2):
        manager.path = path
        assert "is asked" in manager.post(sent).says
    assert Decision.select().count() == before + 1


@pytest.mark.parametrize("planned_id", ["0", "x", "99999999999"])
def test_a_question_that_no_plan_has_is_not_found(manager: Desk, house: House, planned_id: str) -> None:
    manager.open(f"{PROJECT}decisions/layouts?kind=deck&planned={planned_id}", 404)



def test_asked_from_a_phase_it_begins_with_its_room_and_that_it_waits(manager: Desk, house: House) -> None:
    top = str(house.phases["top"])
    manager.open(f"{PROJECT}phases/{top}/").open(f"{PROJECT}decisions/new?phase={top}")
    assert (manager.typed()["room"], manager.typed()["holds"]) == (str(house.rooms["kitchen"]), top)
    manager.open(f"{PROJECT}decisions/layouts?phase={top}")
    assert {f"layouts?kind=deck&phase={top}", f"new?phase={top}"} <= manager.ways
    look(manager.open(f"{PROJECT}decisions/layouts?kind=deck&phase={top}"))
    begun = manager.typed()
    assert begun["question"].strip() == USUAL_QUESTIONS["deck"]
    assert (begun["room"], begun["holds"], begun["lead_days"]) == (str(house.rooms["kitchen"]), top, "1")
    assert manager.open(f"{PROJECT}decisions/new?phase=999").typed()["lead_days"] == "1"


def test_what_is_asked_already_for_the_same_room_is_said(manager: Desk, house: House) -> None:
    before = ask_deck(house)
    said = f"Decision {before.number} asks this already (Kitchen): “{decision_rows.revision(before.id, 1).question}”"
    assert said in manager.open(f"{PROJECT}decisions/layouts?kind=deck").says
    assert {f"{before.id}/", f"{before.id}/layouts"} <= manager.ways
    laundry = {"step": "look", "room": str(house.rooms["laundry"])}
    assert said not in manager.post(manager.typed() | TYPED | laundry).says
    assert said not in manager.open(f"{PROJECT}decisions/layouts?kind=seam").says
    withdraw_question(house.manager, house.project, before.id, reason="Measured anew", now=NOW)
    assert said not in manager.open(f"{PROJECT}decisions/layouts?kind=deck").says


def test_every_kind_has_a_usual_question() -> None:
    assert set(USUAL_QUESTIONS) == set(KINDS)
