"""Taking an approval back, the paper way, and consent: each a fact of its own, none changes what was."""

import pytest

from portal.acts.answers import approve, enter_paper_approval, withdraw
from portal.acts.consent import go_back_to_paper
from portal.acts.refusals import AlreadyApproved, FieldRefused, Held, NothingToWithdraw, NotYours, TooLateToWithdraw
from portal.acts.starting import release_phase, start_phase
from portal.store.snapshot import read_snapshot
from portal.store.tables import Approval, Decision, Person
from tests.acts.test_approve import drill, kinds
from tests.house import NOW, House


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


@pytest.mark.parametrize("changes", [{"option": "b"}, {"person": 1}])
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
