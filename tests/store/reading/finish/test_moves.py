"""What moved the finish, from the record: for any history exactly the difference, and the same whenever it is read."""

from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random

import pytest

from portal.acts.firm.ending import close_house, open_house
from portal.acts.firm.projects import change_project
from portal.acts.plan import starting, taking_back
from portal.acts.plan.phases import change_phase
from portal.acts.visiting.deliveries import change_delivery, order_delivery
from portal.pages.finish.moved import why_words
from portal.planning.moves.replay import DELIVERY, PLAN, Move
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.store import tables
from portal.store.engine.database import close_database, write
from portal.store.facts import Snapshot
from portal.store.reading.finish import moves as finish_moves
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.finish.told_causes import NOT_ASKED_AGAIN, UNTOLD
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at, make_house
from tests.household import CALENDAR
from tests.store.reading.finish.random_acts import ACTS, act


def read(house: House, now: int) -> tuple[Snapshot, Schedule, MovedFinish]:
    snapshot = read_snapshot(house.project)
    pure = schedule_of(snapshot, now)
    return snapshot, pure, moved_finish(snapshot, pure)


def day_of_finish(pure: Schedule) -> date:
    return pure.plan.calendar.day_of(as_booked(pure).finish - 1)


def last(house: House, now: int) -> Move:
    return read(house, now)[2].moves[-1]


def begin(house: House, now: int = NOW) -> None:
    """The first entry of the house, which tells all rows."""
    note = tables.Phase.get_by_id(house.phases["walk"])
    change_phase(house.manager, house.project, note.id, note.version, {"note": "With both owners"}, now)


def test_an_order_moves_it_on_the_day_on_which_the_plan_was_laid_down_too(house: House) -> None:
    begin(house)
    first = read(house, NOW)[2].first
    order_delivery(house.manager, house.project, {
        "item": "Hood", "expected_on": date(2027, 3, 1), "phases": [house.phases["walk"]]}, NOW + 60)
    _, pure, moved = read(house, NOW + 120)
    assert moved.first == first and sum(one.days for one in moved.moves) == (day_of_finish(pure) - moved.first).days > 0
    assert [(one.cause.did, one.cause.about) for one in moved.moves] == [("delivery_ordered", ("Hood",))]


@pytest.mark.parametrize("seed", range(12))
def test_for_random_acts_the_moves_add_up_exactly_and_are_the_same_read_at_once_or_bit_by_bit(
    tmp_path: Path, seed: int
) -> None:
    luck, house, now = Random(seed), make_house(tmp_path / "house.db"), NOW
    begin(house)
    for _ in range(25):
        now += luck.choice([0, 60, 3_600, 40_000, 90_000, 300_000])
        act(house, luck, now)
        _, pure, moved = read(house, now)
        assert moved.first is not None
        assert sum(one.days for one in moved.moves) == (day_of_finish(pure) - moved.first).days
        assert UNTOLD not in {one.cause for one in moved.moves}, "the record tells the plan as it stands"
        if luck.random() < 0.5:
            finish_moves.keep(moved)
    bit_by_bit = read(house, now)[2]
    with write():
        tables.FinishMoves.delete().execute()
    at_once = read(house, now)[2]
    assert replace(bit_by_bit, to_keep=None) == replace(at_once, to_keep=None)
    close_database()


def test_the_random_acts_are_not_all_refused(tmp_path: Path) -> None:
    """Else the test above would try nothing."""
    luck, now, did = Random(7), NOW, Counter[str]()
    house = make_house(tmp_path / "house.db")
    for _ in range(300):
        now += luck.choice([60, 3_600, 40_000])
        did[act(house, luck, now)] += 1
    close_database()
    done = {name for name in did if ":" not in name}
    assert len(done) > 0.8 * len({one.__name__ for one in ACTS}), did


def test_a_delivery_that_is_put_off_moves_the_finish_for_the_reason_that_was_typed(house: House) -> None:
    begin(house)
    tile = tables.Delivery.get_by_id(house.deliveries["tile"])
    day = date(2026, 12, 24)
    values = {"expected_on": day, "expected_high": day, "reason": "The factory was closed."}
    change_delivery(house.office, house.project, tile.id, tile.version, values, at("2026-12-03T10:00"))
    _, pure, moved = read(house, at("2026-12-03T10:00"))
    found = moved.moves[-1]
    assert (found.day, found.after) == (date(2026, 12, 3), day_of_finish(pure))
    assert (found.cause.kind, found.cause.did, found.cause.about) == (DELIVERY, "delivery_moved", ("Splash tile",))
    assert found.cause.reason == "The factory was closed." and found.days > 7


def test_what_is_changed_on_the_first_day_moves_nothing(house: House) -> None:
    begin(house)
    walk = tables.Phase.get_by_id(house.phases["walk"])
    work = {"work_low": 5_100, "work_likely": 5_100, "work_high": 5_100}
    change_phase(house.manager, house.project, walk.id, walk.version, work, NOW + 60)
    _, pure, moved = read(house, NOW + 120)
    assert (moved.since, moved.first, moved.moves) == (date(2026, 12, 2), day_of_finish(pure), ())


