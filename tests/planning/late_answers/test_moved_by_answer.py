"""What an answer moves."""

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.late_answers.curve import late_answers
from portal.planning.late_answers.moved_by_answer import moved_by_answer
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import Decision, Plan, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of
from tests.planning.late_answers.test_curve import held_plans

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def drilled() -> Schedule:
    """Two days of setting, then the drill (held), then the faucet; something else beside it."""
    phases = [phase(1, 2 * DAY), phase(2, 120, [1], held_by=(7,)), phase(3, DAY, [2]), phase(4, 1)]
    visits = (
        Visit(1, "stone", at(CREW, "2026-12-04 08:00"), at(CREW, "2026-12-04 10:00"), phase=2),
        Visit(2, "plumber", at(CREW, "2026-12-07 08:00"), at(CREW, "2026-12-07 12:00"), phase=3),
        Visit(3, "tile", at(CREW, "2026-12-01 08:00"), at(CREW, "2026-12-01 12:00"), phase=4),
    )
    plan = plan_of(CREW, START, phases, visits=visits, decisions=(Decision(7, 1),))
    return schedule(plan, at(CREW, START))


def test_an_answer_in_time_moves_nothing() -> None:
    moved = moved_by_answer(drilled(), 7, date(2026, 12, 2))
    assert (moved.phases, moved.visits, moved.finish) == ((), (), drilled().finish)


def test_a_late_answer_moves_what_follows_and_the_visits_booked_for_it() -> None:
    """Thursday's answer still lets the drill come on Friday as booked, though it could have come on Thursday."""
    assert moved_by_answer(drilled(), 7, date(2026, 12, 3)).visits == ()
    assert moved_by_answer(drilled(), 7, date(2026, 12, 3)).phases == (2, 3)
    moved = moved_by_answer(drilled(), 7, date(2026, 12, 4))
    assert (moved.phases, moved.visits) == ((2, 3), (1, 2))


@given(plan=held_plans(), skip=st.integers(0, 20))
@settings(max_examples=40, deadline=None)
def test_what_moves_agrees_with_the_curve(plan: Plan, skip: int) -> None:
    of = schedule(plan, plan.starts)
    for decision, curve in late_answers(of).items():
        day, finish = curve.pairs[min(skip, len(curve.days) - 1)]
        moved = moved_by_answer(of, decision, day)
        assert moved.finish == finish
        assert bool(moved.phases) or moved.finish == of.finish
