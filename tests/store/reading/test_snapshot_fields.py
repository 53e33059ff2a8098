"""Each field of a snapshot comes from its own column, each list in its order, and nothing from another project."""

import json
from dataclasses import replace
from datetime import date

import pytest

from portal.store import facts, tables
from portal.store.reading.snapshot import read_firm, read_snapshot
from tests.house import NOW, House, at
from tests.store.reading.one_of_each import OneOfEach, one_of_each


@pytest.fixture
def mine(house: House) -> OneOfEach:
    """Between two others like it."""
    one_of_each(1)
    mine = one_of_each(2)
    one_of_each(3)
    return mine


def test_the_project_is_as_its_row(mine: OneOfEach) -> None:
    row, found = mine.project, read_snapshot(mine.project.id).project
    assert json.loads(found.calendar) == row.calendar
    assert found == facts.ProjectFact(
        id=row.id, name="House 2", address="2 Alder Row", timezone="Etc/GMT+2", calendar=found.calendar,
        starts_on=row.starts_on, promised_on=row.promised_on, signed_on=row.signed_on,
        contract_cents=row.contract_cents, phone="218-555-0142", office_hours="From 2", closed_at=row.closed_at,
        changed=row.changed,
    )  # fmt: skip


def test_what_a_project_need_not_have_is_none(house: House) -> None:
    tables.Project.update(promised_on=None, signed_on=None, contract_cents=None).where(
        tables.Project.id == house.project
    ).execute()
    found = read_snapshot(house.project).project
    assert (found.promised_on, found.signed_on, found.contract_cents, found.closed_at) == (None,) * 4


def test_planned_questions_are_those_that_were_neither_asked_nor_dropped(mine: OneOfEach) -> None:
    made = [
        tables.PlannedQuestion.create(
            project=mine.project, room=mine.room, kind="deck", question=f"Which {name}?", options=[], lead_days=3,
            holds=[mine.phases[1].id], **settled,
        )
        for name, settled in (("holes", {}), ("edge", {"decision": mine.decision}), ("grout", {"dropped_at": NOW}))
    ]  # fmt: skip
    assert read_snapshot(mine.project.id).planned == (
        facts.PlannedFact(made[0].id, "Which holes?", "deck", mine.room.id, 3, [mine.phases[1].id]),
    )


def test_rooms_and_people_are_as_their_rows(mine: OneOfEach) -> None:
    found = read_snapshot(mine.project.id)
    assert found.rooms == (facts.RoomFact(mine.room.id, "Room 2", ["sink 2"]),)
    assert found.people == (
        facts.PersonFact(mine.people[0].id, "Ada 2", "designer", "218-555-0120", "Ada2@example.org", False),
        facts.PersonFact(mine.people[1].id, "Asta 2", "homeowner", "218-555-0121", "Asta2@example.org", True),
    )
    assert [person.may_approve is True for person in found.people] == [False, True], "booleans on SQLite, too"


def test_phases_are_as_their_rows(mine: OneOfEach) -> None:
    before, row = mine.phases
    first, found = read_snapshot(mine.project.id).phases
    assert found == facts.PhaseFact(
        id=row.id, name="Sand 2", room_id=mine.room.id, crew="Crew of Sand 2", work_low=row.work_low,
        work_likely=row.work_likely, work_high=row.work_high, not_before=row.not_before, state="state of Sand",
        started_at=row.started_at, finished_at=row.finished_at, remaining=row.remaining, note="Note of Sand 2",
        takes=["takes of Sand 2"], inspection_at=row.inspection_at, stopped_at=row.stopped_at,
        resumes_at=row.resumes_at, rested=row.rested, stopped_reason="Rest of Sand 2",
        after=((before.id, mine.link.wait),), held_by=(mine.decision.id,),
        releases=(facts.ReleaseFact(row.id, mine.decision.id, "Released 2", "Pim 2", mine.release.at),),
    )  # fmt: skip
    assert (first.id, first.after, first.held_by, first.releases) == (before.id, (), (), ())


