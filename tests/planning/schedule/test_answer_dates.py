"""By when a decision is needed: the latest answers that keep the booked dates, and the finish."""

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import Decision, Phase, Plan, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, needed_by, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def found(*phases: Phase, now: str = START, **more: object) -> Schedule:
    return schedule(plan_of(CREW, START, phases, **more), at(CREW, now))


def starts(of: Schedule, number: int) -> str:
    return says(CREW, of.of(number).early_start)


def held(visits: tuple[Visit, ...] = (), now: str = START, lead: int = 1, **decision: object) -> Schedule:
    """Phase 2 drills the top after two days of work, and decision 7 holds it; phase 3 goes on beside it."""
    phases = (phase(1, 2 * DAY), phase(2, 60, [1], held_by=(7,)), phase(3, 5 * DAY))
    return found(*phases, now=now, visits=visits, decisions=(Decision(7, 1, lead, **decision),))  # type: ignore[arg-type]


def test_an_open_decision_is_reckoned_with_as_if_answered_today() -> None:
    assert starts(held(), 2) == "2026-12-03 08:00"
    assert starts(held(lead=4), 2) == "2026-12-07 08:00"
    assert starts(held(lead=4, open=False), 2) == "2026-12-03 08:00"


def test_needed_by_is_the_lead_before_the_early_start() -> None:
    assert needed_by(held(), 7) == date(2026, 12, 2)
    assert needed_by(held(lead=0), 7) == date(2026, 12, 3)


def test_needed_by_looks_at_the_next_booked_visit() -> None:
    friday = Visit(1, "stone", at(CREW, "2026-12-04 08:00"), at(CREW, "2026-12-04 12:00"), phase=2)
    saturday = Visit(2, "stone", at(CREW, "2026-12-05 08:00"), at(CREW, "2026-12-05 12:00"), phase=2)
    assert needed_by(held((saturday, friday)), 7) == date(2026, 12, 3)
    assert needed_by(held((saturday,)), 7) == date(2026, 12, 3)
    assert needed_by(held((saturday, friday), now="2026-12-04 12:00"), 7) == date(2026, 12, 3)


def test_needed_by_does_not_run_away_as_days_pass() -> None:
    late = held(now="2026-12-07 09:00")
    assert needed_by(late, 7) == date(2026, 12, 2)
    assert late.decisions[0].overdue(date(2026, 12, 7))
    assert not late.decisions[0].overdue(date(2026, 12, 2))


def test_latest_by_keeps_the_finish() -> None:
    """Work on phase 3 ends on Mon Dec 7, 16:30; the drill takes an hour, so it may start that day."""
    assert held().decisions[0].latest_by == date(2026, 12, 4)


def test_a_released_or_approved_or_begun_phase_is_not_held() -> None:
    decisions = (Decision(7, 1, 4, asked_for=date(2026, 12, 2)),)
    released = found(phase(1, 60, held_by=(7,), released=(7,)), decisions=decisions)
    assert starts(released, 1) == START
    assert released.decisions[0].latest_by is None
    assert needed_by(released, 7) == date(2026, 12, 2)
    begun = found(phase(1, 60, held_by=(7,), state="under_way", started=at(CREW, START)), decisions=decisions)
    assert says(CREW, begun.finish) == "2026-12-01 09:00"


def test_a_decision_without_a_held_phase_has_the_date_it_was_asked_for() -> None:
    of = found(phase(1, 60), decisions=(Decision(7, 1), Decision(8, 2, asked_for=date(2026, 12, 9))))
    assert [(row.needed_by, row.latest_by) for row in of.decisions] == [(None, None), (date(2026, 12, 9), None)]


@given(work=st.integers(30, 3_000), lead=st.integers(0, 6), wait=st.integers(0, 6_000), delay=st.integers(0, 20))
@settings(max_examples=40, deadline=None)
def test_latest_by_is_the_exact_inverse_of_the_late_answer(work: int, lead: int, wait: int, delay: int) -> None:
    """An answer on that day moves the finish by nothing, an answer on the next day does (check-values 1.2)."""
    phases = (phase(1, work, held_by=(7,)), phase(2, 200, [(1, wait)]), phase(3, work + delay * DAY))

    def on(day: date) -> Schedule:
        plan = Plan(phases, CREW, at(CREW, START), decisions=(Decision(7, 1, lead),))
        morning = CREW.day_start(CREW.add_days(day, lead))
        free = Plan((phase(1, work, not_before=morning), *phases[1:]), CREW, plan.starts)
        return schedule(free, plan.starts)

    latest = schedule(Plan(phases, CREW, at(CREW, START), decisions=(Decision(7, 1, lead),)), at(CREW, START))
    by = latest.decisions[0].latest_by
    assert by is not None
    assert on(by).finish == latest.finish
    assert on(date.fromordinal(by.toordinal() + 1)).finish > latest.finish


def test_of_several_held_phases_the_first_needs_the_answer() -> None:
    """Decision 7 holds the template, which starts a day before the drill; 8 only the drill."""
    phases = (phase(1, DAY), phase(2, DAY, [1], held_by=(7,)), phase(3, 60, [2], held_by=(7, 8)))
    of = found(*phases, decisions=(Decision(8, 1, 1), Decision(7, 2, 1)))
    assert [row.decision for row in of.decisions] == [8, 7], "in the plan's order"
    assert needed_by(of, 7) == date(2026, 12, 1)
    assert needed_by(of, 8) == date(2026, 12, 2)
    assert of.decisions[1].latest_by == date(2026, 12, 1)


def test_the_lead_is_counted_in_working_days_before_the_start() -> None:
    """The drill starts on Thu Dec 3; four working days before it is the Friday before the weekend."""
    assert needed_by(held(lead=4), 7) == date(2026, 11, 27)


def test_a_phase_by_the_clock_is_needed_by_the_day_of_its_moment() -> None:
    """A cure that is over on Sat Dec 5, at 4:30 pm: an answer on Friday allows the Monday, one on Thursday the
    Friday."""
    of = found(phase(1, 4 * DAY), phase(2, 0, [(1, 24 * 60)], held_by=(7,)), decisions=(Decision(7, 1, 1),))
    assert starts(of, 2) == "2026-12-05 16:30"
    assert of.decisions[0].latest_by == of.decisions[0].needed_by == date(2026, 12, 3)


def test_a_visit_of_another_phase_or_one_that_is_over_says_nothing() -> None:
    other = Visit(1, "stone", at(CREW, "2026-12-09 08:00"), at(CREW, "2026-12-09 12:00"), phase=3)
    over = Visit(2, "stone", at(CREW, "2026-11-30 08:00"), at(CREW, "2026-11-30 12:00"), phase=2)
    assert needed_by(held((other, over)), 7) == date(2026, 12, 2)


def test_without_a_date_nothing_is_overdue() -> None:
    of = found(phase(1, 60), decisions=(Decision(7, 1),))
    assert not of.decisions[0].overdue(date(2030, 1, 1))


def test_an_answered_decision_has_no_dates_any_more() -> None:
    answered = held(open=False, asked_for=date(2026, 12, 2)).decisions[0]
    assert (answered.needed_by, answered.latest_by) == (None, None)
