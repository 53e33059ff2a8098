"""From when each phase is free to go on, apart from what it follows."""

from datetime import date

import pytest

from portal.planning.schedule.plan import DONE, INSPECTION, STOPPED, UNDER_WAY, Decision, Delivery, Phase, Plan
from portal.planning.schedule.ready_times import (
    at_hand,
    held_until,
    lead_over,
    ready_times,
    ready_times_if_answered,
    ready_times_unhindered,
    remaining_work,
    worked,
)
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday
NOW = "2026-12-02 10:00"
EIGHT, TEN = at(CREW, START), at(CREW, NOW)


def plan(*phases: Phase, **more: object) -> Plan:
    return plan_of(CREW, START, phases, **more)


def ready(*phases: Phase, now: str = NOW, **more: object) -> list[str]:
    return [says(CREW, moment) for moment in ready_times(plan(*phases, **more), at(CREW, now)).moments]


def test_nothing_that_has_not_begun_is_ready_in_the_past() -> None:
    assert ready(phase(1, 60)) == [NOW]
    assert ready(phase(1, 60), now="2026-11-20 10:00") == [START]


def test_a_resting_job_is_ready_when_it_goes_on() -> None:
    assert ready(phase(1, 60), resumes_at=at(CREW, "2026-12-08 07:00")) == ["2026-12-08 07:00"]
    assert ready(phase(1, 60), resumes_at=EIGHT) == [NOW], "over by now"


def test_the_latest_of_all_bounds_counts() -> None:
    """The date set is Thursday, the tile comes on Friday, the answer of today lets work start on Monday."""
    held = phase(1, 60, not_before=at(CREW, "2026-12-03 09:00"), held_by=(7,))
    tile = Delivery(1, (1,), *[date(2026, 12, 4)] * 3)
    assert ready(held) == ["2026-12-03 09:00"]
    assert ready(held, deliveries=(tile,)) == ["2026-12-05 00:00"]
    assert ready(held, deliveries=(tile,), decisions=(Decision(7, 1, 3),)) == ["2026-12-07 00:00"]


def test_an_answer_keeps_its_lead() -> None:
    held = phase(1, 60, held_by=(7,))
    monday = Decision(7, 1, 3, open=False, answered=date(2026, 11, 30))
    assert ready(held, decisions=(monday,)) == ["2026-12-03 00:00"]
    assert {n: says(CREW, over) for n, over in lead_over(plan(held, decisions=(monday,))).items()} == {
        7: "2026-12-03 00:00"
    }


def test_a_released_phase_waits_for_no_answer() -> None:
    free = phase(1, 60, held_by=(7,), released=(7,))
    assert ready(free, decisions=(Decision(7, 1, 3),)) == [NOW]


def test_what_is_under_way_is_finished_when_its_remainder_is_worked() -> None:
    """A day of 8 1/2 hours started on Tuesday at 8: by Wednesday at 10 it is long over, so a minute is left."""
    part = phase(1, 2 * DAY, state=UNDER_WAY, started=EIGHT)
    assert ready(part) == ["2026-12-02 16:30"]
    over = phase(1, DAY, state=UNDER_WAY, started=EIGHT)
    assert ready(over) == ["2026-12-02 10:01"]
    told = phase(1, DAY, state=UNDER_WAY, started=EIGHT, remaining=45)
    assert ready(told) == ["2026-12-02 10:45"]
    assert ready(told, resumes_at=at(CREW, "2026-12-03 09:00")) == ["2026-12-03 09:45"]


def test_what_is_stopped_goes_on_when_it_is_said_to() -> None:
    stopped = phase(1, DAY, state=STOPPED, started=EIGHT, stopped_at=EIGHT + 120, resumes_at=TEN + 60)
    assert ready(stopped) == ["2026-12-03 09:00"], "390 minutes from 11:00: 330 until 4:30 pm, 60 the next morning"
    gone_on = phase(1, DAY, state=UNDER_WAY, started=EIGHT, remaining=30, resumes_at=TEN + 60)
    assert ready(gone_on) == ["2026-12-02 10:30"], "the date is of the stop that is over"


def test_what_is_done_or_inspected_stands_at_its_moment() -> None:
    done = phase(1, DAY, state=DONE, started=EIGHT, finished=EIGHT + 99)
    assert ready(done) == ["2026-12-01 09:39"]
    booked = phase(1, DAY, state=INSPECTION, started=EIGHT, inspection_at=TEN + 15)
    assert ready(booked) == ["2026-12-02 10:15"]
    assert ready(booked, now="2026-12-03 10:00") == ["2026-12-03 10:00"]
    assert ready(phase(1, DAY, state=INSPECTION, started=EIGHT)) == [NOW]


