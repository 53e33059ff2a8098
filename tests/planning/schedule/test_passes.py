"""The two passes by themselves: early and late dates by position."""

import pytest

from portal.planning.schedule.passes import Dates, backward, forward, last_moment
from portal.planning.schedule.plan import Phase, Plan
from portal.planning.schedule.ready_times import ready_times
from tests.planning.homes import CREW
from tests.planning.houses import DAY, at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)
WEEK = [
    phase(1, DAY),  # Tuesday
    phase(2, 240, [1]),  # Wednesday morning
    phase(3, 0, [(2, 24 * 60)]),  # cured on Thursday at noon
    phase(4, 60, [(3, 30)]),  # half an hour later
    phase(5, 120, [1]),  # beside them
]


def plan(*phases: Phase) -> Plan:
    return plan_of(CREW, START, phases)


def early_of(made: Plan) -> Dates:
    return forward(made, ready_times(made, EIGHT))


def spans(dates: Dates) -> list[tuple[str, str]]:
    """From when to when each phase goes."""
    return [(says(CREW, dates.starts_at(i))[8:], says(CREW, dates.finishes_at(i))[8:]) for i in range(len(dates.start))]


def by_id(made: Plan, dates: Dates) -> dict[int, tuple[str, str]]:
    return dict(zip(made.network.ids, spans(dates), strict=True))


def test_forward_each_starts_when_all_that_it_follows_is_over() -> None:
    made = plan(*WEEK)
    assert by_id(made, early_of(made)) == {
        1: ("01 08:00", "01 16:30"), 2: ("02 08:00", "02 12:00"), 3: ("03 12:00", "03 12:00"),
        4: ("03 12:30", "03 13:30"), 5: ("02 08:00", "02 10:00"),
    }


def test_backward_each_is_as_late_as_keeps_the_end() -> None:
    """The end is Thu 1:30 pm, so the wait begins at noon, and the cure before it on Wednesday at noon; phase 5 has
    until the end."""
    made = plan(*WEEK)
    end = last_moment(made, early_of(made), EIGHT)
    assert says(CREW, end) == "2026-12-03 13:30"
    assert by_id(made, backward(made, end)) == {
        1: ("01 08:00", "01 16:30"), 2: ("02 08:00", "02 12:00"), 3: ("03 12:00", "03 12:00"),
        4: ("03 12:30", "03 13:30"), 5: ("03 11:30", "03 13:30"),
    }


def test_a_later_end_leaves_as_much_more_time() -> None:
    """By the end of Friday there are 180 and 510 minutes more; the cure is over by the clock, whatever crews do."""
    made = plan(*WEEK)
    late = by_id(made, backward(made, at(CREW, "2026-12-04 16:30")))
    assert late[4] == ("04 15:30", "04 16:30")
    assert late[3] == ("04 15:00", "04 15:00")
    assert late[2] == ("03 11:00", "03 15:00")
    assert late[1] == ("02 11:00", "03 11:00")
    assert late[5] == ("04 14:30", "04 16:30")


def test_the_last_of_several_ends_counts_by_crew_or_by_clock() -> None:
    crew = plan(phase(1, 0, not_before=at(CREW, "2026-12-01 10:00")), phase(2, DAY))
    assert says(CREW, last_moment(crew, early_of(crew), EIGHT)) == "2026-12-01 16:30"
    clock = plan(phase(1, 0, not_before=at(CREW, "2026-12-05 23:00")), phase(2, DAY))
    assert says(CREW, last_moment(clock, early_of(clock), EIGHT)) == "2026-12-05 23:00"


@pytest.mark.parametrize(("now", "last"), [("2026-11-20 12:00", START), ("2026-12-24 12:00", "2026-12-24 12:00")])
def test_a_plan_without_phases_ends_when_it_starts_or_now(now: str, last: str) -> None:
    nothing = plan()
    assert says(CREW, last_moment(nothing, early_of(nothing), at(CREW, now))) == last


def test_a_link_without_a_wait_lets_work_go_on_where_it_ended() -> None:
    dates = Dates.of(plan(phase(1, 60), phase(2, 60)))
    dates.put(0, CREW.work_before(EIGHT), CREW.work_before(EIGHT) + DAY)
    assert says(CREW, dates.finishes_at(0)) == "2026-12-01 16:30"
    assert dates.after(0, 0) == dates.finish[0]
    assert dates.before(0, 0) == dates.start[0]
    assert says(CREW, CREW.start_of(dates.after(0, 0))) == "2026-12-02 08:00"


def test_a_wait_is_counted_on_the_clock_from_the_minute_of_the_finish() -> None:
    dates = Dates.of(plan(phase(1, DAY)))
    dates.put(0, CREW.work_before(EIGHT), CREW.work_before(EIGHT) + DAY)
    assert says(CREW, CREW.start_of(dates.after(0, 16 * 60))) == "2026-12-02 08:30"
    assert says(CREW, CREW.finish_of(dates.before(0, 16 * 60))) == "2026-11-30 16:00"


def test_a_moment_may_lie_outside_of_working_hours() -> None:
    sunday = at(CREW, "2026-12-06 07:00")
    dates = Dates.of(plan(phase(1, 0)))
    dates.put_moment(0, sunday)
    assert dates.starts_at(0) == dates.finishes_at(0) == sunday
    assert dates.start == dates.finish == [CREW.work_before(sunday)]
    assert says(CREW, CREW.start_of(dates.after(0, 26 * 60))) == "2026-12-07 09:00"
