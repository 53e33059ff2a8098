"""What an answer moves, and how it is said."""

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar import WorkCalendar
from portal.planning.late import late_answers
from portal.planning.moved import late_sentences, moved_by_answer
from portal.planning.plan import Decision, Plan, Visit
from portal.planning.schedule import Schedule, schedule
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of
from tests.planning.test_late import held_plans

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def drilled(now: str = START, beside: int = 1, booked: bool = True) -> Schedule:
    """Two days of setting, then the drill (held), then the faucet; something else beside it."""
    phases = [phase(1, 2 * DAY), phase(2, 120, [1], held_by=(7,)), phase(3, DAY, [2]), phase(4, beside)]
    visits = (
        Visit(1, "stone", at(CREW, "2026-12-04 08:00"), at(CREW, "2026-12-04 10:00"), phase=2),
        Visit(2, "plumber", at(CREW, "2026-12-07 08:00"), at(CREW, "2026-12-07 12:00"), phase=3),
        Visit(3, "tile", at(CREW, "2026-12-01 08:00"), at(CREW, "2026-12-01 12:00"), phase=4),
    )
    plan = plan_of(CREW, START, phases, visits=visits if booked else (), decisions=(Decision(7, 1),))
    return schedule(plan, at(CREW, now))


def said(of: Schedule) -> list[str]:
    return late_sentences(of, late_answers(of)[7])


def test_an_answer_in_time_moves_nothing() -> None:
    moved = moved_by_answer(drilled(), 7, date(2026, 12, 2))
    assert (moved.phases, moved.visits, moved.finish) == ((), (), drilled().finish)


def test_a_late_answer_moves_what_follows_and_the_visits_booked_for_it() -> None:
    """Thursday's answer still lets the drill come on Friday as booked, though it could have come on Thursday."""
    assert moved_by_answer(drilled(), 7, date(2026, 12, 3)).visits == ()
    assert moved_by_answer(drilled(), 7, date(2026, 12, 3)).phases == (2, 3)
    moved = moved_by_answer(drilled(), 7, date(2026, 12, 4))
    assert (moved.phases, moved.visits) == ((2, 3), (1, 2))


def test_a_booked_date_that_can_be_kept_is_said() -> None:
    assert said(drilled()) == [
        "If you answer by Thu Dec 3, phase 2 comes on Fri Dec 4 as booked.",
        "From Fri Dec 4 on, each working day of waiting moves the finish by one.",
    ]


def test_a_finish_that_can_wait_longer_is_said() -> None:
    assert said(drilled(beside=9 * DAY)) == [
        "If you answer by Thu Dec 3, phase 2 comes on Fri Dec 4 as booked.",
        "The finish stays Fri Dec 11 with an answer by Wed Dec 9.",
        "From Thu Dec 10 on, each working day of waiting moves the finish by one.",
    ]


def test_an_overdue_answer_is_told_what_today_still_allows() -> None:
    assert said(drilled(now="2026-12-09 09:00"))[0] == "With an answer today, phase 2 can start on Fri Dec 11."


def test_without_a_visit_the_plan_is_kept() -> None:
    assert said(drilled(booked=False))[0] == "If you answer by Wed Dec 2, phase 2 can start as planned."


def test_behind_a_cure_the_next_step_is_said_and_no_rule() -> None:
    phases = [phase(1, 240, held_by=(7,)), phase(2, 60, [(1, 48 * 60)])]
    plan = plan_of(CREW, START, phases, decisions=(Decision(7, 1, 0),))
    of = schedule(plan, plan.starts)
    assert said(of)[-1] == "An answer on Wed Dec 2 moves the finish from Thu Dec 3 to Fri Dec 4."


@given(plan=held_plans(), skip=st.integers(0, 20))
@settings(max_examples=40, deadline=None)
def test_what_moves_agrees_with_the_curve(plan: Plan, skip: int) -> None:
    of = schedule(plan, plan.starts)
    for decision, curve in late_answers(of).items():
        day = curve.days[min(skip, len(curve.days) - 1)]
        moved = moved_by_answer(of, decision, day)
        assert moved.finish == curve.finish_if_answered(day)
        assert bool(moved.phases) or moved.finish == of.finish
