"""A decision as one plain value is as its current revision asks it; the earlier ones are to be had beside it."""

from typing import Any

from portal.store import tables
from portal.store.facts import ApprovalFact
from portal.store.reading import decision_views
from portal.store.reading.decision_views import DecisionView
from tests.house import NOW, House
from tests.store.reading.one_of_each import one_of_each


def row_of(decision: int) -> Any:
    return tables.Decision.get_by_id(decision)


def test_each_field_comes_from_its_own_column(house: House) -> None:
    one_of_each(1)
    mine = one_of_each(2)
    row, revision, standing = row_of(mine.decision.id), mine.revisions[1], mine.standing
    assert decision_views.view(row) == DecisionView(
        id=row.id, version=row.version, number=row.number, kind="kind 2", room=mine.room.id, lead_days=row.lead_days,
        asked_for=row.asked_for, approvers="2", holds=[mine.phases[1].id], revision=2,
        state="closed", closed="work_has_begun", withdrawal=None,
        question="Question 2.2?", options=[{"key": "k2", "title": "K"}], detail=revision.detail, check_code="22" * 32,
        asked_at=revision.asked_at,
        approvals=[ApprovalFact(row.id, 2, standing.option, mine.people[1].id, standing.name, standing.at)],
        questions_back=mine.questions,
    )  # fmt: skip


def test_an_earlier_revision_shows_through_nowhere(house: House) -> None:
    mine = one_of_each(2)
    tables.Decision.update(revision=1).where(tables.Decision.id == mine.decision.id).execute()
    view = decision_views.view(row_of(mine.decision.id))
    assert (view.revision, view.question, view.check_code) == (1, "Question 2.1?", "21" * 32)
    assert view.approvals == [], "that of the first revision was taken back, the other is of the second"


def test_a_decision_that_holds_nothing_and_belongs_to_no_room(house: House) -> None:
    decision = house.decisions[5]
    tables.Decision.update(room=None, asked_for=None).where(tables.Decision.id == decision).execute()
    view = decision_views.view(row_of(decision))
    assert (view.room, view.asked_for, view.detail) == (None, None, None)
    assert (view.holds, view.approvals, view.questions_back) == ([], [], [])


def test_phases_and_questions_come_in_the_order_in_which_they_were_given(house: House) -> None:
    decision = house.decisions[5]
    for key, later in (("walk", 9), ("out", 5)):
        tables.PhaseHold.create(phase=house.phases[key], decision=decision)
        tables.QuestionBack.create(
            decision=decision, revision=1, person=house.homeowner.id, text=key, asked_at=NOW + later
        )
    view = decision_views.view(row_of(decision))
    assert view.holds == [house.phases["walk"], house.phases["out"]]
    assert [question.text for question in view.questions_back] == ["walk", "out"]


def test_revisions_come_by_number_and_are_of_this_decision_alone(house: House) -> None:
    one_of_each(1)
    mine = one_of_each(2)
    for number in (4, 3):
        tables.Revision.create(
            decision=mine.decision, number=number, question="", options=[], shown="{}", check_code="0", asked_at=NOW
        )
    found = decision_views.revisions(mine.decision)
    assert found[:2] == mine.revisions and [one.number for one in found] == [1, 2, 3, 4]


def test_all_approvals_that_were_ever_given_are_told(house: House) -> None:
    one_of_each(1)
    mine = one_of_each(2)
    assert decision_views.approvals(mine.decision) == [mine.earlier, mine.taken_back, mine.standing]
    assert decision_views.approvals(row_of(house.decisions[5])) == []
