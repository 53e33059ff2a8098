"""Taking an approval back, the paper way, and consent: each a fact of its own, none changes what was."""

import json
from datetime import date

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval, take_back_paper_approval, withdraw
from portal.acts.household.consent import go_back_to_paper
from portal.acts.plan.starting import release_phase, start_phase
from portal.acts.refusals import (
    AlreadyApproved,
    FieldRefused,
    Held,
    NothingFromPaper,
    NothingToWithdraw,
    NotYours,
    StartedOnIt,
    TooLateToWithdraw,
)
from portal.notices.letter import Reader
from portal.notices.notice_kinds import KINDS
from portal.pages.evidence.entry_words import entry_words
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Approval, Decision, Notice, Person, RecordEntry
from tests.acts.decisions.test_approve import drill, kinds
from tests.house import NOW, ZONE, House


def take_back(house: House, who: str = "homeowner") -> None:
    withdraw(getattr(house, who), house.project, house.decisions[1], reason="We thought again", now=NOW + 60)


def state(house: House) -> str:
    return Decision.get_by_id(house.decisions[1]).state


def test_an_approval_is_taken_back_before_the_held_work_starts(house: House) -> None:
    drill(house)
    take_back(house)
    assert state(house) == "asked"
    assert Approval.select().where(Approval.decision == house.decisions[1]).count() == 1  # it stays on the record
    assert kinds(house)[-1] == "withdrawn"
    assert read_snapshot(house.project).decision(house.decisions[1]).approvals == ()
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def test_after_it_was_taken_back_another_option_can_be_approved(house: House) -> None:
    drill(house, option="a")
    take_back(house)
    approval, new = drill(house, option="b")
    assert new and approval.option == "b" and state(house) == "approved"


def test_the_co_owners_approval_still_stands(house: House) -> None:
    drill(house)
    drill(house, "co_owner", name="Jonas Okafor")
    take_back(house)
    assert state(house) == "approved"


def test_it_is_too_late_when_the_work_has_started(house: House) -> None:
    drill(house)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    with pytest.raises(TooLateToWithdraw, match="Drill the holes"):
        take_back(house)
    assert state(house) == "approved"


def test_nobody_takes_back_what_another_approved(house: House) -> None:
    drill(house)
    with pytest.raises(NothingToWithdraw):
        take_back(house, "co_owner")
    with pytest.raises(NotYours):
        take_back(house, "manager")


def test_a_signed_sheet_is_entered_by_the_office_under_the_signers_name(house: House) -> None:
    enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
        name="Maren Okafor", now=NOW,
    )
    row = Approval.get(Approval.decision == house.decisions[1])
    assert (row.person_id, row.entered_by_id, state(house)) == (house.homeowner.id, house.office.id, "approved")
    assert kinds(house) == ["approved"]  # paper needs no consent to a screen


def sign(house: House, **changes: object) -> None:
    values = {"revision": 1, "option": "a", "person": house.homeowner.id, "name": "Maren Okafor", "now": NOW} | changes
    enter_paper_approval(house.office, house.project, house.decisions[1], **values)


def test_the_record_says_who_signed_when_and_who_entered_it(house: House) -> None:
    sign(house, signed_on=date(2026, 12, 1))
    entry = json.loads(RecordEntry.get(RecordEntry.kind == "approved").canonical)
    said = f"{entry['actor']['name']} {entry_words(entry, ZONE)}"
    assert said.startswith("Lou Ferris entered that Maren Okafor signed “One hole")
    assert "“Which holes do we drill in the stone top beside the sink?”" in said


@pytest.mark.parametrize(("day", "words"), [(date(2026, 12, 3), "in the future"), (date(2026, 10, 1), "was asked on")])
def test_a_sheet_is_signed_after_the_question_was_asked_and_not_tomorrow(house: House, day: date, words: str) -> None:
    with pytest.raises(FieldRefused, match=words) as refusal:
        sign(house, signed_on=day)
    assert refusal.value.field == "signed_on" and state(house) == "asked"


def test_a_name_that_is_not_the_signers_is_refused_until_someone_has_looked(house: House) -> None:
    with pytest.raises(FieldRefused, match="not the name of Maren Okafor") as refusal:
        sign(house, name="Jonas Okafor")
    assert refusal.value.field == "name" and state(house) == "asked"
    sign(house, name="Maren Lindqvist", another_name=True)
    entry = json.loads(RecordEntry.get(RecordEntry.kind == "approved").canonical)
    assert (entry["body"]["signer"], entry["body"]["name"]) == ("Maren Okafor", "Maren Lindqvist")


