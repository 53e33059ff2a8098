"""What an approval means before it is given, and what it has set free after."""

from dataclasses import replace
from datetime import date

from portal.pages.decision.binding import binding_sentences, open_questions, set_free
from portal.pages.outlook import Outlook, outlook_of
from portal.store import tables
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at

TODAY = date(2026, 12, 2)


def shown(house: House) -> tuple[Snapshot, Outlook]:
    snapshot = read_snapshot(house.project)
    return snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW))


def free(house: House, number: int) -> list[str]:
    snapshot, outlook = shown(house)
    return list(set_free(snapshot, outlook, snapshot.decision(house.decisions[number]), TODAY))


def start(house: House, *phases: str) -> None:
    for key in phases:
        tables.Phase.update(state="under_way", started_at=at("2026-12-01T08:00")).where(
            tables.Phase.id == house.phases[key]
        ).execute()


def test_what_is_set_free_says_when_it_comes_and_what_comes_before(house: House) -> None:
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[1]).execute()
    (said,) = free(house, 1)
    assert said == (
        "“Drill the holes in the stone top” is no longer held. It is booked for Fri Dec 4. Before that comes: “Set the "
        "stone top”."
    )


def test_what_another_decision_holds_is_not_free(house: House) -> None:
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[1]).execute()
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[2])
    assert "in the stone top” is still held until decision 2 is approved." in free(house, 1)[0]
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[5])
    assert "is still held until decision 2 and decision 5 are approved." in free(house, 1)[0]


def test_what_the_plan_still_wants_asked_is_not_free(house: House) -> None:
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[1]).execute()
    tables.PlannedQuestion.create(
        project=house.project, question="Which bolts?", options=[], holds=[house.phases["drill"]]
    )
    said = free(house, 1)[0]
    assert said.startswith("We still have to ask you “Which bolts?” before “Drill the holes in the stone top” starts.")
    assert "no longer held" not in said


def test_work_that_has_started_is_set_free_no_more(house: House) -> None:
    start(house, "drill")
    assert free(house, 1) == []


def sentences(house: House, **option: object) -> list[str]:
    snapshot, outlook = shown(house)
    asked: DecisionFact = snapshot.decision(house.decisions[1])
    return list(binding_sentences(snapshot, outlook, asked, {"key": "a"} | option, TODAY))


def test_days_that_a_choice_takes_move_the_finish_by_working_days(house: House) -> None:
    binds, _, price, finish, *more = sentences(house, cost_cents=4500, days=0)
    assert binds == "This binds you: your typed name counts like your signature."
    assert price == "The price becomes $48,645: the contract as signed ($48,600), and this." and more == []
    assert finish.startswith("If you approve today, the whole job is done on ")
    assert sentences(house, days=1)[-1].startswith("This choice takes 1 working day more, so it may be ")
    assert sentences(house, days=2)[-1].startswith("This choice takes 2 working days more, so it may be ")
    assert sentences(house, days=-2)[-1] == finish


def test_a_job_without_work_has_no_finish(house: House) -> None:
    snapshot, outlook = shown(house)
    asked = snapshot.decision(house.decisions[1])
    said = list(binding_sentences(snapshot, replace(outlook, finish=None), asked, {"days": 3}, TODAY))
    assert not any("job is done" in one or "takes 3" in one for one in said)


def test_a_question_that_waits_is_not_forgotten(house: House) -> None:
    snapshot, _ = shown(house)
    asked, waits = (snapshot.decision(house.decisions[one]) for one in (1, 4))
    assert list(open_questions(snapshot, asked)) == []
    assert list(open_questions(snapshot, waits))[-1] == (
        "You need not wait for the answer, but you may. If you approve now, we still owe it."
    )
