"""Answers around an approval: looking before one types a name, asking back, and who is told of what."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.acts.decisions.answers import (
    approve,
    check_choice,
    enter_paper_approval,
    take_back_paper_approval,
    withdraw,
)
from portal.acts.decisions.asking import ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.refusals import (
    AlreadyApproved,
    FieldRefused,
    NotFound,
    NothingFromPaper,
    NothingToWithdraw,
    NotYours,
    Superseded,
)
from portal.store.rows import decision_rows
from portal.store.tables import Approval, Decision, QuestionBack, Withdrawal
from tests.acts.kept import entries, kinds, newest, notices
from tests.house import NOW, House


def yes(house: House, who: str = "homeowner", number: int = 1, **changed: Any) -> Any:
    person = getattr(house, who)
    values = {"revision": 1, "option": "a", "name": person.name, "now": NOW} | changed
    return approve(person, house.project, house.decisions[number], **values)


def on_paper(house: House, number: int = 1, person: str = "homeowner", **changed: Any) -> Any:
    signer = getattr(house, person)
    values = {"revision": 1, "option": "a", "person": signer.id, "name": signer.name, "now": NOW} | changed
    return enter_paper_approval(house.office, house.project, house.decisions[number], **values)


def look(house: House, who: str = "homeowner", **changed: Any) -> None:
    values = {"revision": 1, "option": "a"} | changed
    check_choice(getattr(house, who), house.project, house.decisions[1], **values)


def wonder(house: House, who: str = "homeowner", number: int = 1, **changed: Any) -> QuestionBack:
    values = {"revision": 1, "text": "Does it drip?", "now": NOW} | changed
    return ask_back(getattr(house, who), house.project, house.decisions[number], **values)


def state(house: House, number: int = 1) -> str:
    return str(Decision.get_by_id(house.decisions[number]).state)


def test_the_entry_says_all_that_was_approved(house: House) -> None:
    approval, _ = yes(house, option="b", name=" Maren   Okafor ")
    revision = decision_rows.revision(house.decisions[1], 1)
    option = next(one for one in revision.options if one["key"] == "b")
    assert newest(house.project)["body"] == {
        "decision": 1, "revision": 1, "check_code": revision.check_code, "question": revision.question, "option": "b",
        "title": option["title"], "name": approval.name, "cost_cents": option["cost_cents"], "days": option["days"],
    }  # fmt: skip
    assert newest(house.project)["actor"] == {
        "kind": "person", "id": house.homeowner.id, "name": house.homeowner.name, "role": "homeowner"
    }  # fmt: skip


def test_who_approves_gets_the_receipt_of_that_entry(house: House) -> None:
    yes(house, "co_owner")
    told, other = notices(house.project)
    assert (told.person, told.kind) == (house.co_owner.id, "receipt")
    assert (other.person, other.kind, other.about["did"]) == (house.homeowner.id, "other_owner", "approved")
    assert told.about == {
        "decision": house.decisions[1], "number": 1, "entry": newest(house.project)["sequence"]
    }  # fmt: skip


def test_sent_twice_nobody_is_told_twice(house: House) -> None:
    yes(house)
    yes(house, now=NOW + 5)
    assert [one.kind for one in notices(house.project)] == ["receipt", "other_owner"]
    assert Approval.select().where(Approval.decision == house.decisions[1]).count() == 1


@pytest.mark.parametrize("name", ["", " ", "M", "\u200b\u200b\u200b"])
def test_a_name_is_typed_in_full(house: House, name: str) -> None:
    with pytest.raises(FieldRefused, match="Type your full name") as refused:
        yes(house, name=name)
    assert refused.value.field == "name"
    assert (state(house), entries(house.project)) == ("asked", [])


def test_a_decision_that_is_not_there_is_not_found(house: House) -> None:
    with pytest.raises(NotFound, match="decision"):
        approve(house.homeowner, house.project, 10**6, revision=1, option="a", name="Maren Okafor", now=NOW)


def test_a_revision_that_never_was_is_named_with_the_one_that_is(house: House) -> None:
    with pytest.raises(FieldRefused, match="There is no revision 7. The current one is 1"):
        yes(house, revision=7)


def test_an_option_that_is_not_offered_is_refused_with_those_that_are(house: House) -> None:
    with pytest.raises(FieldRefused, match="Choose one of the options: a, b") as refused:
        yes(house, option="c")
    assert refused.value.field == "option"


def test_who_chose_otherwise_reads_what_was_approved_when_and_by_whom(house: House) -> None:
    yes(house)
    with pytest.raises(AlreadyApproved) as refused:
        yes(house, "co_owner", option="b")
    said = str(refused.value)
    assert house.homeowner.name in said and "One hole: the faucet" in said and "decision 1" in said
    assert "Dec 2" in said


def test_looking_before_a_name_is_typed_writes_nothing(house: House) -> None:
    look(house)
    assert (state(house), entries(house.project)) == ("asked", [])
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()


def test_looking_refuses_what_approving_would_refuse(house: House) -> None:
    with pytest.raises(FieldRefused):
        look(house, option="z")
    with pytest.raises(NotYours):
        look(house, "manager")
    with pytest.raises(NotFound):
        look(house, "other_homeowner")
    with pytest.raises(NotYours):
        check_choice(
            replace(house.co_owner, may_approve=False), house.project, house.decisions[1], revision=1, option="a"
        )
    yes(house)
    with pytest.raises(AlreadyApproved):
        look(house, "co_owner", option="b")
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    with pytest.raises(Superseded):
        look(house)


def test_a_question_back_is_kept_and_on_the_record(house: House) -> None:
    asked = wonder(house, text=" Does it drip? ")
    assert (asked.text, asked.revision, asked.person_id, asked.asked_at) == (
        "Does it drip?", 1, house.homeowner.id, NOW
    )  # fmt: skip
    assert (state(house), kinds(house.project)) == ("asked_back", ["asked_back"])
    assert newest(house.project)["body"] == {"decision": 1, "revision": 1, "text": "Does it drip?"}


def test_a_question_about_what_is_approved_leaves_it_approved(house: House) -> None:
    wonder(house, number=3)
    assert state(house, 3) == "approved"


@pytest.mark.parametrize("text", ["", "  \n"])
def test_a_question_says_something(house: House, text: str) -> None:
    with pytest.raises(FieldRefused, match="Write your question first") as refused:
        wonder(house, text=text)
    assert refused.value.field == "text"
    assert (state(house), entries(house.project)) == ("asked", [])


def test_a_question_about_an_older_revision_is_not_counted(house: House) -> None:
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    with pytest.raises(Superseded):
        wonder(house)
    assert state(house) == "asked"


def test_after_taking_back_what_was_asked_back_still_waits_for_us(house: House) -> None:
    yes(house)
    wonder(house, "co_owner")
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW + 60)
    assert state(house) == "asked_back"


def test_taking_back_says_of_what_and_why(house: House) -> None:
    yes(house)
    withdraw(house.homeowner, house.project, house.decisions[1], reason=" We thought again ", now=NOW + 60)
    assert newest(house.project)["kind"] == "withdrawn"
    assert newest(house.project)["body"] == {"decision": 1, "revision": 1, "reason": "We thought again"}
    kept = Withdrawal.get()
    assert (kept.person_id, kept.reason, kept.at, kept.entered_by_id) == (
        house.homeowner.id, "We thought again", NOW + 60, None
    )  # fmt: skip


def test_what_was_taken_back_is_not_there_to_be_taken_back_again(house: House) -> None:
    yes(house)
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW + 60)
    with pytest.raises(NothingToWithdraw, match="decision 1"):
        withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW + 90)
    assert kinds(house.project).count("withdrawn") == 1


def test_an_approval_of_an_older_revision_is_nothing_to_take_back(house: House) -> None:
    yes(house)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    with pytest.raises(NothingToWithdraw):
        withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW + 60)


def test_a_reason_may_be_long_but_not_without_end(house: House) -> None:
    yes(house)
    with pytest.raises(FieldRefused, match="Use at most 4000") as refused:
        withdraw(house.homeowner, house.project, house.decisions[1], reason="x" * 4001, now=NOW + 60)
    assert refused.value.field == "reason"
    withdraw(house.homeowner, house.project, house.decisions[1], reason="x" * 4000, now=NOW + 60)


def test_what_was_signed_is_entered_with_the_signer_and_who_entered_it(house: House) -> None:
    entered = on_paper(house, signed_on=date(2026, 12, 1))
    kept = Approval.get(Approval.decision == house.decisions[1])
    assert (kept.person_id, kept.name, kept.entered_by_id, kept.signed_on) == (
        house.homeowner.id, house.homeowner.name, house.office.id, date(2026, 12, 1)
    )  # fmt: skip
    body = newest(house.project)["body"]
    assert body["on_paper"] is True and body["signed_on"] == "2026-12-01"
    assert (body["person"], body["signer"], body["name"]) == (
        house.homeowner.id, house.homeowner.name, house.homeowner.name
    )  # fmt: skip
    assert newest(house.project)["actor"]["name"] == house.office.name
    assert entered.at == NOW and state(house) == "approved"
    assert [(one.person, one.kind) for one in notices(house.project)] == [
        (house.homeowner.id, "receipt"), (house.co_owner.id, "other_owner")]  # fmt: skip


def test_a_sheet_without_a_date_is_entered_without_one(house: House) -> None:
    on_paper(house)
    assert newest(house.project)["body"]["signed_on"] is None


def test_a_sheet_may_be_signed_on_the_day_of_the_question_and_today(house: House) -> None:
    on_paper(house, signed_on=date(2026, 11, 25))
    on_paper(house, person="co_owner", signed_on=date(2026, 12, 2))


def test_who_signed_on_a_screen_does_not_sign_again_on_paper(house: House) -> None:
    yes(house)
    with pytest.raises(FieldRefused, match="has approved this already") as refused:
        on_paper(house)
    assert refused.value.field == "person"


def test_the_second_of_two_who_must_both_sign_completes_it_on_paper(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)
    yes(house)
    assert state(house) == "asked"
    on_paper(house, person="co_owner")
    assert state(house) == "approved"


def test_a_stranger_signs_nothing_here(house: House) -> None:
    with pytest.raises(FieldRefused) as refused:
        on_paper(house, person="other_homeowner")
    assert refused.value.field == "person"
    assert entries(house.project) == []


def test_who_is_not_named_for_it_does_not_sign_it(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": str(house.co_owner.id)}, NOW)
    with pytest.raises(NotYours):
        on_paper(house)
    on_paper(house, person="co_owner")
    assert state(house) == "approved"


def take_back(house: House, person: str = "homeowner", reason: str = "Another house") -> None:
    take_back_paper_approval(
        house.office, house.project, house.decisions[1], person=getattr(house, person).id, reason=reason, now=NOW + 60
    )


def test_a_slip_is_taken_back_for_the_one_whose_name_stood_there(house: House) -> None:
    on_paper(house)
    on_paper(house, person="co_owner")
    take_back(house, "co_owner")
    assert state(house) == "approved"
    assert newest(house.project)["body"] == {
        "decision": 1, "revision": 1, "reason": "Another house", "on_paper": True, "person": house.co_owner.id,
        "name": house.co_owner.name,
    }  # fmt: skip
    kept = Withdrawal.get()
    assert (kept.person_id, kept.entered_by_id) == (house.co_owner.id, house.office.id)
    told, other = notices(house.project)[-2:]
    assert (other.person, other.kind, other.about["did"]) == (house.homeowner.id, "other_owner", "taken_back")
    assert (told.person, told.kind) == (house.co_owner.id, "taken_back")
    assert told.about == {
        "decision": house.decisions[1], "number": 1, "entered_at": NOW, "because": "Another house"
    }  # fmt: skip
    with pytest.raises(NothingFromPaper):
        take_back(house, "co_owner")


@pytest.mark.parametrize("reason", ["", "  "])
def test_a_slip_is_explained(house: House, reason: str) -> None:
    on_paper(house)
    with pytest.raises(FieldRefused, match="Say what was wrong") as refused:
        take_back(house, reason=reason)
    assert refused.value.field == "reason"
    assert state(house) == "approved"
