"""Until when a need-by date holds while nobody does anything."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.week import CalendarError
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule import valid_until as module
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import Decision, Phase, Visit
from portal.planning.schedule.valid_until import valid_until
from tests.planning.houses import CREW_WEEK, DAY, at, needed_by, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"
LONGEST = 36 * 60
HOLE = Decision(1, 1, 1, True, None)


def found(*phases: Phase, now: str = "2026-12-02 10:00", **more: object) -> Schedule:
    return schedule(plan_of(CREW, START, phases, decisions=(HOLE,), **more), at(CREW, now))


def until(of: Schedule) -> str:
    return says(CREW, valid_until(of, LONGEST))


def needed(of: Schedule, now: int) -> date | None:
    return needed_by(schedule(of.plan, now), 1)


def test_what_has_not_begun_waits_for_nobodys_clock() -> None:
    assert until(found(phase(1, DAY), phase(2, 60, [1], held_by=(1,)))) == "2026-12-03 22:00"


def test_work_that_goes_as_expected_moves_nothing() -> None:
    under_way = phase(1, 3 * DAY, state="under_way", started=at(CREW, START))
    assert until(found(under_way, phase(2, 60, [1], held_by=(1,)))) == "2026-12-03 22:00"


def test_work_that_should_be_over_moves_the_date_when_the_crew_has_gone_home() -> None:
    over = phase(1, 60, state="under_way", started=at(CREW, START))
    of = found(over, phase(2, 60, [1], held_by=(1,)))
    assert needed(of, of.now) == date(2026, 12, 1)
    assert until(of) == "2026-12-02 16:29"
    assert needed(of, at(CREW, "2026-12-02 16:28")) == date(2026, 12, 1)
    assert needed(of, at(CREW, "2026-12-02 16:29")) == date(2026, 12, 2)


def test_a_visit_holds_the_date_until_it_is_over() -> None:
    visit = Visit(1, "", at(CREW, "2026-12-02 08:00"), at(CREW, "2026-12-02 12:00"), 2, 1)
    of = found(phase(1, 60), phase(2, 60, [1], held_by=(1,)), visits=(visit,))
    assert until(of) == "2026-12-02 12:00"


def test_an_answered_decision_counts_no_more() -> None:
    over = phase(1, 60, state="under_way", started=at(CREW, START))
    answered = Decision(1, 1, 1, False, None)
    plan = plan_of(CREW, START, [over, phase(2, 60, [1], held_by=(1,))], decisions=(answered,))
    assert until(schedule(plan, at(CREW, "2026-12-02 10:00"))) == "2026-12-03 22:00"


def test_a_plan_that_can_not_be_computed_later_holds_until_then(monkeypatch: pytest.MonkeyPatch) -> None:
    of = found(phase(1, DAY), phase(2, 60, [1], held_by=(1,)))
    really, end = module.answer_dates, at(CREW, "2026-12-02 13:00")

    def refuses(plan: object, now: int, late_start: object) -> object:
        if now >= end:
            raise CalendarError("week", "It ends nowhere.")
        return really(plan, now, late_start)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "answer_dates", refuses)
    assert until(of) == "2026-12-02 13:00"


@settings(max_examples=60, deadline=None)
@given(
    now=st.integers(0, 4 * 24 * 60), work=st.integers(1, 3 * DAY), remaining=st.none() | st.integers(0, DAY),
    state=st.sampled_from(["waiting", "under_way", "stopped", "inspection"]), wait=st.integers(0, 30 * 60),
    visits=st.lists(st.tuples(st.integers(0, 5 * 24 * 60), st.integers(30, 600)), max_size=3), data=st.data(),
)
def test_before_that_moment_no_date_differs_and_at_it_one_does(
    now: int, work: int, remaining: int | None, state: str, wait: int, visits: list[tuple[int, int]],
    data: st.DataObject,
) -> None:
    start = at(CREW, START)
    begun = {} if state == "waiting" else {"state": state, "started": start, "remaining": remaining}
    begun |= {"stopped_at": start + 60} if state == "stopped" else {}
    first, held = phase(1, work, **begun), phase(2, 60, [(1, wait)], held_by=(1,))
    booked = tuple(
        Visit(i, "", start + at_, start + at_ + long, 2, 1) for i, (at_, long) in enumerate(visits, 1)
    )
    of = schedule(plan_of(CREW, START, (first, held), decisions=(HOLE,), visits=booked), start + now)
    end = valid_until(of, LONGEST)
    assert of.now < end <= of.now + LONGEST
    between = data.draw(st.lists(st.integers(of.now, end - 1), min_size=5, max_size=5))
    assert {needed(of, moment) for moment in [*between, end - 1]} == {needed_by(of, 1)}
    over = {visit.ends for visit in booked}
    assert end == of.now + LONGEST or end in over or needed(of, end) != needed_by(of, 1)


def test_a_visit_that_is_just_over_bounds_nothing() -> None:
    plain = found(phase(1, 60), phase(2, 60, [1], held_by=(1,)))
    visit = Visit(1, "", plain.now - 60, plain.now, 1, 1)
    of = found(phase(1, 60), phase(2, 60, [1], held_by=(1,)), visits=(visit,))
    assert of.now == visit.ends
    assert until(of) == until(found(phase(1, 60), phase(2, 60, [1], held_by=(1,))))


def test_a_visit_of_work_that_no_decision_holds_bounds_all_the_same() -> None:
    """It is cautious: what holds longer is only computed once more."""
    plain = found(phase(1, 60), phase(2, 60, [1], held_by=(1,)))
    visit = Visit(1, "", plain.now, plain.now + 45, 1, 1)
    of = found(phase(1, 60), phase(2, 60, [1], held_by=(1,)), visits=(visit,))
    assert until(plain) > until(of) == says(CREW, plain.now + 45)