def test_work_coordinates_are_those_of_the_moments() -> None:
    found = ready_times(plan(phase(1, 60, not_before=at(CREW, "2026-12-05 12:00")), phase(2, 60)), TEN)
    assert found.work == [CREW.work_before(moment) for moment in found.moments]
    assert found.work[0] - found.work[1] == 390 + 2 * DAY, "from Wednesday at 10 to the weekend"


def test_unhindered_there_is_every_answer_and_no_day_was_lost() -> None:
    held = phase(1, 60, held_by=(7,))
    late = Delivery(1, (2,), *[date(2026, 12, 1)] * 3)
    decisions = (Decision(7, 1, 3),)
    made = plan(held, phase(2, 60), decisions=decisions, deliveries=(late,))
    assert [says(CREW, moment) for moment in ready_times_unhindered(made, TEN).moments] == [
        START, "2026-12-02 00:00",  # the day after the one on which it was expected
    ]
    assert [says(CREW, moment) for moment in ready_times(made, TEN).moments] == ["2026-12-07 00:00", "2026-12-03 00:00"]


def test_unhindered_the_lead_of_an_answer_stays() -> None:
    answered = Decision(7, 1, 3, open=False, answered=date(2026, 12, 1))
    made = plan(phase(1, 60, held_by=(7,)), decisions=(answered,))
    assert says(CREW, ready_times_unhindered(made, TEN).moments[0]) == "2026-12-04 00:00"


def test_an_answer_on_another_day_moves_only_what_it_holds() -> None:
    decisions = (Decision(7, 1, 1), Decision(8, 2, 1))
    made = plan(phase(1, 60, held_by=(7,)), phase(2, 60, held_by=(8,)), phase(3, 60), decisions=decisions)
    today = ready_times(made, TEN)
    friday = ready_times_if_answered(made, today, 7, date(2026, 12, 4))
    assert [says(CREW, moment) for moment in friday.moments] == ["2026-12-07 00:00", "2026-12-03 00:00", NOW]
    assert friday.work == [CREW.work_before(moment) for moment in friday.moments]
    assert today.moments[0] == at(CREW, "2026-12-03 00:00"), "what was given is not changed"


def test_an_answer_before_another_bound_moves_nothing() -> None:
    late = phase(1, 60, held_by=(7,), not_before=at(CREW, "2026-12-21 00:00"))
    made = plan(late, decisions=(Decision(7, 1, 1),))
    today = ready_times(made, TEN)
    assert ready_times_if_answered(made, today, 7, date(2026, 12, 4)) == today


@pytest.mark.parametrize(
    ("more", "minutes"),
    [
        ({}, DAY + 120),
        ({"rested": 100}, DAY + 20),
        ({"rested": 9_999}, 0),
        ({"state": STOPPED, "stopped_at": EIGHT + 50}, 50),
        ({"state": STOPPED, "stopped_at": EIGHT + 50, "rested": 20}, 30),
        ({"stopped_at": EIGHT + 50}, DAY + 120),  # it has gone on since
    ],
)
def test_what_was_worked_is_work_time_without_the_rests(more: dict[str, object], minutes: int) -> None:
    begun = phase(1, 3 * DAY, **{"state": UNDER_WAY, "started": EIGHT, **more})
    assert worked(plan(begun), begun, TEN) == minutes
    assert remaining_work(plan(begun), begun, TEN) == 3 * DAY - minutes


def test_what_was_told_to_remain_wins_even_when_it_is_nothing() -> None:
    told = phase(1, 3 * DAY, state=UNDER_WAY, started=EIGHT, remaining=0)
    assert remaining_work(plan(told), told, TEN) == 0
    long = phase(1, 60, state=UNDER_WAY, started=EIGHT)
    assert remaining_work(plan(long), long, TEN) == 0


def test_open_decisions_hold_as_if_answered_today() -> None:
    made = plan(phase(1, 60), decisions=(Decision(7, 1, 0), Decision(8, 2, 2), Decision(9, 3, 2, open=False)))
    friday = date(2026, 12, 4)
    assert {n: says(CREW, until) for n, until in held_until(made, friday).items()} == {
        7: "2026-12-04 00:00", 8: "2026-12-08 00:00",
    }


def test_a_delivery_is_at_hand_after_its_day_or_today() -> None:
    made = plan(phase(1, 60))
    coming = Delivery(1, (1,), date(2026, 12, 2), date(2026, 12, 3), date(2026, 12, 9))
    assert says(CREW, at_hand(made, coming, date(2026, 12, 1))) == "2026-12-04 00:00"
    assert says(CREW, at_hand(made, coming, date(2026, 12, 3))) == "2026-12-04 00:00"
    assert says(CREW, at_hand(made, coming, date(2026, 12, 4))) == "2026-12-05 00:00"
    arrived = Delivery(1, (1,), *[date(2026, 12, 9)] * 3, arrived=EIGHT)
    assert at_hand(made, arrived, date(2026, 12, 20)) == EIGHT
