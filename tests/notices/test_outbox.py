"""Who is told of what, and who is not: the notice is written with the fact, or neither is."""

from datetime import datetime

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval
from portal.acts.decisions.asking import answer_question, ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.household.updates import note_call
from portal.acts.refusals import AlreadyApproved
from portal.acts.telling import send_link, tell_by_phone
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.store import tables
from portal.store.engine import database
from portal.store.refusals import FieldRefused, NotFound
from portal.store.rows import notice_rows
from portal.store.tables import Decision, Notice
from tests.house import NOW, House
from tests.notices.office import ask, states

APPROVAL = {"revision": 1, "option": "a", "name": "Maren Okafor", "now": NOW}


def told() -> list[tuple[str, str]]:
    """Kind and name of each notice, oldest first."""
    rows = notice_rows.in_state("waiting", 100)
    return [(row.kind, row.name) for row in reversed(rows)]


def test_a_decision_is_told_to_all_who_may_answer_it_and_to_nobody_else(house: House) -> None:
    tables.Person.create(project=house.project, name="Ada Okafor", may_approve=False, email="ada@example.org")
    tables.Person.create(project=house.project, name="Nils Berg", role="designer", email="nils@example.org")
    ask(house)
    assert told() == [("asked", "Maren Okafor"), ("asked", "Jonas Okafor")]


def test_a_decision_for_one_person_is_told_to_that_person_only(house: House) -> None:
    ask(house, approvers=str(house.co_owner.id))
    assert told() == [("asked", "Jonas Okafor")]


def name(house: House, decision: int, approvers: str) -> None:
    one = Decision.get_by_id(decision)
    change_decision(house.manager, house.project, one.id, one.version, {"approvers": approvers}, NOW)


def test_who_is_named_later_is_told_as_if_asked_at_first(house: House) -> None:
    decision = ask(house, approvers=str(house.homeowner.id)).id
    name(house, decision, str(house.co_owner.id))
    assert told() == [("asked", "Maren Okafor"), ("asked", "Jonas Okafor")]
    assert {row.about["decision"] for row in notice_rows.in_state("waiting", 9)} == {decision}


def test_nobody_is_told_twice_because_the_approvers_went_back_and_forth(house: House) -> None:
    decision = ask(house, approvers=str(house.homeowner.id)).id
    for approvers in ("all", str(house.homeowner.id), str(house.co_owner.id), "any"):
        name(house, decision, approvers)
    assert told() == [("asked", "Maren Okafor"), ("asked", "Jonas Okafor")]


def test_whose_letter_was_dropped_is_told_when_named_again(house: House) -> None:
    decision = ask(house, approvers=str(house.homeowner.id)).id
    name(house, decision, str(house.co_owner.id))
    Notice.update(state="dropped").where(Notice.person == house.homeowner.id).execute()
    name(house, decision, "all")
    assert told() == [("asked", "Jonas Okafor"), ("asked", "Maren Okafor")]


def test_a_change_that_names_nobody_new_tells_nobody(house: House) -> None:
    one = Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, one.id, one.version, {"lead_days": 3}, NOW)
    name(house, one.id, "all")
    assert told() == []


def test_nobody_is_asked_what_is_approved_already(house: House) -> None:
    decision = ask(house, approvers=str(house.homeowner.id)).id
    approve(house.homeowner, house.project, decision, **APPROVAL)
    name(house, decision, "any")
    assert told() == [("asked", "Maren Okafor"), ("receipt", "Maren Okafor"), ("other_owner", "Jonas Okafor")]


def test_a_decision_for_a_person_who_was_removed_is_told_to_nobody(house: House) -> None:
    Decision.update(approvers="99").where(Decision.id == house.decisions[1]).execute()
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Which holes, then?"}, NOW)
    assert told() == []


def test_a_changed_question_is_told_again(house: House) -> None:
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Which holes, then?"}, NOW)
    assert told() == [("asked", "Maren Okafor"), ("asked", "Jonas Okafor")]
    assert {row.about["revision"] for row in notice_rows.in_state("waiting", 9)} == {2}


def test_only_whoever_approved_gets_the_receipt_and_the_other_owner_is_told(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], **APPROVAL)
    assert told() == [("receipt", "Maren Okafor"), ("other_owner", "Jonas Okafor")]
    approve(house.homeowner, house.project, house.decisions[1], **APPROVAL)
    assert len(told()) == 2, "the same approval sent again is the first one"


def test_a_refused_approval_tells_nobody(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], **APPROVAL)
    with pytest.raises(AlreadyApproved):
        approve(house.co_owner, house.project, house.decisions[1], **APPROVAL | {"option": "b"})
    assert told() == [("receipt", "Maren Okafor"), ("other_owner", "Jonas Okafor")]


def test_whoever_signed_on_paper_gets_the_receipt_and_not_the_office(house: House) -> None:
    enter_paper_approval(house.office, house.project, house.decisions[1],
                         **APPROVAL | {"person": house.co_owner.id, "name": "Jonas Okafor"})  # fmt: skip
    assert told() == [("receipt", "Jonas Okafor"), ("other_owner", "Maren Okafor")]


