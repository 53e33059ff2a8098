"""A question that is withdrawn: a manager's act with a reason, on the record, told to whom it was asked, and asked
again as it was."""

from typing import Any

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval, withdraw
from portal.acts.decisions.asking import ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.decisions.closing import withdraw_question
from portal.acts.firm.projects import change_person
from portal.acts.plan.starting import release_phase, start_phase
from portal.acts.refusals import ApprovedAlready, FieldRefused, Held, QuestionWithdrawn, WorkHasBegun
from portal.notices.notice_kinds import KINDS
from portal.store import tables
from portal.store.reading.project_plan import plan_of
from portal.store.reading.revisions.earlier_revision import in_revision
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from tests.acts.kept import newest
from tests.house import NOW, House


def take_away(house: House, number: int = 1, **changed: Any) -> tables.Decision:
    values = {"reason": "The dispenser is sold out.", "now": NOW} | changed
    return withdraw_question(house.manager, house.project, house.decisions[number], **values)


def drill(house: House) -> tables.Phase:
    return start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def approves(house: House, number: int = 1, who: str = "homeowner", revision: int = 1) -> object:
    actor = getattr(house, who)
    return approve(
        actor, house.project, house.decisions[number], revision=revision, option="a", name=actor.name, now=NOW
    )


def told(house: House) -> list[tuple[str, str]]:
    found = notice_rows.in_state("waiting", 20)
    return sorted((one.kind, one.name) for one in found if one.kind == "question_withdrawn")


def test_it_is_an_entry_of_the_record_with_its_reason_and_what_becomes_of_the_hold(house: House) -> None:
    assert take_away(house).state == "withdrawn"
    entry = newest(house.project)
    shown = tables.Revision.get(tables.Revision.decision == house.decisions[1])
    assert (entry["kind"], entry["actor"]["id"]) == ("question_withdrawn", house.manager.id)
    assert entry["body"] == {
        "decision": 1, "revision": 1, "check_code": shown.check_code, "question": shown.question,
        "reason": "The dispenser is sold out.", "hold_lifted": False, "held": ["Drill the holes in the stone top"],
    }  # fmt: skip


@pytest.mark.parametrize("reason", ["", " \n "])
def test_it_says_why(house: House, reason: str) -> None:
    with pytest.raises(FieldRefused, match="Say why") as refused:
        take_away(house, reason=reason)
    assert refused.value.field == "reason"
    assert tables.Decision.get_by_id(house.decisions[1]).state == "asked"


def test_what_is_approved_or_begun_or_withdrawn_is_not_withdrawn(house: House) -> None:
    with pytest.raises(ApprovedAlready, match="Decision 3 is approved"):
        take_away(house, 3)
    take_away(house)
    with pytest.raises(QuestionWithdrawn):
        take_away(house)
    release_phase(house.manager, house.project, house.phases["grout"], reason="So", now=NOW)
    start_phase(house.manager, house.project, house.phases["grout"], now=NOW)
    with pytest.raises(WorkHasBegun):
        take_away(house, 2)


def test_nobody_answers_it_any_more_and_whoever_tries_reads_why(house: House) -> None:
    take_away(house)
    sentence = r"Decision 1 was withdrawn by Dana Whitcombe: The dispenser is sold out\. No answer is needed any more\."
    with pytest.raises(QuestionWithdrawn, match=sentence):
        approves(house)
    with pytest.raises(QuestionWithdrawn):
        ask_back(house.homeowner, house.project, house.decisions[1], revision=1, text="Why?", now=NOW)
    with pytest.raises(QuestionWithdrawn):
        enter_paper_approval(
            house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
            name="Maren Okafor", now=NOW,
        )  # fmt: skip


def test_the_hold_stays_unless_the_manager_lifts_it(house: House) -> None:
    take_away(house)
    with pytest.raises(Held, match="until decision 1 is asked again and approved"):
        drill(house)
    release_phase(house.manager, house.project, house.phases["drill"], reason="They are here", now=NOW)
    assert drill(house).state == "under_way"


def test_a_hold_that_is_lifted_lets_the_work_start_and_the_plan_waits_no_more(house: House) -> None:
    take_away(house, lift_hold=True)
    assert house.decisions[1] not in plan_of(read_snapshot(house.project)).open_decisions
    assert drill(house).state == "under_way"


def test_while_the_hold_stays_the_plan_waits_all_the_same(house: House) -> None:
    take_away(house)
    assert house.decisions[1] in plan_of(read_snapshot(house.project)).open_decisions


def test_asked_again_even_as_it_was_it_is_open_and_holds_again(house: House) -> None:
    take_away(house, lift_hold=True)
    again = ask_again(house.manager, house.project, house.decisions[1], {"reason": "It is there again"}, NOW)
    assert (again.state, again.revision) == ("asked", 2)
    with pytest.raises(Held):
        drill(house)
    approves(house, revision=2)
    assert drill(house).state == "under_way"


def test_what_was_begun_after_it_is_not_asked_again(house: House) -> None:
    take_away(house, lift_hold=True)
    drill(house)
    with pytest.raises(WorkHasBegun):
        ask_again(house.manager, house.project, house.decisions[1], {"reason": "Again"}, NOW)


def test_those_who_were_asked_are_told_once(house: House) -> None:
    take_away(house)
    assert told(house) == [("question_withdrawn", "Jonas Okafor"), ("question_withdrawn", "Maren Okafor")]


def test_one_named_person_is_told_alone_and_nobody_of_what_is_asked_again_by_then(house: House) -> None:
    row = tables.Decision.get_by_id(house.decisions[2])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": str(house.co_owner.id)}, NOW)
    take_away(house, 2)
    (notice,) = [one for one in notice_rows.in_state("waiting", 20) if one.kind == "question_withdrawn"]
    assert notice.name == "Jonas Okafor"

    def is_true() -> bool:
        return KINDS[notice.kind].is_true(read_snapshot(house.project), notice.person_id, notice.about, NOW)

    assert is_true()
    ask_again(house.manager, house.project, row.id, {"reason": "Again"}, NOW)
    assert not is_true()


def test_no_change_of_the_household_approves_what_is_withdrawn(house: House) -> None:
    """All had to approve it, one has; the other leaves, and then it is the one's alone."""
    row = tables.Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)
    approves(house)
    take_away(house)
    person = tables.Person.get_by_id(house.co_owner.id)
    change_person(house.manager, house.project, person.id, person.version, {"may_approve": False}, NOW)
    assert tables.Decision.get_by_id(house.decisions[1]).state == "withdrawn"
    ask_again(house.manager, house.project, house.decisions[1], {"reason": "Again"}, NOW)
    snapshot = read_snapshot(house.project)
    assert in_revision(house.project, snapshot.decision(house.decisions[1]), 1).state == "asked"


def test_an_approval_of_it_may_still_be_taken_back(house: House) -> None:
    row = tables.Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)
    approves(house)
    take_away(house)
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW)
    assert tables.Decision.get_by_id(house.decisions[1]).state == "withdrawn"
