"""The finish by the day of the answer."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.late_answers.curve import late_answers
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Decision, Phase, Plan, Predecessor
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def test_each_working_day_of_waiting_moves_the_finish_by_one() -> None:
    plan = plan_of(CREW, START, [phase(1, DAY), phase(2, DAY, [1], held_by=(7,))], decisions=(Decision(7, 1),))
    curve = late_answers(schedule(plan, plan.starts))[7]
    assert curve.days[:3] == (date(2026, 12, 1), date(2026, 12, 2), date(2026, 12, 3))
    ends = [says(CREW, finish) for finish in curve.finishes[:5]]
    assert ends == [f"2026-12-{day:02} 16:30" for day in (2, 3, 4, 7, 8)]
    assert len(curve.days) == 1 + 20


def test_within_its_float_an_answer_costs_nothing() -> None:
    phases = [phase(1, 4 * DAY), phase(2, DAY, held_by=(7,))]
    plan = plan_of(CREW, START, phases, decisions=(Decision(7, 1),))
    of = schedule(plan, plan.starts)
    curve = late_answers(of)[7]
    keep = [day for day, finish in curve.pairs if finish == of.finish]
    assert keep == [date(2026, 12, day) for day in (1, 2, 3)]
    assert keep[-1] == of.decisions[0].latest_by


def test_a_cure_over_the_weekend_takes_the_delay_up() -> None:
    """Three days of cure from Wednesday, Thursday or Friday noon all end before Monday, or on it."""
    phases = [phase(1, 240, held_by=(7,)), phase(2, 60, [(1, 48 * 60)])]
    plan = plan_of(CREW, START, phases, decisions=(Decision(7, 1, 0),))
    curve = late_answers(schedule(plan, plan.starts))[7]
    ends = [says(CREW, finish) for finish in curve.finishes[:5]]
    assert ends == [
        "2026-12-03 13:00", "2026-12-04 13:00", "2026-12-07 09:00", "2026-12-07 09:00", "2026-12-09 13:00",
    ]


@pytest.mark.parametrize("work", [400 * DAY, 460 * DAY, 500 * DAY, 520 * DAY])
def test_delays_that_run_past_the_years_known_so_far_are_carried_all_the_same(work: int) -> None:
    """A calendar of its own for each: its table ends soon after the finish, or before it."""
    calendar = WorkCalendar.of(CREW_WEEK, "America/Chicago")
    phases = (phase(1, 60, held_by=(7,)), phase(2, work, [(1, 600)]), phase(3, 60, [(2, 9_000)]))
    plan = Plan(phases, calendar, at(calendar, START), decisions=(Decision(7, 1, 2),))
    curve = late_answers(schedule(plan, plan.starts))[7]
    for day, finish in curve.pairs[::5]:
        assert finish == answered_on(plan, plan.decisions[0], day, plan.starts)


def test_a_decision_that_holds_nothing_has_no_curve() -> None:
    plan = plan_of(CREW, START, [phase(1, 60, held_by=(8,))], decisions=(Decision(7, 1), Decision(8, 2, open=False)))
    assert late_answers(schedule(plan, plan.starts)) == {}


@st.composite
def held_plans(draw: st.DrawFn) -> Plan:
    """Links with and without waits, phases without work, up to three decisions, each holding up to two phases."""
    count = draw(st.integers(2, 10))
    holds = [draw(st.sets(st.integers(1, count), min_size=1, max_size=2)) for _ in range(draw(st.integers(1, 3)))]
    phases = []
    for number in range(1, count + 1):
        follows = draw(st.sets(st.integers(1, number - 1), max_size=2)) if number > 1 else set()
        waits = st.sampled_from([0, 0, 0, 25, 1_440, 4_000])
        after = tuple(Predecessor(other, draw(waits)) for other in sorted(follows))
        work = draw(st.sampled_from([0, 30, 240, 510, 1_530]))
        held_by = tuple(decision for decision, held in enumerate(holds, 1) if number in held)
        phases.append(Phase(number, f"p{number}", work, work, work, after=after, held_by=held_by))
    decisions = tuple(Decision(number, number, draw(st.integers(0, 4))) for number in range(1, len(holds) + 1))
    return Plan(tuple(phases), CREW, at(CREW, START), decisions=decisions)


def answered_on(plan: Plan, decision: Decision, day: date, now: int) -> int:
    """The finish by running everything again with the answer's day as a date before which held work may not start."""
    calendar = plan.calendar
    start = calendar.day_start(calendar.add_days(day, decision.lead_days))
    phases = tuple(
        Phase(p.id, p.name, p.low, p.likely, p.high, after=p.after, held_by=p.held_by, not_before=start)
        if decision.id in p.held_by else p
        for p in plan.phases
    )
    return schedule(Plan(phases, calendar, plan.starts, decisions=plan.decisions), now).finish


@given(plan=held_plans(), later=st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_the_curve_is_what_running_everything_again_gives(plan: Plan, later: int) -> None:
    now = plan.starts + later
    of = schedule(plan, now)
    curves = late_answers(of)
    for decision, dates in zip(plan.decisions, of.decisions, strict=True):
        curve = curves[decision.id]
        for day, finish in curve.pairs[::4] + curve.pairs[-1:]:
            assert finish == answered_on(plan, decision, day, now)
        keep = [day for day, finish in curve.pairs if finish == of.finish]
        assert keep[-1] == dates.latest_by or (len(keep) == 1 and dates.latest_by < keep[0])
        assert len(curve.days) == len(keep) + 20


@given(plan=held_plans(), later=st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_a_later_answer_never_finishes_earlier(plan: Plan, later: int) -> None:
    for curve in late_answers(schedule(plan, plan.starts + later)).values():
        assert list(curve.finishes) == sorted(curve.finishes)


@given(plan=held_plans(), later=st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_an_answer_that_has_come_leaves_the_dates_that_it_was_said_to_leave(plan: Plan, later: int) -> None:
    """Answered today: the finish is what the curve says for today, and stays so, for the lead runs from the answer."""
    of = schedule(plan, plan.starts + later)
    today = CREW.day_of(of.now)
    for decision in plan.decisions:
        curve = late_answers(of)[decision.id]
        decisions = tuple(
            replace(one, open=False, answered=today) if one.id == decision.id else one for one in plan.decisions
        )
        after = schedule(replace(plan, decisions=decisions), of.now)
        assert after.finish == curve.finishes[0]
        assert [one.early_start for one in after.phases] == [one.early_start for one in of.phases]


def test_a_lead_that_is_over_holds_nothing_any_more() -> None:
    phases = [phase(1, DAY, held_by=(7,))]
    days = [Decision(7, 1, 3, open=False, answered=date(2026, 11, day)) for day in (30, 24, 2)]
    starts = [schedule(plan_of(CREW, START, phases, decisions=(day,)), at(CREW, START)).phases[0].early_start
              for day in days]
    assert [says(CREW, start) for start in starts] == ["2026-12-03 08:00", "2026-12-01 08:00", "2026-12-01 08:00"]
