"""What moved the finish: each move by its cause, and all of them exactly the difference."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.moves.replay import (
    ANSWER,
    DELIVERY,
    PLAN,
    STOP,
    TIME,
    VISIT,
    WORK,
    Cause,
    Change,
    Move,
    Replay,
    done_day,
    joined,
    replayed,
)
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import DONE, STOPPED, UNDER_WAY, Decision, Delivery, Phase, Plan, Predecessor, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of
from tests.planning.moves.histories import histories

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
MONDAY = "2026-12-07 08:00"
LONGER = Cause(PLAN, "plan_changed", ("phase 1",))


def december(*days: int) -> list[date]:
    return [date(2026, 12, day) for day in days]


def told(moves: list[Move]) -> list[tuple[int, int, str, tuple[str, ...]]]:
    """Day of December, days moved, what happened, about what."""
    return [(move.day.day, move.days, move.cause.did, move.cause.about) for move in moves]


def forks(one: int, two: int) -> Plan:
    """Phases 1 and 2, of so many days, side by side, and phase 3 of two days after both."""
    return plan_of(CREW, MONDAY, [phase(1, one * DAY), phase(2, two * DAY), phase(3, 2 * DAY, [1, 2])])


@pytest.mark.parametrize(("order", "moved"), [
    ([(5, 4), (5, 6)], [1, 1]),
    ([(2, 6), (5, 6)], [2]),
])  # fmt: skip
def test_two_causes_on_one_day_are_counted_in_their_order(order: list[tuple[int, int]], moved: list[int]) -> None:
    """Worked by hand: two and four days side by side, then two more: Mon Dec 14. The short one takes five (its float
    of two days is used up, and a day more), the long one six: two days later, Wed Dec 16, in either order. To compare
    the schedule before and after each change, in the order in which they came, is the contemporaneous way of delay
    analysis (windows analysis, AACE International Recommended Practice 29R-03, from memory)."""
    start = forks(2, 4)
    changes = [Change(start.starts, forks(*days), Cause(PLAN, f"{days}")) for days in order]
    end, moves = replayed(start, start.starts, changes, start.starts)
    assert done_day(start, start.starts) == date(2026, 12, 14)
    assert [move.days for move in moves] == moved
    assert end.finish == date(2026, 12, 16) and {move.day for move in moves} == set(december(7))


def test_a_day_on_which_nothing_begins_moves_the_finish_and_a_weekend_does_not() -> None:
    """Worked by hand: one day of work, free since Thu Dec 10, and nobody begins until Sun Dec 13."""
    plan = plan_of(CREW, "2026-12-10 08:00", [phase(1, DAY)])
    _, moves = replayed(plan, plan.starts, [], at(CREW, "2026-12-13 20:00"))
    assert told(moves) == [(10, 1, "not_started", ("phase 1",)), (11, 3, "not_started", ("phase 1",))]
    assert [move.after for move in moves] == december(11, 14)


def test_each_working_day_without_an_answer_is_put_down_to_it_and_the_answer_itself_moves_nothing() -> None:
    """Worked by hand: a day of work, on the day after the answer. Answered on Wed Dec 9 it is done on Thu Dec 10."""
    plan = plan_of(CREW, MONDAY, [phase(1, DAY, held_by=(7,))], decisions=(Decision(7, 4),))
    answered = replace(plan, decisions=(Decision(7, 4, open=False, answered=date(2026, 12, 9)),))
    change = Change(at(CREW, "2026-12-09 19:00"), answered, Cause(ANSWER, "approved", ("4",)))
    end, moves = replayed(plan, plan.starts, [change], at(CREW, "2026-12-10 07:00"))
    assert told(moves) == [(7, 1, "not_answered", ("4",)), (8, 1, "not_answered", ("4",))]
    assert end.finish == date(2026, 12, 10) and {move.cause.kind for move in moves} == {ANSWER}


def test_a_delivery_that_is_put_off_and_then_does_not_come_moves_the_finish_for_each_day() -> None:
    """Worked by hand: tile on Tue Dec 8, a day of work after it: Wed Dec 9. Put off to Thu Dec 10: Fri Dec 11. On
    Thursday it does not come, and may on Friday: Mon Dec 14. What comes on Saturday instead moves nothing."""
    def coming(day: int) -> Plan:
        when = date(2026, 12, day)
        return plan_of(CREW, MONDAY, [phase(1, DAY)], deliveries=(Delivery(1, (1,), when, when, when, item="Tile"),))

    late = Cause(DELIVERY, "delivery_changed", ("Tile",), "The factory was closed.")
    change = Change(at(CREW, "2026-12-08 10:00"), coming(10), late)
    _, moves = replayed(coming(8), at(CREW, MONDAY), [change], at(CREW, "2026-12-12 09:00"))
    assert told(moves) == [(8, 2, "delivery_changed", ("Tile",)), (10, 3, "not_come", ("Tile",))]
    assert moves[0].cause.reason == "The factory was closed." and moves[0].after == date(2026, 12, 11)


def test_work_that_takes_longer_than_planned_moves_the_finish_day_by_day() -> None:
    """A day of work begun on Mon Dec 7, at eight; still under way on Wednesday morning."""
    plan = plan_of(CREW, MONDAY, [phase(1, DAY, state=UNDER_WAY, started=at(CREW, MONDAY))])
    _, moves = replayed(plan, plan.starts, [], at(CREW, "2026-12-09 07:00"))
    assert told(moves) == [(7, 1, "took_longer", ("phase 1",)), (8, 1, "took_longer", ("phase 1",))]
    assert {move.cause.kind for move in moves} == {WORK}


def test_work_that_rests_without_a_known_end_moves_the_finish_day_by_day() -> None:
    begun, stopped = at(CREW, MONDAY), at(CREW, "2026-12-07 12:00")
    resting = phase(1, 2 * DAY, state=STOPPED, started=begun, stopped_at=stopped)
    plan = plan_of(CREW, MONDAY, [phase(1, 2 * DAY, state=UNDER_WAY, started=begun)])
    change = Change(stopped, replace(plan, phases=(resting,)), Cause(STOP, "stopped", ("phase 1",), "Rain"))
    _, moves = replayed(plan, begun, [change], at(CREW, "2026-12-09 07:00"))
    assert told(moves) == [(7, 1, "rested", ("phase 1",)), (8, 1, "rested", ("phase 1",))]


def test_a_visit_that_is_over_without_its_work_is_no_longer_waited_for() -> None:
    """The crew is booked for Thursday, two hours; nobody begins. A later visit is booked for the next Tuesday."""
    visits = (
        Visit(1, "Tile setter", at(CREW, "2026-12-10 08:00"), at(CREW, "2026-12-10 10:00"), 1),
        Visit(2, "Tile setter", at(CREW, "2026-12-15 08:00"), at(CREW, "2026-12-15 10:00"), 1),
    )
    plan = plan_of(CREW, MONDAY, [phase(1, 120)], visits=visits)
    _, moves = replayed(plan, plan.starts, [], at(CREW, "2026-12-11 07:00"))
    assert [(move.days, move.after) for move in moves] == [(5, date(2026, 12, 15))]
    only = replace(plan, visits=visits[1:])
    _, sooner = replayed(only, plan.starts, [], at(CREW, "2026-12-16 07:00"))
    assert told(sooner) == [(15, 1, "not_started", ("phase 1",))]


def test_finished_work_moves_nothing_any_more() -> None:
    done = phase(1, DAY, state=DONE, started=at(CREW, MONDAY), finished=at(CREW, "2026-12-07 15:00"))
    plan = plan_of(CREW, MONDAY, [done])
    end, moves = replayed(plan, at(CREW, "2026-12-07 15:00"), [], at(CREW, "2027-12-07 15:00"))
    assert moves == [] and end.finish == date(2026, 12, 7)


def test_moves_for_the_same_cause_on_one_day_become_one_and_those_that_cancel_out_none() -> None:
    one, two, three = december(14, 16, 15)
    day = date(2026, 12, 7)
    again = Cause(PLAN, "plan_changed", ("phase 2",))
    assert joined([Move(day, one, two, LONGER), Move(day, two, three, again)]) == [
        Move(day, one, three, Cause(PLAN, "plan_changed", ("phase 1", "phase 2")))
    ]
    assert joined([Move(day, one, two, LONGER), Move(day, two, one, again)]) == []
    other = Cause(PLAN, "plan_changed", ("phase 2",), "for the stone")
    assert len(joined([Move(day, one, two, LONGER), Move(day, two, three, other)])) == 2


def test_a_plan_that_can_not_be_computed_moves_nothing_and_the_next_is_compared_with_the_last_that_could() -> None:
    start = forks(2, 4)
    loop = replace(start, phases=(
        replace(start.phases[0], after=(Predecessor(2),)), replace(start.phases[1], after=(Predecessor(1),)),
        start.phases[2],
    ))  # fmt: skip
    changes = [Change(start.starts, loop, LONGER), Change(start.starts, forks(5, 4), LONGER)]
    _, moves = replayed(start, start.starts, changes, start.starts)
    assert [(move.before, move.after) for move in moves] == [tuple(december(14, 15))]


@given(history=histories())
@settings(max_examples=150, deadline=None)
def test_the_moves_add_up_exactly_to_the_difference(history: tuple[Plan, list[Change], int]) -> None:
    start, changes, now = history
    end, moves = replayed(start, start.starts, changes, now)
    last = changes[-1].plan if changes else start
    first = done_day(start, start.starts)
    assert first is not None and end.finish is not None
    assert sum(move.days for move in moves) == (end.finish - first).days
    booked = as_booked(schedule(last, now))
    assert end.finish == last.calendar.day_of(booked.finish - 1)
    assert all(one.after == two.before and one.day <= two.day for one, two in pairwise(moves))
    assert all(move.days for move in moves) and (not moves or moves[0].before == first)


@given(history=histories())
@settings(max_examples=60, deadline=None)
def test_a_move_by_the_clock_names_something_that_was_so(history: tuple[Plan, list[Change], int]) -> None:
    """Without any change, what moves the finish later is never put down to time alone."""
    start, changes, now = history
    plan = changes[-1].plan if changes else start
    _, moves = replayed(plan, changes[-1].at if changes else start.starts, [], now + 5_000)
    for move in moves:
        assert move.cause.kind != TIME
        assert (move.cause.kind == VISIT) == (move.days < 0)


@given(history=histories(), cut=st.integers(0, 12))
@settings(max_examples=60, deadline=None)
def test_a_replay_that_is_taken_up_again_gives_the_same(history: tuple[Plan, list[Change], int], cut: int) -> None:
    """What is kept of a replay is its plan, its moment and its day of the finish."""
    start, changes, now = history
    end, moves = replayed(start, start.starts, changes, now)
    half = Replay(start, start.starts)
    found = [move for change in changes[:cut] for move in half.become(change)]
    again = Replay(half.plan, half.at, half.finish)
    found += [move for change in changes[cut:] for move in again.become(change)]
    found += again.pass_to(now)
    assert joined(found) == moves and again.finish == end.finish


def test_the_phase_that_is_named_is_where_the_longest_chain_begins() -> None:
    """Phase 3 ends last, after 1 and 2; of these the second is longer, and it is the one that nobody begins."""
    _, moves = replayed(forks(2, 4), at(CREW, MONDAY), [], at(CREW, "2026-12-08 07:00"))
    assert told(moves) == [(7, 1, "not_started", ("phase 2",))]
    held = Phase(1, "phase 1", 5 * DAY, 5 * DAY, 5 * DAY, held_by=(7,))
    plan = replace(forks(5, 4), decisions=(Decision(7, 2),))
    plan = replace(plan, phases=(held, *plan.phases[1:]))
    _, moves = replayed(plan, at(CREW, MONDAY), [], at(CREW, "2026-12-08 07:00"))
    assert told(moves) == [(7, 1, "not_answered", ("2",))]