def test_messages_and_what_was_said_of_visits_are_as_their_rows(mine: OneOfEach) -> None:
    found = read_snapshot(mine.project.id)
    answered, waiting = mine.messages
    assert found.messages == (
        facts.MessageFact(
            answered.id, mine.people[0].id, "Ada 2", mine.room.id, "Drips 2", "drip2", answered.told_at, "Friday 2",
            "Pim 2", answered.answered_at,
        ),
        facts.MessageFact(
            waiting.id, mine.people[1].id, "Asta 2", None, "Creaks 2", "", waiting.told_at, None, None, None
        ),
    )
    assert [one.id for one in found.owed_messages] == [waiting.id] and "drip2" in found.photo_names
    row = mine.visit_answer
    assert found.visit_answers == (
        facts.VisitAnswerFact(
            mine.visit.id, mine.people[1].id, "Asta 2", False, "Away 2", row.at, row.starts_at, row.ends_at
        ),
    )
    assert found.answers_to(found.visits[0]) == [], "it was about another time"


def test_the_decision_is_as_its_row_and_that_of_its_revision(mine: OneOfEach) -> None:
    row, revision = mine.decision, mine.revisions[1]
    (found,) = read_snapshot(mine.project.id).decisions
    assert replace(found, approvals=(), withdrawals=(), questions=()) == facts.DecisionFact(
        id=row.id, number=row.number, kind="kind 2", room_id=mine.room.id, lead_days=row.lead_days,
        asked_for=row.asked_for, approvers="2", revision=2, state="state 2", question="Question 2.2?",
        options=[{"key": "k2", "title": "K"}], detail=revision.detail, check_code="22" * 32, asked_at=revision.asked_at,
        reason="Reason 2.2", holds=(mine.phases[1].id,), work_has_begun=True, as_asked=False,
    )  # fmt: skip


def test_approvals_and_those_taken_back_are_of_the_current_revision(mine: OneOfEach) -> None:
    (found,) = read_snapshot(mine.project.id).decisions
    row, taken, back = mine.standing, mine.taken_back, mine.withdrawals[1]
    assert found.approvals == (
        facts.ApprovalFact(
            mine.decision.id, 2, row.option, mine.people[1].id, row.name, row.at, row.signed_on, entered_by="Pim 2"
        ),
    )
    assert found.withdrawals == (
        facts.WithdrawalFact(
            mine.decision.id, taken.option, mine.people[0].id, "Ada 2", back.reason, back.at, "Noor 2"
        ),
    )


def test_what_was_answered_and_taken_back_on_a_screen_was_entered_by_nobody(house: House) -> None:
    decision, jonas = house.decisions[3], house.co_owner.id
    row = tables.Approval.create(decision=decision, revision=1, option="a", person=jonas, name="Jonas", at=NOW)
    tables.Withdrawal.create(approval=row, person=jonas, at=NOW + 1)
    found = read_snapshot(house.project).decision(decision)
    assert [(one.person_id, one.signed_on, one.entered_by) for one in found.approvals] == [
        (house.homeowner.id, None, "")
    ]
    assert found.withdrawals == (facts.WithdrawalFact(decision, "a", jonas, "Jonas Okafor", "", NOW + 1, ""),)


def test_approvals_questions_and_those_taken_back_come_in_the_order_in_which_they_were_given(house: House) -> None:
    """Their times are turned around: a clock may be set back."""
    decision = house.decisions[5]
    for person, later in ((house.co_owner, 2), (house.homeowner, 1), (house.co_owner, 0)):
        row = tables.Approval.create(
            decision=decision, revision=1, option="a", person=person.id, name=person.name, at=NOW + later
        )
        tables.QuestionBack.create(
            decision=decision, revision=1, person=person.id, text=f"{later}", asked_at=NOW + later
        )
        if later:
            tables.Withdrawal.create(approval=row, person=person.id, at=NOW + later)
        else:
            tables.Approval.create(
                decision=decision, revision=1, option="b", person=house.homeowner.id, name="Maren", at=NOW - 9
            )
    found = read_snapshot(house.project).decision(decision)
    assert [one.at - NOW for one in found.approvals] == [0, -9]
    assert [one.at - NOW for one in found.withdrawals] == [2, 1]
    assert [one.text for one in found.questions] == ["2", "1", "0"]


