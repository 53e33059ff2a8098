"""Who must approve a decision: only someone who can, and what follows when that changes after some have approved."""


import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision, change_decision
from portal.acts.firm.projects import change_person, remove_person
from portal.acts.refusals import FieldRefused
from portal.pages.evidence.entry_words import entry_words
from portal.store.tables import Decision, Person
from tests.acts.kept import entries
from tests.house import NOW, House

QUESTION = {"question": "Which lamp?", "options": [{"title": "This one"}]}


def change(house: House, **values: object) -> Decision:
    one = Decision.get_by_id(house.decisions[1])
    return change_decision(house.manager, house.project, one.id, one.version, values, NOW)


def say_yes(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)


def state(house: House) -> str:
    return str(Decision.get_by_id(house.decisions[1]).state)


def onlooker(house: House, person: int) -> None:
    row = Person.get_by_id(person)
    change_person(house.office, house.project, person, row.version, {"may_approve": False}, NOW)


def test_only_someone_of_the_household_who_may_approve_can_be_named(house: House) -> None:
    stranger = Person.get(Person.project == house.other_project).id
    for nobody in (str(stranger), "99999", f"0{house.co_owner.id}"):
        with pytest.raises(FieldRefused, match="approvers"):
            ask_decision(house.manager, house.project, {**QUESTION, "approvers": nobody}, NOW)
        with pytest.raises(FieldRefused, match="approvers"):
            change(house, approvers=nobody)


def test_who_has_approved_need_not_do_so_again_when_one_is_enough_now(house: House) -> None:
    change(house, approvers="all")
    say_yes(house)
    assert state(house) == "asked"
    assert change(house, approvers="any").state == "approved"


def test_who_must_approve_and_every_change_of_it_is_in_the_record(house: House) -> None:
    def told() -> list[dict]:
        return entries(house.project)

    ask_decision(house.manager, house.project, {**QUESTION, "approvers": str(house.co_owner.id)}, NOW)
    assert told()[-1]["body"] | {"approvers": "102", "approver": "Jonas Okafor"} == told()[-1]["body"]
    before = len(told())
    change(house, approvers="all")
    change(house, approvers="all")
    change(house, lead_days=9)
    entry, other = told()[before:]
    assert (entry["kind"], other["kind"]) == ("approvers_changed", "question_changed")
    assert entry["body"] == {"decision": 1, "before": "any", "approvers": "all"}
    assert entry_words(entry, "America/Chicago") == "changed who must approve question 1: all of the household"
    change(house, approvers=str(house.co_owner.id))
    assert entry_words(told()[-1], "America/Chicago") == "changed who must approve question 1: Jonas Okafor"


def test_more_must_approve_from_now_on(house: House) -> None:
    say_yes(house)
    assert change(house, approvers="all").state == "asked"


def test_nobody_waits_for_an_onlooker(house: House) -> None:
    change(house, approvers="all")
    say_yes(house)
    onlooker(house, house.co_owner.id)
    assert state(house) == "approved"


def test_nobody_waits_for_someone_who_is_gone(house: House) -> None:
    guest = Person.create(project=house.project, name="A guest")
    onlooker(house, house.co_owner.id)
    change(house, approvers="all")
    say_yes(house)
    assert state(house) == "asked"
    remove_person(house.office, house.project, guest.id, guest.version, NOW)
    assert state(house) == "approved"


def test_who_is_named_for_a_decision_stays_until_another_is(house: House) -> None:
    change(house, approvers=str(house.co_owner.id))
    with pytest.raises(FieldRefused, match="Decision 1 is for this person"):
        onlooker(house, house.co_owner.id)
    change(house, approvers="any")
    onlooker(house, house.co_owner.id)
