"""What moved the finish, in words: newest first, each with its cause and its reason, and the sum."""

from dataclasses import replace
from datetime import date

import pytest

from portal.acts.plan.phases import change_phase
from portal.acts.visiting.deliveries import change_delivery
from portal.pages.finish.moved import Moved, MovedLine, lately_words, moved_section, why_words
from portal.pages.without_sums import without_sums
from portal.planning.moves.drivers import NOT_ANSWERED
from portal.planning.moves.replay import ANSWER, CAUSES, DELIVERY, PLAN, RELEASE, STOP, TIME, VISIT, WORK, Cause, Move
from portal.store import tables
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.finish.told_causes import NOT_ANSWERED_BY_US, UNTOLD
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.pages.reading import page_of

TODAY = date(2026, 12, 2)
GROUT = "“Which grout color for the splash?”"


def december(day: int) -> date:
    return date(2026, 12, day)


def move(day: int, before: int, after: int, cause: Cause) -> Move:
    return Move(december(day), december(before), december(after), cause)


def said(house: House, *moves: Move, first: int = 14, most: int | None = 6) -> Moved:
    moved = MovedFinish(house.project, date(2026, 11, 9), december(first), moves)
    found = moved_section(read_snapshot(house.project), moved, TODAY, most)
    assert found is not None
    return found


@pytest.mark.parametrize(("cause", "words"), [
    (Cause(ANSWER, "approved", ("2",)), f"{GROUT} was answered."),
    (Cause(ANSWER, NOT_ANSWERED, ("2",)), f"{GROUT} waited for an answer."),
    (Cause(ANSWER, NOT_ANSWERED_BY_US, ("2",)), f"{GROUT} waited for an answer of ours."),
    (Cause(ANSWER, "asked", ("99",)), "We asked decision 99."),
    (Cause(DELIVERY, "delivery_moved", ("Splash tile",), "The factory was closed."),
     "Splash tile comes later. “The factory was closed.”"),
    (Cause(DELIVERY, "not_come", ("Splash tile",)), "Splash tile had not come."),
    (Cause(VISIT, "visit_moved", ("Stone crew",), "Rain"), "A visit was moved: Stone crew. “Rain”"),
    (Cause(WORK, "took_longer", ("Set the splash tile",)), "“Set the splash tile” took longer."),
    (Cause(STOP, "stopped", ("Paint",), "A pipe leaked"), "“Paint” stopped. “A pipe leaked”"),
    (Cause(RELEASE, "released", ("Paint",), "It is known"), "“Paint” may start without an answer. “It is known”"),
    (Cause(PLAN, "plan_changed", ("A", "B", "C", "D", "E")), "The plan was changed: “A”, “B”, “C” and 2 more."),
    (Cause(WORK, "finished", ("Paint", "Tile")), "“Paint” and “Tile” were finished."),
    (Cause(WORK, "finished", ("Paint",)), "“Paint” was finished."),
    (Cause(PLAN, "project_changed"), "Dates or working days were changed."),
    (Cause(PLAN, "rooms_changed"), "The plan was changed."),
    (Cause(TIME, "passed"), "Time passed."),
    (UNTOLD, "The record does not say why."),
])  # fmt: skip
def test_each_cause_has_its_sentence(house: House, cause: Cause, words: str) -> None:
    assert cause.kind in CAUSES
    assert why_words(read_snapshot(house.project), move(1, 14, 16, cause)) == words


def test_a_delivery_that_comes_sooner_is_said_to(house: House) -> None:
    cause = Cause(DELIVERY, "delivery_moved", ("Tile",))
    assert why_words(read_snapshot(house.project), move(1, 16, 14, cause)) == "Tile comes sooner."


def test_the_newest_stands_first_with_its_days_and_the_sum_above(house: House) -> None:
    late, changed = Cause(DELIVERY, "not_come", ("Tile",)), Cause(PLAN, "project_changed")
    found = said(house, move(1, 14, 17, late), move(2, 17, 16, changed))
    assert found.sum == "In all 2 days later: on Mon Nov 9 the end was Mon Dec 14, now it is Wed Dec 16."
    assert found.lines == [
        MovedLine("Wed Dec 2", "1 day earlier, to Wed Dec 16", "Dates or working days were changed."),
        MovedLine("Tue Dec 1", "3 days later, to Thu Dec 17", "Tile had not come."),
    ]
    assert found.older == ""


