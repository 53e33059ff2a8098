"""When it is done: the plan's day on every page, and how sure that is, in one way."""

from datetime import date

import pytest

from portal.pages.finish.done import Finish, done_words, finish_of, finish_sentences, promised_words, sure_words
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, ZONE, House, at

TODAY = date(2026, 12, 2)


def found(house: House, when: str = "2026-12-02T07:30") -> Finish:
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, at(when, ZONE))
    finish = finish_of(snapshot, outlook_of(snapshot, schedule), foresee(snapshot, schedule).forecast)
    assert finish is not None
    return finish


def said(house: House, when: str = "2026-12-02T07:30") -> list[str]:
    return list(finish_sentences(found(house, when), date.fromisoformat(when[:10])))


def test_done_is_the_day_of_the_plan_as_booked(house: House) -> None:
    snapshot = read_snapshot(house.project)
    assert found(house).day == outlook_of(snapshot, schedule_of(snapshot, NOW)).finish == date(2026, 12, 14)
    assert done_words(found(house), TODAY) == "Done Mon Dec 14"


def test_a_day_that_holds_nearly_always_needs_no_second_one(house: House) -> None:
    assert said(house)[:3] == [
        "By today’s plan, all work is done on Mon Dec 14.",
        "Mon Dec 14 holds in more than 99 of 100 cases.",
        "We promised Fri Dec 18, which holds in more than 99 of 100 cases.",
    ]


def test_a_day_that_holds_less_often_stands_beside_one_that_does(house: House) -> None:
    tables.Phase.update(work_low=120, work_likely=600, work_high=4000).where(
        tables.Phase.id == house.phases["walk"]
    ).execute()
    finish = found(house)
    assert finish.sure is not None and 0.01 < finish.sure < 0.8 and finish.safe is not None
    assert finish.safe > finish.day
    words = sure_words(finish, TODAY)
    assert words.startswith(f"{finish.day:%a %b} {finish.day.day} holds in {round(finish.sure * 100)} of 100 cases, ")
    assert words.endswith(f"{finish.safe:%a %b} {finish.safe.day} in 80 or more.")


@pytest.mark.parametrize(("promised", "late", "words", "sentence"), [
    (date(2026, 12, 14), False, "promised Mon Dec 14", "That is the day we promised."),
    (date(2026, 12, 13), True, "promised Sun Dec 13, 1 day late", "We promised Sun Dec 13. That is 1 day late."),
    (date(2026, 12, 11), True, "promised Fri Dec 11, 3 days late", "We promised Fri Dec 11. That is 3 days late."),
])  # fmt: skip
def test_late_is_a_day_after_the_promise_and_no_other(
    house: House, promised: date, late: bool, words: str, sentence: str
) -> None:
    tables.Project.update(promised_on=promised).execute()
    finish = found(house)
    assert (finish.late, promised_words(finish, TODAY)) == (late, words)
    assert sentence in said(house)


def test_without_a_promise_none_is_mentioned(house: House) -> None:
    tables.Project.update(promised_on=None).execute()
    finish = found(house)
    assert (finish.late, finish.promise_sure, promised_words(finish, TODAY)) == (False, None, "")
    assert not any("promise" in one for one in said(house))


def test_finished_work_says_when_it_was_done(house: House) -> None:
    tables.Phase.update(state="done", started_at=NOW, finished_at=at("2026-12-10T15:00")).execute()
    assert said(house, "2026-12-12T08:00") == ["All work was done on Thu Dec 10."]
    assert done_words(found(house, "2026-12-12T08:00"), date(2026, 12, 12)) == "Done Thu Dec 10"


def test_a_finish_in_another_year_names_it(house: House) -> None:
    tables.Phase.update(not_before=date(2027, 9, 1)).where(tables.Phase.id == house.phases["walk"]).execute()
    assert said(house)[0] == "By today’s plan, all work is done on Wed Sep 1, 2027."


def test_a_day_that_hangs_on_an_answer_today_says_so(house: House) -> None:
    """Decision 2 is overdue, and its grout drives the finish; decision 1 has days to spare."""
    question = read_snapshot(house.project).decision(house.decisions[2]).question
    assert said(house)[-1] == f"This counts on an answer today: “{question}”."
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[2]).execute()
    assert not any("counts on" in one for one in said(house))


def test_a_house_without_a_plan_says_nothing(house: House) -> None:
    snapshot = read_snapshot(house.other_project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW))
    assert finish_of(snapshot, outlook, None) is None and list(finish_sentences(None, TODAY)) == []


def test_without_a_forecast_the_day_stands_and_nothing_is_said_of_how_sure_it_is(house: House) -> None:
    snapshot = read_snapshot(house.project)
    finish = finish_of(snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW)), None)
    assert list(finish_sentences(finish, TODAY)) == [
        "By today’s plan, all work is done on Mon Dec 14.", "We promised Fri Dec 18.",
    ]