def test_an_approval_writes_a_row_for_each_owner_into_the_outbox_and_reads_nothing_from_it(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    really = notice_rows.execute
    monkeypatch.setattr(notice_rows, "execute", lambda sql, *values: (said.append(sql), really(sql, *values))[1])
    approve(house.homeowner, house.project, house.decisions[1], **APPROVAL)
    assert [sql.split(" (")[0] for sql in said] == ["INSERT INTO notice"] * 2


def test_a_notice_that_can_not_be_written_takes_the_approval_with_it(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise RuntimeError("a fault of ours")

    monkeypatch.setattr(notice_rows, "execute", fails)
    with pytest.raises(RuntimeError, match="a fault"):
        approve(house.homeowner, house.project, house.decisions[1], **APPROVAL)
    monkeypatch.undo()
    assert tables.Decision.get_by_id(house.decisions[1]).state == "asked"
    assert not tables.Approval.select().where(tables.Approval.decision == house.decisions[1]).exists()
    with database.read():
        assert told() == []


def test_an_answer_is_told_to_whoever_asked(house: House) -> None:
    question = ask_back(house.co_owner, house.project, house.decisions[5], revision=1, text="Which door?", now=NOW)
    assert told() == [("other_owner", "Maren Okafor")], "the household has asked us"
    answer_question(house.manager, house.project, house.decisions[5], question.id, answer="The back door.", now=NOW)
    assert told() == [("other_owner", "Maren Okafor"), ("answered", "Jonas Okafor")]


def test_a_call_note_sends_the_link_and_approves_nothing(house: House) -> None:
    values = {"caller": "Jonas", "asked": "One hole is fine.", "send_link_to": house.co_owner.id}
    note_call(house.office, house.project, values, NOW)
    assert told() == [("link", "Jonas Okafor")]
    assert tables.Decision.get_by_id(house.decisions[1]).state == "asked"
    assert not tables.Approval.select().where(tables.Approval.decision == house.decisions[1]).exists()


def test_a_call_note_without_a_person_sends_nothing(house: House) -> None:
    note_call(house.office, house.project, {"caller": "A neighbor", "asked": "When does the noise end?"}, NOW)
    assert told() == []


@pytest.mark.parametrize(
    ("lacks", "says"),
    [("email", "has no e-mail address"), ("link", "has no link that opens"), ("house", "no person 103")],
)
def test_a_link_that_can_not_be_sent_is_refused_with_the_call_note(house: House, lacks: str, says: str) -> None:
    person = house.other_homeowner.id if lacks == "house" else house.homeowner.id
    if lacks == "email":
        tables.Person.update(email="").execute()
    if lacks == "link":
        tables.Link.update(revoked_at=NOW).execute()
    with pytest.raises(FieldRefused, match=says) as refused:
        note_call(house.office, house.project, {"caller": "Maren", "asked": "?", "send_link_to": person}, NOW)
    assert refused.value.field == "send_link_to"
    assert told() == [] and not tables.Call.select().exists()


def test_the_office_sends_the_link_to_one_person(house: House) -> None:
    send_link(house.office, house.project, house.homeowner.id, now=NOW)
    assert told() == [("link", "Maren Okafor")]


def _moved(house: House, visit: int, day: int, seen: int = 1) -> None:
    times = {"starts_at": datetime(2026, 12, day, 9), "ends_at": datetime(2026, 12, day, 14), "reason": "Rain"}
    change_visit(house.office, house.project, visit, seen, times, NOW)


def test_a_moved_visit_is_told_to_the_household_and_a_changed_word_is_not(house: House) -> None:
    change_visit(house.office, house.project, house.visits["top"], 1, {"purpose": "Set the top"}, NOW)
    assert told() == []
    _moved(house, house.visits["top"], 8, seen=2)
    assert told() == [("visit_moved", "Maren Okafor"), ("visit_moved", "Jonas Okafor")]


def test_a_booked_visit_is_no_notice(house: House) -> None:
    times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 14)}
    book_visit(house.office, house.project, times | {"crew": "Painter", "purpose": "Look"}, NOW)
    assert told() == []


def test_a_cancelled_visit_is_told_with_the_reason(house: House) -> None:
    cancel_visit(house.office, house.project, house.visits["paint"], 1, because="The painter is ill.", now=NOW)
    assert told() == [("visit_cancelled", "Maren Okafor"), ("visit_cancelled", "Jonas Okafor")]
    assert notice_rows.in_state("waiting", 1)[0].about["because"] == "The painter is ill."


def test_what_was_told_by_phone_is_not_sent(house: House) -> None:
    ask(house, approvers=str(house.homeowner.id))
    tell_by_phone(house.office, house.project, Notice.get().id, now=NOW)
    assert states() == [("asked", "told")]
    assert notice_rows.due(NOW) == []


def test_a_notice_of_another_house_is_not_found(house: House) -> None:
    ask(house)
    with pytest.raises(NotFound):
        tell_by_phone(house.office, house.other_project, Notice.get().id, now=NOW)
