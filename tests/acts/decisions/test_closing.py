"""Once all work that a question holds has begun, nothing is said in it any more: what was drilled is not approved."""

from collections.abc import Callable

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve, check_choice, enter_paper_approval
from portal.acts.decisions.asking import answer_question, ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.decisions.proposals import propose_layout
from portal.acts.firm.projects import change_person
from portal.acts.plan.starting import release_phase, start_phase
from portal.acts.refusals import FieldRefused, WorkHasBegun
from portal.store import tables
from portal.store.rows import plan_rows
from tests.acts.kept import kinds
from tests.drawn import MIDDLE, ask_pulls
from tests.house import NOW, House

Act = Callable[[House], object]


def drill(house: House) -> None:
    release_phase(house.manager, house.project, house.phases["drill"], reason="They are here", now=NOW)
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def take_the_start_back(house: House, key: str = "drill") -> None:
    tables.Phase.update(started_at=None, state="waiting").where(tables.Phase.id == house.phases[key]).execute()


def approves(house: House, who: str = "homeowner") -> object:
    actor: Actor = getattr(house, who)
    return approve(actor, house.project, house.decisions[1], revision=1, option="a", name=actor.name, now=NOW)


def changes_approvers(house: House) -> object:
    row = tables.Decision.get_by_id(house.decisions[1])
    return change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)


def answers_what_was_asked_back(house: House) -> object:
    question = tables.QuestionBack.create(
        decision=house.decisions[1], revision=1, person=house.homeowner.id, text="Why two?", asked_at=NOW
    )
    return answer_question(house.manager, house.project, house.decisions[1], question.id, answer="So", now=NOW)


ACTS: dict[str, Act] = {
    "approve": approves,
    "check_choice": lambda house: check_choice(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a"
    ),
    "enter_paper_approval": lambda house: enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
        name="Maren Okafor", now=NOW,
    ),
    "ask_back": lambda house: ask_back(
        house.homeowner, house.project, house.decisions[1], revision=1, text="Why two?", now=NOW
    ),
    "ask_again": lambda house: ask_again(
        house.manager, house.project, house.decisions[1], {"question": "Three holes?"}, NOW
    ),
    "answer_question": answers_what_was_asked_back,
    "change_approvers": changes_approvers,
}  # fmt: skip


@pytest.mark.parametrize("doing", ACTS)
def test_a_closed_question_refuses_it_and_says_why_until_the_start_is_taken_back(house: House, doing: str) -> None:
    drill(house)
    before = kinds(house.project)
    with pytest.raises(WorkHasBegun, match=r"Decision 1 is closed: the work has begun \(“Drill the holes") as refused:
        ACTS[doing](house)
    assert refused.value.status == 409
    assert kinds(house.project) == before
    take_the_start_back(house)
    ACTS[doing](house)


def test_nothing_is_proposed_for_a_closed_question_either(house: House) -> None:
    designer = tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    actor = Actor("designer", designer.id, designer.name, house.project)
    pulls = ask_pulls(house, holds=[house.phases["shelves"]])
    tables.Phase.update(started_at=NOW).where(tables.Phase.id == house.phases["shelves"]).execute()

    def propose() -> object:
        return propose_layout(actor, house.project, pulls.id, placement={}, layout=MIDDLE, note="", now=NOW)

    with pytest.raises(WorkHasBegun, match="Hang the shelves"):
        propose()
    take_the_start_back(house, "shelves")
    propose()


def test_an_approval_that_was_given_before_comes_twice_and_is_the_first(house: House) -> None:
    """The phone sends the form again while the crew begins."""
    first, new = approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW
    )
    assert new
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    again, new = approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW + 9
    )
    assert (again.at, new) == (first.at, False)
    with pytest.raises(WorkHasBegun):
        approves(house, "co_owner")


def test_it_is_closed_before_it_is_said_to_have_changed(house: House) -> None:
    """Who answers an earlier revision is not sent to answer the newer one, which takes no answer."""
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Three holes?"}, NOW)
    drill(house)
    with pytest.raises(WorkHasBegun):
        approves(house)


@pytest.mark.parametrize("approved", [False, True])
def test_no_new_hold_opens_it_again(house: House, approved: bool) -> None:
    if approved:
        approves(house)
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    else:
        drill(house)
    row = tables.Decision.get_by_id(house.decisions[1])
    holds = {"holds": [house.phases["drill"], house.phases["sink"]]}
    with pytest.raises(FieldRefused, match="Decision 1 is closed: the work has begun"):
        change_decision(house.manager, house.project, row.id, row.version, holds, NOW)
    assert plan_rows.held_phases(row.id) == [house.phases["drill"]]
    with pytest.raises(WorkHasBegun):
        approves(house, "co_owner")


def test_what_holds_work_of_which_some_has_begun_may_hold_more(house: House) -> None:
    row = tables.Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {
        "holds": [house.phases["drill"], house.phases["top"]]}, NOW)  # fmt: skip
    drill(house)
    row = tables.Decision.get_by_id(row.id)
    every = [house.phases[key] for key in ("drill", "top", "sink")]
    change_decision(house.manager, house.project, row.id, row.version, {"holds": every}, NOW)
    assert plan_rows.held_phases(row.id) == every


def test_whom_a_closed_question_names_may_still_leave_the_household(house: House) -> None:
    row = tables.Decision.get_by_id(house.decisions[1])
    named = {"approvers": str(house.co_owner.id)}
    change_decision(house.manager, house.project, row.id, row.version, named, NOW)
    drill(house)
    person = tables.Person.get_by_id(house.co_owner.id)
    change_person(house.manager, house.project, person.id, person.version, {"may_approve": False}, NOW)
    assert not tables.Person.get_by_id(person.id).may_approve


def test_what_holds_nothing_is_answered_whatever_has_begun(house: House) -> None:
    tables.Phase.update(started_at=NOW, state="under_way").execute()
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert tables.Decision.get_by_id(house.decisions[5]).state == "approved"
