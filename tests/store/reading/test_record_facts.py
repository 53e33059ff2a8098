"""What the record is compared with is what stands in the tables, each fact in all the ways in which entries told it."""

from datetime import date
from hashlib import sha256
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.content import Piece
from portal.record.checking.facts_in_entries import Fact
from portal.record.checking.tables_check import DecisionState, Member, ShownRevision
from portal.store import tables
from portal.store.engine.database import write
from portal.store.reading import record_facts
from portal.store.rows import record_rows, wording_rows
from portal.words.dates import utc_text
from tests.house import NOW, House
from tests.store.reading.one_of_each import OneOfEach, one_of_each


@pytest.fixture
def mine(house: House) -> OneOfEach:
    """Between two others like it."""
    one_of_each(1)
    mine = one_of_each(2)
    one_of_each(3)
    return mine


def facts_of(mine: OneOfEach, kind: str) -> list[tuple[Fact, ...]]:
    return [ways for ways in record_facts.kept_facts(mine.project.id) if ways[0].kind == kind]


def fact(kind: str, at: int, actor: int, *said: Any) -> Fact:
    return Fact(kind, utc_text(at), actor, said)


def test_the_first_revision_was_asked_and_those_after_it_revised(mine: OneOfEach) -> None:
    first, second = mine.revisions
    number = mine.decision.number
    assert facts_of(mine, "asked") == [
        (fact("asked", first.asked_at, mine.staff[0].id, number, 1, first.check_code),)
    ]
    assert facts_of(mine, "revised") == [
        (fact("revised", second.asked_at, mine.staff[1].id, number, 2, second.check_code),)
    ]


def test_approvals_of_every_revision_are_facts_also_those_taken_back(mine: OneOfEach) -> None:
    number, ada = mine.decision.number, mine.people[0].id

    def day(row: Any) -> str | None:
        return row.signed_on and row.signed_on.isoformat()

    def on_screen(row: Any, revision: int) -> tuple[Fact]:
        return (fact("approved", row.at, ada, number, revision, row.option, row.name, ada, False, day(row)),)

    row, asta = mine.standing, mine.people[1].id
    entered = fact("approved", row.at, mine.staff[1].id, number, 2, row.option, row.name, asta, True, day(row))
    assert facts_of(mine, "approved") == [on_screen(mine.earlier, 1), on_screen(mine.taken_back, 2), (entered,)]


def test_what_was_taken_back_is_by_whoever_did_it(mine: OneOfEach) -> None:
    earlier, current = mine.withdrawals
    number = mine.decision.number
    assert facts_of(mine, "withdrawn") == [
        (fact("withdrawn", earlier.at, mine.people[0].id, number, 1, earlier.reason),),
        (fact("withdrawn", current.at, mine.staff[0].id, number, 2, current.reason),),
    ]


def test_a_release_tells_the_decision_and_the_phase(mine: OneOfEach) -> None:
    number, phase = mine.decision.number, mine.phases[1].id
    assert facts_of(mine, "released") == [
        (fact("released", mine.release.at, mine.staff[1].id, number, phase, "Released 2"),)
    ]


def test_a_question_is_a_fact_and_its_answer_another_once_there_is_one(mine: OneOfEach) -> None:
    first, second = mine.questions
    number, (ada, asta) = mine.decision.number, mine.people
    assert facts_of(mine, "asked_back") == [
        (fact("asked_back", first.asked_at, ada.id, number, 1, "Why 2?"),),
        (fact("asked_back", second.asked_at, asta.id, number, 2, "When 2?"),),
    ]
    assert facts_of(mine, "answered") == [
        (fact("answered", first.answered_at, mine.staff[0].id, number, "Why 2?", "So 2."),)
    ]


def test_a_handover_is_told_with_the_phase_and_as_before_without_it(mine: OneOfEach) -> None:
    row, phase = mine.handover, mine.phases[1].id
    offered, accepted = (row.offered_at, mine.staff[0].id, row.id), (row.accepted_at, mine.people[1].id, row.id)
    assert facts_of(mine, "handed_over") == [
        (fact("handed_over", *offered, phase, "Handed 2"), fact("handed_over", *offered, "Handed 2"))
    ]
    assert facts_of(mine, "handover_accepted") == [
        (
            fact("handover_accepted", *accepted, phase, "Accepted 2"),
            fact("handover_accepted", *accepted, "Accepted 2"),
        )
    ]


def test_an_open_item_is_told_whole_and_as_before_by_its_text(mine: OneOfEach) -> None:
    row, handover = mine.item, mine.handover.id
    whole = ("Added by 2", "Item 2", mine.room.id, "Who 2", row.by_on.isoformat(), "itemphoto2-large.jpg", "sha2")
    assert facts_of(mine, "open_item") == [
        (
            fact("open_item", row.added_at, 0, handover, *whole),
            fact("open_item", row.added_at, 0, handover, "Added by 2", "Item 2"),
        )
    ]
    assert facts_of(mine, "item_closed") == [(fact("item_closed", row.done_at, 0, handover, "Item 2"),)]


def test_what_an_item_does_not_say_is_none_and_nothing_is_done_of_what_is_open(house: House) -> None:
    handover = tables.Handover.create(project=house.project, offered_at=NOW, offered_by=house.manager.id, note="All")
    tables.OpenItem.create(handover=handover, item="A chip", added_by="Dana", added_at=NOW + 5)
    found = record_facts.kept_facts(house.project)
    whole = (handover.id, "Dana", "A chip", None, None, None, None, None)
    assert found[-1][0] == fact("open_item", NOW + 5, 0, *whole)
    assert found[-2][0] == fact("handed_over", NOW, house.manager.id, handover.id, None, "All")
    assert {ways[0].kind for ways in found}.isdisjoint({"item_closed", "handover_accepted"})