def test_a_house_without_a_told_plan_has_no_first_finish(house: House) -> None:
    moved = read(house, NOW)[2]
    assert (moved.since, moved.first, moved.moves) == (None, None, ())


def test_a_calendar_that_is_replaced_is_told_and_the_days_before_are_reckoned_by_the_old_one(house: House) -> None:
    begin(house)
    later = at("2026-12-04T10:00")
    before = read(house, later)
    off = CALENDAR | {"days_off": ["2026-12-08", "2026-12-09"]}
    version = tables.Project.get_by_id(house.project).version
    change_project(house.office, house.project, version, {"calendar": off}, later)
    _, pure, after = read(house, later)
    assert after.moves[:len(before[2].moves)] == before[2].moves
    (move,) = after.moves[len(before[2].moves):]
    assert (move.cause.kind, move.cause.did) == (PLAN, "project_changed")
    assert (move.before, move.after) == (day_of_finish(before[1]), day_of_finish(pure))


def test_rows_that_were_changed_past_the_record_are_said_to_be_so(house: House) -> None:
    begin(house)
    tables.Phase.update(work_low=5_100, work_likely=5_100, work_high=5_100).where(
        tables.Phase.id == house.phases["walk"]
    ).execute()
    _, pure, moved = read(house, NOW + 60)
    assert moved.first is not None and moved.moves[-1].cause == UNTOLD
    assert moved.moves[-1].after == day_of_finish(pure)


def test_a_page_of_words_alone_replays_nothing(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    begin(house)
    finish_moves.keep(read(house, NOW)[2])
    monkeypatch.setattr(finish_moves, "plan_told", lambda *_: pytest.fail("replayed"))
    moved = read(house, NOW + 60)[2]
    assert moved.to_keep is None and moved.first is not None


def test_what_is_kept_is_kept_once_and_read_back_as_it_was(house: House) -> None:
    begin(house)
    walk = tables.Phase.get_by_id(house.phases["walk"])
    work = {"work_low": 5_100, "work_likely": 5_100, "work_high": 5_100}
    change_phase(house.manager, house.project, walk.id, walk.version, work, NOW + 90_000)
    moved = read(house, NOW + 90_060)[2]
    assert moved.to_keep is not None and moved.moves
    finish_moves.keep(moved)
    again = read(house, NOW + 90_060)[2]
    assert again == replace(moved, to_keep=None)
    assert tables.FinishMoves.select().count() == 1


def long_walk(house: House) -> None:
    begin(house)
    walk = tables.Phase.get_by_id(house.phases["walk"])
    work = {"work_low": 2_400, "work_likely": 2_400, "work_high": 2_400}
    change_phase(house.manager, house.project, walk.id, walk.version, work, NOW + 60)


def test_a_slip_that_is_taken_back_on_its_day_has_moved_nothing(house: House) -> None:
    long_walk(house)
    day = NOW + 24 * 3_600
    before, ids = read(house, day)[2], (house.manager, house.project, house.phases["walk"])
    starting.start_phase(*ids, now=day)
    finish_moves.keep(read(house, day + 30)[2])
    assert len(read(house, day + 60)[2].moves) == len(before.moves) + 1
    taking_back.take_back_start(*ids, reason="The wrong row", now=day + 90)
    assert read(house, day + 120)[2].moves == before.moves


def test_a_mistake_that_stood_for_days_is_said_twice_and_adds_up(house: House) -> None:
    long_walk(house)
    day, ids = NOW + 24 * 3_600, (house.manager, house.project, house.phases["walk"])
    starting.start_phase(*ids, now=day)
    taking_back.take_back_start(*ids, reason="The wrong row", now=day + 2 * 24 * 3_600)
    snapshot, pure, moved = read(house, day + 2 * 24 * 3_600 + 60)
    assert {"started", "start_taken_back"} <= {one.cause.did for one in moved.moves}
    assert moved.first is not None
    assert sum(one.days for one in moved.moves) == (day_of_finish(pure) - moved.first).days
    words = "Taken back: “Walk through the work with you” has not begun. “The wrong row”"
    assert why_words(snapshot, moved.moves[-1]) == words


def test_nobody_can_answer_what_was_withdrawn_when_the_house_was_closed(house: House) -> None:
    """It is opened again after a week: the days since are not the household's, and all adds up."""
    begin(house)
    project, week = tables.Project, NOW + 7 * 24 * 3_600
    ids = (house.manager, house.project)
    close_house(*ids, project.get_by_id(house.project).version, reason="They move out.", now=NOW + 3_600)
    open_house(*ids, project.get_by_id(house.project).version, reason="They stay.", now=week)
    snapshot, pure, moved = read(house, week + 3 * 24 * 3_600)
    since = [one for one in moved.moves if one.day > date(2026, 12, 2)]
    assert {one.cause.did for one in since} == {NOT_ASKED_AGAIN}
    assert why_words(snapshot, since[-1]) == "We had not asked “Which grout color for the splash?” again."
    assert moved.first is not None
    assert sum(one.days for one in moved.moves) == (day_of_finish(pure) - moved.first).days > 5
