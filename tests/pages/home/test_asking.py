"""What is said of an open question: by when, what waits for it, what a later answer does, and who must give it."""

import re
from datetime import date

import pytest

from portal.pages.home.asking import consequences, question_sentences, urgency_words
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local
from tests.house import NOW, ZONE, House, at


def _part(house: House, number: int, now: int = NOW) -> str:
    """What is said of one decision."""
    snapshot, today = read_snapshot(house.project), local(now, ZONE).date()
    decision, outlook = snapshot.decision(house.decisions[number]), outlook_of(snapshot, schedule_of(snapshot, now))
    said = [urgency_words(outlook.needed_by.get(decision.id), today, decision.state == "asked_back"),
            *consequences(snapshot, outlook, decision, today), *question_sentences(snapshot, decision)]  # fmt: skip
    return " ".join(said).replace("\u00a0", " ")


def _set(house: House, number: int, **values: object) -> None:
    tables.Decision.update(values).where(tables.Decision.id == house.decisions[number]).execute()



@pytest.mark.parametrize(
    ("when", "words"),
    [
        ("2026-12-01T12:00", "Please answer by Thu Dec 3."),
        ("2026-12-02T12:00", "Please answer by tomorrow, Thu Dec 3."),
        ("2026-12-03T23:59", "Please answer today, Thu Dec 3."),
        ("2026-12-04T00:00", "We needed your answer by Thu Dec 3. It is late: please answer now."),
    ],
)
def test_the_date_is_said_with_its_distance(house: House, when: str, words: str) -> None:
    assert words in _part(house, 1, at(when))



def test_it_says_what_waits_and_for_when_it_is_booked(house: House) -> None:
    assert "we don’t start: “Drill the holes in the stone top”, booked for Fri Dec 4." in _part(house, 1)


def test_a_visit_that_is_over_is_not_what_it_is_booked_for(house: House) -> None:
    """The crew was there on Fri Dec 4, could not start without an answer, and comes again on Wed Dec 9."""
    crew, phase = "Stone crew", house.phases["drill"]
    again = {"starts_at": at("2026-12-09T08:00"), "ends_at": at("2026-12-09T10:00")}
    tables.Visit.create(project=house.project, crew=crew, purpose="Drill the holes", phase=phase, **again)
    assert "“Drill the holes in the stone top”, booked for Wed Dec 9." in _part(house, 1, at("2026-12-07T07:30"))


def test_a_booked_day_that_can_not_hold_is_not_promised(house: House) -> None:
    tables.Phase.update(not_before=date(2026, 12, 8)).where(tables.Phase.id == house.phases["top"]).execute()
    assert "booked for Fri Dec 4, but it can’t start before Wed Dec 9." in _part(house, 1)


def test_it_says_what_a_later_answer_does(house: House) -> None:
    assert re.search(r"With an answer by \w+ Dec \d+, the whole job is done on \w+ Dec \d+\.", _part(house, 1))



def test_a_decision_that_holds_nothing_keeps_the_date_that_was_asked_for(house: House) -> None:
    assert "Please answer by Fri Dec 11." in _part(house, 5)
    assert "we don’t start" not in _part(house, 5)


def test_a_decision_without_any_date_is_still_asked(house: House) -> None:
    _set(house, 5, asked_for=None)
    assert "No date depends on this yet" in _part(house, 5)


def test_a_question_back_is_shown_with_who_asked_and_that_we_owe_the_answer(house: House) -> None:
    text = _part(house, 4)
    assert "Jonas Okafor asked on Tue Dec 1: “Can the ceiling stay as it is?” We owe the answer." in text
    assert "Once you have our answer, we need yours by Mon Dec 7." in text


def test_a_question_that_we_left_too_long_is_our_delay(house: House) -> None:
    assert "Until we have answered you, the delay is ours." in _part(house, 4, at("2026-12-08T12:00"))


def test_an_answered_question_is_shown_with_its_answer_and_the_turn_is_theirs(house: House) -> None:
    _set(house, 4, state="asked")
    tables.QuestionBack.update(answer="Yes, it stays.", answered_by=house.manager.id, answered_at=NOW).execute()
    text = _part(house, 4)
    assert "Dana Whitcombe answered on Wed Dec 2: “Yes, it stays.”" in text
    assert "Please answer by Mon Dec 7." in text


def test_who_must_approve_is_named_when_it_is_not_anyone(house: House) -> None:
    _set(house, 1, approvers="all")
    assert "Maren and Jonas must agree on this." in _part(house, 1)
    _set(house, 1, approvers=str(house.co_owner.id))
    assert "This is for Jonas to answer." in _part(house, 1)


def test_an_approval_by_one_of_two_is_shown_while_the_other_is_missing(house: House) -> None:
    _set(house, 1, approvers="all")
    tables.Approval.create(
        decision=house.decisions[1], revision=1, option="b", person=house.homeowner.id, name="Maren Okafor", at=NOW
    )
    assert "Maren chose “Two holes: the faucet and the soap dispenser”; we wait for Jonas." in _part(house, 1)


def test_a_changed_question_says_since_when_and_why(house: House) -> None:
    _set(house, 1, revision=2)
    tables.Revision.create(
        decision=house.decisions[1], number=2, question="Which holes beside the new sink?", options=[], shown="{}",
        check_code="f" * 64, asked_at=NOW, reason="The sink is wider.",
    )
    text = _part(house, 1)
    assert "The question changed on Wed Dec 2; an earlier answer no longer counts. The sink is wider." in text


def test_a_released_phase_no_longer_waits_for_the_answer(house: House) -> None:
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed on site.", staff=house.manager.id,
        at=NOW
    )
    assert "we don’t start" not in _part(house, 1)


def test_that_one_answer_is_enough_is_said_with_who_may_give_it(house: House) -> None:
    assert "One answer is enough: from Maren or Jonas." in _part(house, 1)


def test_an_answer_needed_while_the_contract_can_be_cancelled_says_so(house: House) -> None:
    tables.Project.update(signed_on="2026-12-01").execute()
    assert "you can cancel it until the end of Fri Dec 4" in _part(house, 1)
    assert "cancel" not in _part(house, 5)