def test_times_are_written_as_the_record_writes_them(house: House) -> None:
    """Decision 1 was asked on 2026-11-25 at 9:10 am in Chicago, six hours behind UTC."""
    asked = [ways[0] for ways in record_facts.kept_facts(house.project) if ways[0].kind == "asked"]
    assert (asked[0].said[0], asked[0].at) == (1, "2026-11-25T15:10:00Z")


def test_facts_come_kind_by_kind_and_those_of_one_kind_in_order(house: House) -> None:
    tables.Decision.update(number=9).where(tables.Decision.id == house.decisions[1]).execute()
    found = [(ways[0].kind, ways[0].said[0]) for ways in record_facts.kept_facts(house.project)]
    assert found == [*(("asked", number) for number in (2, 3, 4, 5, 9)), ("approved", 3), ("asked_back", 4)]


def test_of_a_project_without_anything_there_is_nothing(house: House) -> None:
    empty = house.other_project
    assert record_facts.kept_facts(empty) == [] == record_facts.kept_entries(empty)
    assert record_facts.shown_revisions(empty) == [] == record_facts.decision_states(empty)


def test_entries_come_by_their_number_with_what_they_say(house: House) -> None:
    for decision, option in ((1, "a"), (2, "b")):
        approve(
            house.homeowner, house.project, house.decisions[decision], revision=1, option=option, name="Maren Okafor",
            now=NOW + decision,
        )  # fmt: skip
    found = record_facts.kept_entries(house.project)
    assert [entry.sequence for entry in found] == list(range(1, record_rows.count(house.project) + 1))
    approved = [entry for entry in found if entry.kind == "approved"]
    assert [(entry.at, entry.content["body"]["option"]) for entry in approved] == [
        (utc_text(NOW + 1), "a"), (utc_text(NOW + 2), "b")
    ]  # fmt: skip
    assert [entry.content["at"] for entry in approved] == [entry.at for entry in approved]


def test_what_was_shown_is_there_of_every_revision(mine: OneOfEach) -> None:
    assert record_facts.shown_revisions(mine.project.id) == [
        ShownRevision(
            mine.decision.number, number, f"2{number}" * 32, row.shown, f"Question 2.{number}?",
            [{"key": f"k{number}", "title": "K"}], row.detail,
        ) for number, row in enumerate(mine.revisions, start=1)
    ]  # fmt: skip


def test_revisions_come_by_decision_and_then_by_number(house: House) -> None:
    tables.Decision.update(number=9).where(tables.Decision.id == house.decisions[1]).execute()
    for number in (3, 2):
        tables.Revision.create(
            decision=house.decisions[2], number=number, question="", options=[], shown="{}", check_code="0",
            asked_at=NOW,
        )  # fmt: skip
    found = record_facts.shown_revisions(house.project)
    assert [(one.decision, one.revision) for one in found] == [
        (2, 1), (2, 2), (2, 3), (3, 1), (4, 1), (5, 1), (9, 1)
    ]
    assert found[1].detail is None


def test_approvals_in_force_are_those_of_the_current_revision_that_were_not_taken_back(mine: OneOfEach) -> None:
    row = mine.decision
    assert record_facts.decision_states(mine.project.id) == [DecisionState(row.number, 2, "state 2", 2, 1)]
    tables.Decision.update(revision=1).where(tables.Decision.id == row.id).execute()
    assert record_facts.decision_states(mine.project.id) == [DecisionState(row.number, 1, "state 2", 2, 0)]


def test_decisions_stand_in_the_order_of_their_numbers(house: House) -> None:
    tables.Decision.update(number=9).where(tables.Decision.id == house.decisions[1]).execute()
    assert record_facts.decision_states(house.project) == [
        DecisionState(2, 1, "asked", 1, 0), DecisionState(3, 1, "approved", 1, 1, enough=True),
        DecisionState(4, 1, "asked_back", 1, 0), DecisionState(5, 1, "asked", 1, 0), DecisionState(9, 1, "asked", 1, 0),
    ]  # fmt: skip


def test_members_come_in_the_order_in_which_they_joined(mine: OneOfEach) -> None:
    found = record_facts.members(mine.project.id)
    assert found == [
        Member(mine.people[0].id, "Ada 2", "designer", False), Member(mine.people[1].id, "Asta 2", "homeowner", True)
    ]
    assert [member.may_approve is True for member in found] == [False, True]


def test_the_price_of_the_contract_may_not_be_written_down(house: House, mine: OneOfEach) -> None:
    assert record_facts.contract_cents(mine.project.id) == mine.project.contract_cents
    assert record_facts.contract_cents(house.project) == 4_860_000
    tables.Project.update(contract_cents=None).where(tables.Project.id == house.project).execute()
    assert record_facts.contract_cents(house.project) is None


def test_words_have_a_hash_of_their_own_where_they_are_kept(house: House) -> None:
    with write():
        for version, text in (("a" * 64, "Cures take a day."), ("b" * 16, "Écru is a white.")):
            wording_rows.keep_wording(Piece("grout", "Grout", "", "", text, version))
    found = record_facts.wording_hashes(["b" * 16, "c" * 64, "b" * 16])
    assert found == {"b" * 16: sha256("Écru is a white.".encode()).hexdigest()}
    assert record_facts.wording_hashes([]) == {}


def test_a_day_is_told_as_text_on_either_database(house: House) -> None:
    handover = tables.Handover.create(project=house.project, offered_at=NOW, offered_by=house.manager.id)
    tables.OpenItem.create(handover=handover, item="", added_by="", added_at=NOW, by_on=date(2026, 12, 21))
    assert record_facts.kept_facts(house.project)[-1][0].said[5] == "2026-12-21"