def test_days_in_a_row_with_one_cause_are_one_line(house: House) -> None:
    waits = Cause(ANSWER, NOT_ANSWERED, ("2",))
    found = said(house, move(1, 14, 15, waits), move(2, 15, 16, waits), move(3, 16, 17, waits))
    assert found.lines == [MovedLine(
        "Tue Dec 1 to Thu Dec 3", "3 days later, to Thu Dec 17", f"{GROUT} waited for an answer."
    )]


def test_what_moved_it_lately_is_what_went_the_way_it_went_in_all() -> None:
    waits, done = Cause(ANSWER, NOT_ANSWERED, ("2",)), Cause(WORK, "finished", ("Floor",))
    asked = {"2": "Which grout color for the splash?"}
    moves = [move(1, 14, 16, waits), move(2, 16, 14, done), move(2, 14, 15, replace(waits, about=("9",)))]
    assert lately_words(moves[:1], asked, TODAY) == f"{GROUT} waited for an answer."
    most = f"In all 1 day later since Tue Dec 1; most by this, 2 days later: {GROUT} waited for an answer."
    assert lately_words(moves, asked, TODAY) == most
    back = [move(1, 14, 13, done), *[move(2, 13, 14, waits), move(3, 14, 15, Cause(PLAN, "rooms_changed"))]]
    assert "most by this, 1 day later: The plan was changed." in lately_words(back, asked, TODAY), "the last of equals"


def test_who_reads_no_sums_reads_none_in_a_reason(house: House) -> None:
    cause = Cause(DELIVERY, "delivery_moved", ("Tile",), "The maker wanted $1,337 more")
    moved = MovedFinish(house.project, date(2026, 11, 9), december(14), (move(1, 14, 17, cause),))
    snapshot = read_snapshot(house.project)
    every, less = moved_section(snapshot, moved, TODAY), moved_section(without_sums(snapshot), moved, TODAY)
    assert every and "$1,337" in every.lines[0].why
    assert less and less.lines[0].why == "Tile comes later. “The maker wanted (price left out) more”"


def test_nothing_moved_is_one_sentence(house: House) -> None:
    assert said(house) == Moved("Nothing has moved the end since Mon Nov 9: it is still Mon Dec 14.", [], "")


def test_moves_that_cancel_out_leave_the_end_where_it_was(house: House) -> None:
    cause = Cause(PLAN, "project_changed")
    found = said(house, move(1, 14, 16, cause), move(2, 16, 14, replace(cause, did="timezone_changed")))
    assert found.sum == "The end is Mon Dec 14, as on Mon Nov 9." and len(found.lines) == 2


def test_what_is_older_is_summed_up(house: House) -> None:
    moves = [move(day, 13 + day, 14 + day, Cause(PLAN, "plan_changed", (f"{day}",))) for day in range(1, 9)]
    found = said(house, *moves)
    assert len(found.lines) == 5 and found.older == "Before that: 3 moves, in all 3 days later."
    assert len(said(house, *moves, most=None).lines) == 8


def test_of_a_house_without_a_told_plan_nothing_is_said(house: House) -> None:
    snapshot = read_snapshot(house.project)
    moved = moved_finish(snapshot, schedule_of(snapshot, NOW))
    assert moved_section(snapshot, moved, TODAY) is None
    assert "Why the end moved" not in page_of(house).text


def test_the_page_says_what_moved_the_end_in_the_words_that_were_typed(house: House) -> None:
    walk = tables.Phase.get_by_id(house.phases["walk"])
    change_phase(house.manager, house.project, walk.id, walk.version, {"note": "Both"}, at("2026-12-01T07:00"))
    tile = tables.Delivery.get_by_id(house.deliveries["tile"])
    day = date(2026, 12, 24)
    late = {"expected_on": day, "expected_high": day, "reason": "The <b>factory</b> was closed."}
    change_delivery(house.office, house.project, tile.id, tile.version, late, at("2026-12-02T07:00"))
    text = page_of(house).fold("Why the end moved")
    assert "Splash tile comes later. “The <b>factory</b> was closed.”" in text
    assert text.index("In all") < text.index("Wed Dec 2:")
