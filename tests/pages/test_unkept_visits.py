"""Why a visit can't be kept, as the household, the desk and the API say it."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from portal.acts.decisions.asking_back import ask_back
from portal.pages.unkept_visits import conflict_words, not_kept, reason_words, unkept
from portal.planning.conflicts import obstacles, unkept_visits
from portal.planning.conflicts.obstacles import Reason
from portal.planning.conflicts.unkept_visits import Conflict
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, ZONE, House, at

MOMENT = datetime(2026, 12, 8, 13, 40, tzinfo=ZoneInfo(ZONE))
WAIT = Reason(obstacles.CURING, MOMENT, "Set the stone top")
WAIT_WORDS = "The wait after “Set the stone top” is not over before Tue Dec 8, 1:40 pm."


UNANSWERED = (
    "“Tile” is held by decision 4, which is not answered. Answered today, it lets work start on Tue Dec 8."
)


@pytest.mark.parametrize(
    ("about", "words"),
    [
        (obstacles.ANSWERED, "Decision 4 is answered, and what it is needed for takes until Tue Dec 8."),
        (obstacles.UNANSWERED, UNANSWERED),
        (obstacles.NOT_DELIVERED, "Tile is not expected before Tue Dec 8 is over."),
        (obstacles.UNFINISHED, "“Tile” is not finished before Tue Dec 8, 1:40 pm."),
        (obstacles.CURING, "The wait after “Tile” is not over before Tue Dec 8, 1:40 pm."),
        (obstacles.NOT_BEFORE, "“Tile” is not to start before Tue Dec 8."),
        (obstacles.RESTING, "The job rests until Tue Dec 8, 1:40 pm."),
        (obstacles.NOT_BEGUN, "The job starts on Tue Dec 8."),
        (unkept_visits.DAY_OFF, "Tue Dec 8 is a day off."),
        (unkept_visits.OUT_OF_HOURS, "The visit on Tue Dec 8 is not within working hours."),
        (unkept_visits.CREW_OFF, "Tile does not work on Tue Dec 8."),
        (unkept_visits.CREW_HOURS, "The visit on Tue Dec 8 is not within the hours of Tile."),
    ],
)  # fmt: skip
def test_every_reason_has_its_sentence(about: str, words: str) -> None:
    assert reason_words(Reason(about, MOMENT, "Tile", 4)) == words


def test_an_item_without_a_name_is_a_delivery() -> None:
    assert reason_words(Reason(obstacles.NOT_DELIVERED, MOMENT)).startswith("A delivery is not expected")


@pytest.mark.parametrize(("elsewhere", "where"), [(True, "at another house"), (False, "here")])
def test_a_crew_that_is_booked_twice_is_told_both_times(elsewhere: bool, where: str) -> None:
    other = datetime(2026, 12, 8, 15, 0, tzinfo=ZoneInfo(ZONE))
    assert reason_words(Reason(unkept_visits.CREW_TWICE, MOMENT, "Ash Stone", 0, other, elsewhere)) == (
        f"Ash Stone would be at two places at once: this visit is Tue Dec 8, 1:40 pm, another {where} Tue Dec 8, "
        "3:00 pm."
    )


def test_a_crew_that_is_booked_at_another_house_is_told_which() -> None:
    reason = Reason(unkept_visits.CREW_TWICE, MOMENT, "Ash Stone", 0, MOMENT, True, "Sorensen kitchen")
    assert "another at Sorensen kitchen Tue Dec 8, 1:40 pm." in reason_words(reason)


@pytest.mark.parametrize(
    ("works", "words"),
    [("2026-12-08T13:40", f"{WAIT_WORDS} Then it works."),
     ("2026-12-09T08:00", f"{WAIT_WORDS} The first time that works: Wed Dec 9, 8:00 am."), (None, WAIT_WORDS)],
)  # fmt: skip
def test_when_it_works_is_said_once(works: str | None, words: str) -> None:
    first = None if works is None else at(works) // 60
    assert conflict_words(Conflict(1, "cure", WAIT, first), ZONE) == words


def test_all_that_is_in_the_way_of_a_visit_is_said_together_and_once() -> None:
    off = Reason(unkept_visits.DAY_OFF, MOMENT)
    found = [Conflict(7, "cure", WAIT, None), Conflict(9, "day_off", off, None), Conflict(7, "day_off", off, None),
             Conflict(7, "cure", WAIT, None)]
    assert not_kept(found, ZONE) == {7: f"{WAIT_WORDS} Tue Dec 8 is a day off.", 9: "Tue Dec 8 is a day off."}


TODAY = date(2026, 12, 2)


@pytest.mark.parametrize(
    ("about", "words"),
    [
        (obstacles.ANSWERED, "What you chose takes until Tue Dec 8."),
        (obstacles.NOT_DELIVERED, "Tile is expected on Tue Dec 8."),
        (obstacles.UNFINISHED, "“Tile” takes until Tue Dec 8, 1:40 pm."),
        (obstacles.CURING, "“Tile” must rest until Tue Dec 8, 1:40 pm."),
        (obstacles.NOT_BEFORE, "It may not start before Tue Dec 8."),
        (obstacles.RESTING, "The job rests until Tue Dec 8, 1:40 pm."),
        (obstacles.NOT_BEGUN, "The job starts on Tue Dec 8."),
        (unkept_visits.DAY_OFF, "Tue Dec 8 is a day off."),
        (unkept_visits.OUT_OF_HOURS, "It is not within working hours."),
        (unkept_visits.CREW_OFF, "Tile does not work on Tue Dec 8."),
        (unkept_visits.CREW_HOURS, "It is not within the hours of Tile."),
        (unkept_visits.CREW_TWICE, "Tile is booked twice at that time."),
    ],
)  # fmt: skip
def test_the_household_reads_every_reason_in_few_words(house: House, about: str, words: str) -> None:
    found = [Conflict(house.visits["top"], "kind", Reason(about, MOMENT, "Tile", 4), None)]
    assert unkept(read_snapshot(house.project), found, TODAY)[house.visits["top"]].sentence == words


def _held(house: House, number: int) -> str:
    reason = Reason(obstacles.UNANSWERED, MOMENT, "Tile", number)
    found = [Conflict(house.visits["drill"], "held", reason, at("2026-12-08T08:00") // 60)]
    return unkept(read_snapshot(house.project), found, TODAY)[house.visits["drill"]].sentence


def test_whose_answer_a_visit_waits_for_is_said(house: House) -> None:
    """Decision 4 was asked back: there we owe one."""
    assert _held(house, 1) == "It waits for your answer. First day that works: Tue Dec 8."
    assert _held(house, 4) == "It waits for our answer to you. First day that works: Tue Dec 8."
    ask_back(house.homeowner, house.project, house.decisions[1], revision=1, text="Why?", now=NOW)
    assert _held(house, 1).startswith("It waits for our answer to you.")


def test_what_works_on_the_same_day_is_said_by_the_clock(house: House) -> None:
    out = Reason(unkept_visits.OUT_OF_HOURS, MOMENT)
    found = [Conflict(house.visits["top"], "hours", out, at("2026-12-03T10:30") // 60),
             Conflict(house.visits["top"], "cure", WAIT, at("2026-12-03T10:30") // 60)]
    assert unkept(read_snapshot(house.project), found, TODAY)[house.visits["top"]].sentence == (
        "It is not within working hours and “Set the stone top” must rest until Tue Dec 8, 1:40 pm. That day it works "
        "from 10:30 am."
    )
