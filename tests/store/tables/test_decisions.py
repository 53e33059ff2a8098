"""Decisions are numbered in their project, revisions in their decision; an approval is of one person, for good."""

from datetime import date

import pytest

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

SHOWN = {"question": "Which?", "options": [{"key": "a", "title": "Oak"}], "shown": "{}", "check_code": "c" * 64}


def approval(house: House, **values: object) -> tables.Approval:
    given = {"decision": house.decisions[1], "revision": 1, "option": "a", "person": house.homeowner.id,
             "name": "Maren Okafor", "at": NOW} | values  # fmt: skip
    made = tables.Approval.create(**given)
    return tables.Approval.get_by_id(made.id)


def test_a_new_decision_is_asked_and_anyone_may_approve_it(house: House) -> None:
    found = tables.Decision.get_by_id(tables.Decision.create(project=house.project, number=6).id)
    assert (found.kind, found.state, found.approvers) == ("general", "asked", "any")
    assert (found.lead_days, found.revision, found.version) == (1, 1, 1)
    assert (found.room_id, found.asked_for) == (None, None)


def test_a_number_is_one_decisions_of_the_project(house: House) -> None:
    with refused_by_the_database("(?i)unique"):
        tables.Decision.create(project=house.project, number=5)
    assert tables.Decision.create(project=house.other_project, number=5).id


def test_a_revisions_number_is_one_of_the_decisions(house: House) -> None:
    with refused_by_the_database("(?i)unique|only added to"):
        tables.Revision.create(decision=house.decisions[1], number=1, asked_at=NOW, **SHOWN)
    made = tables.Revision.create(decision=house.decisions[1], number=2, asked_at=NOW, **SHOWN)
    found = tables.Revision.get_by_id(made.id)
    assert (found.detail, found.asked_by_id, found.reason) == (None, None, "")
    assert found.options == [{"key": "a", "title": "Oak"}]


def test_a_decision_holds_a_phase_once(house: House) -> None:
    with refused_by_the_database("(?i)unique|only added to"):
        tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[1])
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[2])


def test_an_approval_on_a_screen_names_nobody_of_the_staff_and_no_paper(house: House) -> None:
    found = approval(house)
    assert (found.entered_by_id, found.signed_on) == (None, None)
    paper = approval(house, entered_by=house.office.id, signed_on=date(2026, 12, 1))
    assert (paper.entered_by_id, paper.signed_on) == (house.office.id, date(2026, 12, 1))


def test_whoever_took_an_approval_back_may_give_it_again(house: House) -> None:
    first = approval(house)
    tables.Withdrawal.create(approval=first.id, person=house.homeowner.id, at=NOW)
    assert approval(house, at=NOW + 9).id != first.id


def test_an_approval_is_taken_back_once(house: House) -> None:
    first = approval(house)
    tables.Withdrawal.create(approval=first.id, person=house.homeowner.id, at=NOW)
    found = tables.Withdrawal.get_by_id(first.id)
    assert (found.reason, found.entered_by_id, found.at) == ("", None, NOW)
    with refused_by_the_database("(?i)unique|only added to"):
        tables.Withdrawal.create(approval=first.id, person=house.homeowner.id, at=NOW + 9)


@pytest.mark.parametrize("pointing", [{"decision": 999}, {"person": 999}, {"entered_by": 999}])
def test_an_approval_is_of_what_is_there(house: House, pointing: dict[str, int]) -> None:
    with refused_by_the_database("(?i)foreign key"):
        approval(house, **pointing)


def test_a_question_back_waits_for_its_answer(house: House) -> None:
    made = tables.QuestionBack.create(
        decision=house.decisions[1], revision=1, person=house.co_owner.id, text="How wide?", asked_at=NOW
    )
    found = tables.QuestionBack.get_by_id(made.id)
    assert (found.answer, found.answered_by_id, found.answered_at) == (None, None, None)


def test_a_consent_stands_at_first_and_can_be_given_again(house: House) -> None:
    first, second = (tables.Consent.create(person=house.co_owner.id, version="v", at=NOW + add) for add in (0, 1))
    assert first.id != second.id and tables.Consent.get_by_id(first.id).withdrawn_at is None
    with refused_by_the_database("(?i)foreign key"):
        tables.Person.delete().where(tables.Person.id == house.co_owner.id).execute()


def test_a_release_says_why_and_who(house: House) -> None:
    given = {"phase": house.phases["drill"], "decision": house.decisions[1], "at": NOW}
    for missing in ({"staff": house.manager.id}, {"reason": "Template is on site"}):
        with refused_by_the_database("(?i)not.null"):
            tables.Release.create(**given, **missing)
    tables.Release.create(**given, reason="Template is on site", staff=house.manager.id)
    assert tables.Release.select().count() == 1