def test_a_slip_is_taken_back_by_the_office_before_the_work_starts(house: House) -> None:
    sign(house)
    who = {"person": house.homeowner.id, "reason": "The sheet was of decision 2", "now": NOW + 60}
    take_back_paper_approval(house.office, house.project, house.decisions[1], **who)
    assert state(house) == "asked" and kinds(house) == ["approved", "withdrawn"]
    entry = json.loads(RecordEntry.get(RecordEntry.kind == "withdrawn").canonical)
    said = f"{entry['actor']['name']} {entry_words(entry, ZONE)}"
    assert said == ("Lou Ferris took back the paper signed as Maren Okafor for question 1. "
                    "Why: The sheet was of decision 2")
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    with pytest.raises(NothingFromPaper):
        take_back_paper_approval(house.office, house.project, house.decisions[1], **who)


def test_the_signer_is_told_of_the_slip(house: House) -> None:
    sign(house)
    take_back_paper_approval(house.manager, house.project, house.decisions[1], person=house.homeowner.id,
                             reason="It was of decision 2.", now=NOW + 60)
    told = Notice.get(Notice.kind == "taken_back")
    link = "https://portal.example/p/x/"
    reader = Reader(told.person_id, "Maren Okafor", read_snapshot(house.project), NOW + 60, link)
    letter = KINDS["taken_back"].letter(reader, told.about, lambda entry: b"")
    assert letter is not None and "Why: It was of decision 2." in letter.paragraphs
    assert f"{link}decisions/1/" in letter.paragraphs


@pytest.mark.parametrize("who", ["homeowner", "co_owner"])
def test_the_household_takes_back_nothing_in_our_place(house: House, who: str) -> None:
    sign(house)
    with pytest.raises(NotYours):
        take_back_paper_approval(
            getattr(house, who), house.project, house.decisions[1], person=house.homeowner.id, reason="No", now=NOW
        )


def test_what_was_approved_on_a_screen_is_not_for_us_to_take_back(house: House) -> None:
    drill(house)
    with pytest.raises(NothingFromPaper):
        take_back_paper_approval(
            house.office, house.project, house.decisions[1], person=house.homeowner.id, reason="No", now=NOW
        )
    assert state(house) == "approved"


def test_when_the_work_has_started_the_slip_stands(house: House) -> None:
    sign(house)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    with pytest.raises(StartedOnIt, match="so it stands"):
        take_back_paper_approval(
            house.office, house.project, house.decisions[1], person=house.homeowner.id, reason="No", now=NOW
        )


@pytest.mark.parametrize("changes", [{"option": "b"}, {"person": 101}])
def test_paper_follows_the_same_rules(house: House, changes: dict[str, object]) -> None:
    drill(house, option="a")
    values = {"revision": 1, "option": "a", "person": house.co_owner.id, "name": "Jonas Okafor", "now": NOW} | changes
    with pytest.raises((AlreadyApproved, FieldRefused)):
        enter_paper_approval(house.office, house.project, house.decisions[1], **values)


def test_an_onlooker_can_not_sign_on_paper_either(house: House) -> None:
    Person.update(may_approve=False).where(Person.id == house.co_owner.id).execute()
    with pytest.raises(NotYours):
        enter_paper_approval(
            house.office, house.project, house.decisions[1], revision=1, option="a", person=house.co_owner.id,
            name="Jonas Okafor", now=NOW,
        )


def test_consent_is_asked_once_and_can_be_taken_back(house: House) -> None:
    drill(house)
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert kinds(house).count("consent_given") == 1
    go_back_to_paper(house.homeowner, house.project, now=NOW)
    go_back_to_paper(house.homeowner, house.project, now=NOW)
    assert kinds(house).count("consent_withdrawn") == 1
    assert state(house) == "approved"  # what was approved stands


def test_a_release_is_not_undone_by_taking_back(house: House) -> None:
    drill(house)
    take_back(house)
    release_phase(house.manager, house.project, house.phases["drill"], reason="Agreed on site", now=NOW)
    assert start_phase(house.manager, house.project, house.phases["drill"], now=NOW).state == "under_way"