def test_questions_of_every_revision_are_there_answered_or_not(mine: OneOfEach) -> None:
    first, second = mine.questions
    (found,) = read_snapshot(mine.project.id).decisions
    assert found.questions == (
        facts.QuestionFact(
            first.id, mine.decision.id, 1, "Ada 2", "Why 2?", first.asked_at, "So 2.", "Noor 2", first.answered_at
        ),
        facts.QuestionFact(
            second.id, mine.decision.id, 2, "Asta 2", "When 2?", second.asked_at, None, None, None
        ),
    )
    assert found.unanswered == [], "the work that it held has begun"
    tables.Phase.update(started_at=None).where(tables.Phase.id == mine.phases[1].id).execute()
    (found,) = read_snapshot(mine.project.id).decisions
    assert found.unanswered == [found.questions[1]]


def test_visits_and_deliveries_are_as_their_rows(mine: OneOfEach) -> None:
    found, visit, delivery = read_snapshot(mine.project.id), mine.visit, mine.delivery
    assert found.visits == (
        facts.VisitFact(
            visit.id, mine.phases[1].id, "Visitors 2", "Purpose 2", visit.starts_at, visit.ends_at, visit.version,
            visit.changed_at,
        ),
    )
    assert found.deliveries == (
        facts.DeliveryFact(
            delivery.id, "Ordered 2", delivery.expected_low, delivery.expected_on, delivery.expected_high,
            delivery.arrived_at, "Note 2", (mine.phases[1].id,),
        ),
    )


def test_updates_and_handovers_are_as_their_rows(mine: OneOfEach) -> None:
    found, update, photo = read_snapshot(mine.project.id), mine.update, mine.photo
    handover, item = mine.handover, mine.item
    assert found.updates == (
        facts.UpdateFact(
            update.id, "Pim 2", update.at, "<p>2</p>",
            (facts.PhotoFact(update.id, "photo2", "Caption 2", photo.width, photo.height),),
        ),
    )
    assert found.handovers == (
        facts.HandoverFact(
            handover.id, mine.phases[1].id, "Handed 2", handover.offered_at, handover.accepted_at, "Accepted 2",
            "Asta 2", handover.items_until,
            (
                facts.ItemFact(
                    item.id, handover.id, mine.room.id, "Item 2", "itemphoto2", "Who 2", item.by_on, "Added by 2",
                    item.done_at,
                ),
            ),
        ),
    )


def test_an_update_of_nobody_and_a_handover_that_nobody_accepted_have_no_name(house: House) -> None:
    update = tables.Update.create(project=house.project, at=NOW, text="", html="")
    handover = tables.Handover.create(project=house.project, offered_at=NOW)
    found = read_snapshot(house.project)
    assert found.updates[0] == facts.UpdateFact(update.id, "", NOW, "")
    assert found.handovers == (facts.HandoverFact(handover.id, None, "", NOW, None, "", ""),)


def test_the_firm_is_as_its_row_and_the_first_one_counts(house: House) -> None:
    tables.Firm.create(name="Another", phone="218-555-0199", office_hours="never")
    assert read_firm() == read_snapshot(house.project).firm == facts.FirmFact(
        "Brackwater Remodeling", "218-555-0142", "office@brackwater.example.com",
        "9 Foundry Street, Pell Harbor, Minnesota", "Monday to Friday, 7:30 am to 4:30 pm",
        ["Minnesota residential remodeler BC-000000"],
    )  # fmt: skip


def test_rooms_and_phases_come_by_position_and_those_of_the_same_one_by_age(house: House) -> None:
    for table, ids in ((tables.Room, house.rooms), (tables.Phase, house.phases)):
        table.update(position=5).where(table.project == house.project).execute()
        table.update(position=1).where(table.id == max(ids.values())).execute()
    found = read_snapshot(house.project)
    for kind, ids in ((found.rooms, house.rooms), (found.phases, house.phases)):
        in_order = sorted(ids.values())
        assert [one.id for one in kind] == [in_order[-1], *in_order[:-1]]


