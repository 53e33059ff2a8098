"""What an approval means before it is given: when the whole job is then done, and what is still open."""

from dataclasses import replace
from datetime import date

from portal.pages.decision.binding import finish_with, open_questions
from portal.pages.outlook import Outlook, outlook_of
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House

TODAY = date(2026, 12, 2)


def shown(house: House) -> tuple[Snapshot, Outlook]:
    snapshot = read_snapshot(house.project)
    return snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW))


def test_days_that_a_choice_takes_move_the_finish_by_working_days(house: House) -> None:
    _, outlook = shown(house)
    assert outlook.finish is not None
    assert finish_with(outlook, {"days": 0}, TODAY) == finish_with(outlook, {"days": -2}, TODAY) == "done Mon Dec 14"
    assert finish_with(outlook, {"days": 1}, TODAY) == "done by Tue Dec 15"
    assert finish_with(outlook, {"days": 5}, TODAY) == "done by Mon Dec 21"


def test_a_job_without_work_has_no_finish(house: House) -> None:
    _, outlook = shown(house)
    assert finish_with(replace(outlook, finish=None), {"days": 3}, TODAY) == ""


def test_a_question_that_waits_is_not_forgotten(house: House) -> None:
    snapshot, _ = shown(house)
    asked, waits = (snapshot.decision(house.decisions[one]) for one in (1, 4))
    assert list(open_questions(snapshot, asked)) == []
    assert list(open_questions(snapshot, waits))[-1] == (
        "You need not wait for the answer, but you may. If you approve now, we still owe it."
    )
