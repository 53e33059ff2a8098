"""What follows an answer: who comes for it, whom it still waits for, and the question that is next."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from portal.acts.decisions.answers import approve
from portal.pages.evidence.next_steps import NextQuestion, next_question, next_words
from portal.pages.outlook import Outlook, outlook_of
from portal.store import tables
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import dated_words, local, when_words
from tests.house import NOW, House


def shown(house: House) -> tuple[Snapshot, Outlook]:
    snapshot = read_snapshot(house.project)
    return snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW))


def follows(house: House, **fields: Any) -> str:
    snapshot, outlook = shown(house)
    return next_words(snapshot, outlook, replace(snapshot.decision(house.decisions[1]), **fields), NOW)


def approve_it(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)


def test_the_crew_that_comes_for_it_is_named_with_its_time(house: House) -> None:
    approve_it(house)
    snapshot, _ = shown(house)
    (phase,) = snapshot.decision(house.decisions[1]).holds
    visit = min((one for one in snapshot.visits if one.phase_id == phase), key=lambda one: one.starts_at)
    when = when_words(visit.starts_at, snapshot.project.timezone)
    assert f"{visit.crew}, {when}." in follows(house) and visit.purpose[1:] in follows(house)


def test_work_that_nobody_is_booked_for_has_its_day_of_the_plan(house: House) -> None:
    approve_it(house)
    tables.Visit.delete().execute()
    snapshot, outlook = shown(house)
    phase = snapshot.phase(snapshot.decision(house.decisions[1]).holds[0])
    day = dated_words(outlook.starts[phase.id], local(NOW, snapshot.project.timezone).date())
    assert follows(house) == f"“{phase.name}” starts {day}, by today’s plan."


def test_who_must_still_approve_comes_first(house: House) -> None:
    tables.Decision.update(approvers="all").where(tables.Decision.id == house.decisions[1]).execute()
    approve_it(house)
    assert follows(house) == "We wait for Jonas Okafor."


def test_what_holds_nothing_or_has_begun_says_so(house: House) -> None:
    approve_it(house)
    assert follows(house, holds=()) == "No work waits for it."
    snapshot, outlook = shown(house)
    decision = snapshot.decision(house.decisions[1])
    begun = replace(snapshot, phases=tuple(replace(one, started_at=NOW) for one in snapshot.phases))
    assert next_words(begun, outlook, decision, NOW) == "The work goes on."


def next_of(house: House, person: int = 0, days: int = 0) -> NextQuestion | None:
    snapshot, outlook = shown(house)
    today = local(NOW, snapshot.project.timezone).date() + timedelta(days=days)
    return next_question(snapshot, outlook, snapshot.people[person], today)


def test_the_next_question_is_the_one_that_is_needed_first(house: House) -> None:
    found = next_of(house)
    snapshot, outlook = shown(house)
    open_ones = [one for one in snapshot.decisions if one.is_open and one.approvers == "any"]
    first = min((one for one in open_ones if one.state == "asked"), key=lambda one: outlook.needed_by[one.id])
    assert found and (found.card.leads, found.card.title) == (f"decisions/{first.number}/", first.question)
    late = next_of(house, days=60)
    assert late and late.card.late and late.card.by.startswith("Late since ") and late.left.endswith(" late")


def test_what_one_has_answered_is_left_no_more(house: House) -> None:
    tables.Decision.update(approvers="all").where(tables.Decision.id == house.decisions[1]).execute()
    before, theirs = next_of(house), next_of(house, 1)
    approve_it(house)
    after = next_of(house)
    assert before and after and before.left != after.left
    assert theirs == next_of(house, 1), "the other one's is still theirs to answer"


def test_nobody_who_may_not_answer_is_asked(house: House) -> None:
    snapshot, outlook = shown(house)
    reader = snapshot.people[0]._replace(may_approve=False)
    assert next_question(snapshot, outlook, reader, local(NOW, snapshot.project.timezone).date()) is None