def test_decisions_come_by_number_and_people_by_age(house: House) -> None:
    tables.Decision.update(number=9).where(tables.Decision.id == house.decisions[1]).execute()
    tables.Person.update(name="Zoe").where(tables.Person.id == house.homeowner.id).execute()
    found = read_snapshot(house.project)
    assert [one.number for one in found.decisions] == [2, 3, 4, 5, 9]
    assert [one.name for one in found.people] == ["Zoe", "Jonas Okafor"]


def test_visits_come_by_their_start_and_deliveries_by_their_day(house: House) -> None:
    sooner, later = at("2026-12-02T06:00"), at("2026-12-20T08:00")
    tables.Visit.update(starts_at=later).where(tables.Visit.id == house.visits["cabinets"]).execute()
    same = [
        tables.Visit.create(project=house.project, crew=crew, purpose="", starts_at=sooner, ends_at=later).id
        for crew in ("B", "A")
    ]
    tables.Delivery.update(expected_on=date(2026, 12, 30)).where(
        tables.Delivery.id == house.deliveries["stone"]
    ).execute()
    twin = tables.Delivery.create(
        project=house.project, item="A twin", expected_low=date(2026, 12, 1), expected_on=date(2026, 12, 4),
        expected_high=date(2026, 12, 4),
    ).id  # fmt: skip
    found = read_snapshot(house.project)
    assert [one.id for one in found.visits] == [
        *same, *(house.visits[key] for key in ("floor_grout", "top", "drill", "sink", "paint", "cabinets"))
    ]  # fmt: skip
    ids = house.deliveries
    assert [one.id for one in found.deliveries] == [ids["faucet"], ids["tile"], twin, ids["stone"]]


def test_updates_of_the_same_second_come_newest_first_and_their_photos_in_order(house: House) -> None:
    first, second = (
        tables.Update.create(project=house.project, at=NOW, text=text, html=text) for text in ("one", "two")
    )
    for name in ("z", "y"):
        tables.Photo.create(of=first, name=name, width=1, height=2)
    found = read_snapshot(house.project).updates
    assert [one.id for one in found[:2]] == [second.id, first.id]
    assert [photo.name for photo in found[1].photos] == ["z", "y"]


def test_links_holds_and_items_come_in_the_order_in_which_they_were_made(house: House) -> None:
    phase, (one, two) = house.phases["walk"], (house.decisions[5], house.decisions[1])
    for decision in (one, two):
        tables.PhaseHold.create(phase=phase, decision=decision)
        tables.Release.create(phase=phase, decision=decision, reason="", staff=house.office.id, at=NOW - decision)
    tables.PhaseHold.create(phase=house.phases["out"], decision=one)
    handover = tables.Handover.create(project=house.project, offered_at=NOW)
    for item in ("z", "y"):
        tables.OpenItem.create(handover=handover, item=item, added_by="", added_at=NOW)
    tables.DeliveryHold.create(delivery=house.deliveries["tile"], phase=house.phases["out"])
    later = tables.Handover.create(project=house.project, offered_at=NOW - 60)
    found = read_snapshot(house.project)
    walk = found.phase(phase)
    assert [before for before, _ in walk.after] == [house.phases[key] for key in ("sink", "grout", "vanity", "shelves")]
    assert walk.held_by == (one, two) and [release.decision_id for release in walk.releases] == [one, two]
    assert found.decision(one).holds == (phase, house.phases["out"])
    assert [item.item for item in found.handovers[0].items] == ["z", "y"]
    assert [handed.id for handed in found.handovers] == [handover.id, later.id]
    tile = next(delivery for delivery in found.deliveries if delivery.id == house.deliveries["tile"])
    assert tile.phases == (house.phases["splash"], house.phases["out"])
