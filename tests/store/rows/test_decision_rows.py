"""A decision is answered in its current revision; an approval counts for its own, until it is withdrawn."""

import pytest
from peewee import IntegrityError

from portal.store import tables
from portal.store.engine.database import execute, write
from portal.store.facts import ApprovalFact
from portal.store.rows import decision_rows
from tests.house import NOW, House


def approve(house: House, number: int, person: int, revision: int = 1, entered_by: int | None = None) -> int:
    given = ApprovalFact(house.decisions[number], revision, "b", person, "M. Okafor", NOW)
    with write():
        decision_rows.add_approval(given, entered_by)
    return int(tables.Approval.select().order_by(tables.Approval.id.desc()).get().id)


def ask_again(house: House, number: int) -> None:
    tables.Revision.create(
        decision=house.decisions[number], number=2, question="Asked anew?", options=[], shown="{}", check_code="c" * 64,
        asked_at=NOW,
    )
    tables.Decision.update(revision=2).where(tables.Decision.id == house.decisions[number]).execute()


def test_whoever_answers_sees_the_current_revision(house: House) -> None:
    ask_again(house, 1)
    asked = decision_rows.for_answer(house.project, house.decisions[1])
    assert asked is not None
    assert (asked.id, asked.number, asked.state, asked.revision) == (house.decisions[1], 1, "asked", 2)
    assert (asked.question, asked.check_code, asked.options) == ("Asked anew?", "c" * 64, [])
    assert decision_rows.for_answer(house.other_project, house.decisions[1]) is None


def test_an_option_is_found_by_its_key(house: House) -> None:
    asked = decision_rows.for_answer(house.project, house.decisions[2])
    assert asked is not None
    assert (asked.option("b") or {})["title"] == "Charcoal" and asked.option("c") is None


def test_approvals_are_those_of_the_revision_that_still_stand(house: House) -> None:
    first = approve(house, 1, house.homeowner.id)
    approve(house, 1, house.co_owner.id)
    ask_again(house, 1)
    approve(house, 1, house.homeowner.id, revision=2)
    with write():
        decision_rows.withdraw(first, house.homeowner.id, "We think again", NOW + 5)
    one = house.decisions[1]
    assert [given.person_id for given in decision_rows.approvals(one, 1)] == [house.co_owner.id]
    assert decision_rows.approvals(one, 2) == [ApprovalFact(one, 2, "b", house.homeowner.id, "M. Okafor", NOW)]
    assert len(decision_rows.approvals_of(one)) == 3, "what was withdrawn was given all the same"
    assert decision_rows.approvals(house.decisions[2], 1) == []


def test_a_persons_approval_stands_until_it_is_withdrawn(house: House) -> None:
    one, made = house.decisions[1], approve(house, 1, house.homeowner.id)
    assert decision_rows.standing_approval(one, 1, house.homeowner.id) == made
    assert decision_rows.standing_approval(one, 2, house.homeowner.id) is None
    assert decision_rows.standing_approval(one, 1, house.co_owner.id) is None
    with write():
        decision_rows.withdraw(made, house.homeowner.id, "", NOW)
    assert decision_rows.standing_approval(one, 1, house.homeowner.id) is None


def test_what_was_entered_from_paper_is_told_from_what_was_approved_on_a_screen(house: House) -> None:
    approve(house, 1, house.homeowner.id)
    paper = approve(house, 1, house.co_owner.id, entered_by=house.office.id)
    assert [row.id for row in decision_rows.entered_from_paper(house.decisions[1], 1)] == [paper]
    with write():
        decision_rows.withdraw(paper, house.co_owner.id, "Misread", NOW, entered_by=house.office.id)
    assert decision_rows.entered_from_paper(house.decisions[1], 1) == []


def test_the_state_is_set_for_the_revision_that_was_answered_only(house: House) -> None:
    one = house.decisions[1]
    with write():
        decision_rows.set_state(one, 2, "approved")
    assert tables.Decision.get_by_id(one).state == "asked"
    with write():
        decision_rows.set_state(one, 1, "approved")
    after = tables.Decision.get_by_id(one)
    assert (after.state, after.version) == ("approved", 2)
    assert tables.Decision.get_by_id(house.decisions[2]).state == "asked"


def test_those_who_may_approve_are_homeowners_of_the_project_who_may(house: House) -> None:
    tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    tables.Person.update(phone="").where(tables.Person.id == house.homeowner.id).execute()
    assert decision_rows.approvers(house.project) == [house.homeowner.id, house.co_owner.id]
    tables.Person.update(may_approve=False).where(tables.Person.id == house.homeowner.id).execute()
    assert decision_rows.approvers(house.project) == [house.co_owner.id]


def test_decisions_are_found_by_number_in_their_project(house: House) -> None:
    found = decision_rows.by_number(house.project, 3)
    assert found is not None and found.id == house.decisions[3]
    assert decision_rows.by_number(house.other_project, 3) is None and decision_rows.by_number(house.project, 6) is None
    assert decision_rows.ids_by_number(house.project) == house.decisions
    tables.Decision.update(kind="general").where(tables.Decision.number == 1).execute()
    assert [row.number for row in decision_rows.open_decisions(house.project)] == [1, 2, 4, 5]
    assert decision_rows.open_decisions(house.other_project) == []
    assert (decision_rows.next_number(house.project), decision_rows.next_number(house.other_project)) == (6, 1)


def test_revisions_come_by_number(house: House) -> None:
    ask_again(house, 1)
    one = house.decisions[1]
    assert [row.number for row in decision_rows.revisions(one)] == [1, 2]
    assert decision_rows.revision(one, 2).question == "Asked anew?"
    assert decision_rows.find_revision(one, 3) is None and decision_rows.find_revision(one, 1) is not None


def test_a_question_back_is_unanswered_until_it_is_answered(house: House) -> None:
    four = house.decisions[4]
    (asked,) = decision_rows.questions_back(four)
    assert decision_rows.unanswered(four) and not decision_rows.unanswered(house.decisions[1])
    with write():
        answered = decision_rows.answer(asked.id, "It stays.", house.manager.id, NOW + 9)
    assert answered == asked and answered.text == asked.text and asked.answer is None
    assert tables.QuestionBack.get_by_id(asked.id).answer == answered.answer
    assert (answered.answer, answered.answered_by_id, answered.answered_at) == ("It stays.", house.manager.id, NOW + 9)
    assert not decision_rows.unanswered(four)


def test_a_question_back_is_found_at_its_decision_only(house: House) -> None:
    (asked,) = decision_rows.questions_back(house.decisions[4])
    assert decision_rows.question_back(house.decisions[4], asked.id) == asked
    assert decision_rows.question_back(house.decisions[1], asked.id) is None


@pytest.mark.parametrize("table", ["approval", "withdrawal", "revision"])
@pytest.mark.parametrize("doing", ["UPDATE {} SET {column} = {column}", "DELETE FROM {}"])
def test_answers_and_what_was_shown_are_never_changed(house: House, table: str, doing: str) -> None:
    made = approve(house, 1, house.homeowner.id)
    with write():
        decision_rows.withdraw(made, house.homeowner.id, "", NOW)
    column = {"approval": "name", "withdrawal": "reason", "revision": "question"}[table]
    with pytest.raises(IntegrityError, match=f"{table} is only added to"), write():
        execute(doing.format(table, column=column))
