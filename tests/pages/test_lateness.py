"""What a later answer does, in sentences: true of every day of the curve, whatever is booked."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.pages.lateness import Lateness, lateness_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.late_answers.curve import late_answers
from portal.planning.late_answers.moved_by_answer import moved_by_answer
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Decision, Phase, Plan, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of
from tests.planning.late_answers.test_curve import held_plans

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"
TODAY = date(2026, 12, 1)


def _lateness(plan: Plan) -> Lateness:
    pure = schedule(plan, plan.starts)
    booked = as_booked(pure)
    (dates,) = pure.decisions
    return lateness_of(late_answers(booked)[dates.decision], booked, dates.needed_by)


def _said(calendar: WorkCalendar, *phases: Phase, visits: Sequence[Visit] = ()) -> list[str]:
    plan = plan_of(calendar, START, phases, visits=tuple(visits), decisions=(Decision(7, 1),))
    return list(_lateness(plan).sentences(TODAY))


def test_each_day_that_costs_a_day_is_said_to() -> None:
    assert _said(CREW, phase(1, 2 * DAY), phase(2, 120, [1], held_by=(7,)), phase(3, DAY, [2])) == [
        "With an answer by Wed Dec 2, the whole job is done on Fri Dec 4.",
        "With an answer on Thu Dec 3, it is done on Mon Dec 7.",
        "From then on, each working day of waiting moves the end by one.",
    ]


def test_a_day_that_costs_nothing_weeks_later_is_not_passed_over() -> None:
    """Nine days in a row cost a day each; then half days, and the cure over a weekend, take one up."""
    week = {**CREW_WEEK, "half_days": {"2026-12-17": [["08:00", "12:00"]], "2026-12-18": [["08:00", "12:00"]]}}
    calendar = WorkCalendar.of(week, "America/Chicago")
    said = _said(calendar, phase(1, 60, held_by=(7,)), phase(2, 400, [(1, 24 * 60)]))
    assert said[0].startswith("With an answer by") and not any("each working day" in one for one in said)


def test_a_visit_that_can_not_be_kept_is_not_moved_by_the_answer() -> None:
    """The drill is booked for Thu Dec 3, but the four days of setting before it end on Fri Dec 4."""
    visit = Visit(1, "stone", at(CREW, "2026-12-03 08:00"), at(CREW, "2026-12-03 10:00"), phase=2)
    said = _said(CREW, phase(1, 4 * DAY), phase(2, 120, [1], held_by=(7,)), phase(4, 9 * DAY), visits=[visit])
    assert said[0] == "If the answer comes after Fri Dec 4, that work moves to a later day."


def test_work_that_ends_at_midnight_is_done_on_its_own_day() -> None:
    night = WorkCalendar.of({"week": {day: [["16:00", "24:00"]] for day in CREW_WEEK["week"]}}, "America/Chicago")
    assert "the whole job is done on Wed Dec 2." in _said(night, phase(1, 480, held_by=(7,)))[0]


@given(plan=held_plans(), hours=st.integers(0, 300))
@settings(max_examples=40, deadline=None)
def test_the_day_after_which_the_work_moves_is_the_last_that_leaves_it(plan: Plan, hours: int) -> None:
    """Also with a visit for a held phase that is booked too early, or late."""
    held = next(phase for phase in plan.phases if 1 in phase.held_by)
    starts = plan.starts + hours * 60
    plan = replace(plan, visits=(Visit(1, "stone", starts, starts + 60, phase=held.id),))
    booked = as_booked(schedule(plan, plan.starts))
    last = lateness_of(late_answers(booked)[1], booked, None).moves_after
    if last < TODAY:  # the lead is longer than the work is off
        return
    day_of, places = plan.calendar.day_of, {phase.id for phase in plan.phases if 1 in phase.held_by}
    before = {one: day_of(booked.of(one).early_start) for one in places}
    assert not _moved(booked.plan, 1, last, before)
    assert _moved(booked.plan, 1, plan.calendar.add_days(last + timedelta(days=1), 0), before)


def _moved(plan: Plan, decision: int, answered: date, before: dict[int, date]) -> set[int]:
    """Held phases that start on another day, by running everything again."""
    lead = next(one.lead_days for one in plan.decisions if one.id == decision)
    free = plan.calendar.day_start(plan.calendar.add_days(answered, lead))
    phases = tuple(
        replace(one, not_before=max(free, one.not_before or 0)) if one.id in before else one for one in plan.phases
    )
    again = schedule(replace(plan, phases=phases), plan.starts)
    return {one for one, day in before.items() if plan.calendar.day_of(again.of(one).early_start) != day}


def test_what_a_late_answer_moves_is_told_for_the_day_after() -> None:
    """An answer one day too late moves something: the day is not taken from a visit that can't be kept."""
    visit = Visit(1, "stone", at(CREW, "2026-12-03 08:00"), at(CREW, "2026-12-03 10:00"), phase=2)
    plan = plan_of(CREW, START, [phase(1, 4 * DAY), phase(2, 120, [1], held_by=(7,))], visits=(visit,),
                   decisions=(Decision(7, 1),))
    after = _lateness(plan).moves_after + timedelta(days=1)
    assert moved_by_answer(as_booked(schedule(plan, plan.starts)), 7, CREW.add_days(after, 0)).phases == (2,)


def _late(*phases: Phase, now: str, needed: int, visits: Sequence[Visit] = ()) -> Lateness:
    """Decision 7 holds phase 2; its answer was needed by December `needed`, and it is `now`."""
    plan = plan_of(CREW, START, phases, visits=tuple(visits), decisions=(Decision(7, 1),))
    booked = as_booked(schedule(plan, at(CREW, now)))
    return lateness_of(late_answers(booked)[7], booked, date(2026, 12, needed))


def test_an_answer_in_time_says_until_when_it_costs_nothing() -> None:
    """Worked by hand: five days of other work from Wed Dec 2 end on Tue Dec 8; a day of held work may start on that
    Tuesday, so the answer may come on Mon Dec 7. By the plan it could start on Thu Dec 3, after an answer today."""
    found = _late(phase(1, 5 * DAY), phase(2, DAY, held_by=(7,)), now="2026-12-02 08:00", needed=4)
    assert found.cost(date(2026, 12, 2)) == "After Wed Dec 2 that work moves, after Mon Dec 7 the end."
    assert found.cost_short(date(2026, 12, 2)) == "answer it by Mon Dec 7: no day lost."


def test_a_late_answer_with_days_to_spare_still_costs_none() -> None:
    found = _late(phase(1, 5 * DAY), phase(2, DAY, held_by=(7,)), now="2026-12-02 08:00", needed=1)
    assert found.cost(date(2026, 12, 2)) == (
        "Late: it was due Tue Dec 1. An answer by Mon Dec 7 still costs no day."
    )
    assert found.cost(date(2026, 12, 2), ours=True) == "An answer by Mon Dec 7 still costs no day."


def test_the_last_day_to_spare_is_said_as_today() -> None:
    found = _late(phase(1, 5 * DAY), phase(2, 4 * DAY, held_by=(7,)), now="2026-12-02 08:00", needed=1)
    assert found.costs.lost == 0
    assert found.cost(date(2026, 12, 2)) == "Late: it was due Tue Dec 1. An answer today still costs no day."


def test_a_late_answer_that_the_end_waits_for_costs_each_day() -> None:
    """Worked by hand: nothing else is left. A day of held work on the day after the answer; it could be today."""
    found = _late(phase(2, DAY, held_by=(7,)), now="2026-12-02 08:00", needed=1)
    assert found.costs.lost == 1
    assert found.cost(date(2026, 12, 2)) == (
        "Late: it was due Tue Dec 1. Each working day from now moves the end by one."
    )
    assert found.cost_short(date(2026, 12, 2)) == "each work day you wait costs one."


def test_on_a_weekend_the_days_that_cost_begin_after_the_next_working_day() -> None:
    found = _late(phase(2, DAY, held_by=(7,)), now="2026-12-05 10:00", needed=1)
    assert found.cost(date(2026, 12, 5)).endswith("Each working day after Mon Dec 7 moves the end by one.")


@pytest.mark.parametrize(("today", "says"), [
    (7, "An answer after today moves the end to Fri Dec 11."),
    (9, "An answer by Thu Dec 10 costs no further day."),
])  # fmt: skip
def test_where_the_days_cost_unequally_the_next_date_is_said(today: int, says: str) -> None:
    """Worked by hand: half a day of held work, two days of cure, an hour more. Answered on Mon Dec 7 all ends on Thu
    Dec 10, on Tuesday on Fri Dec 11, on Wednesday and Thursday, over the weekend, on Mon Dec 14."""
    found = _late(
        phase(2, 240, held_by=(7,)), phase(3, 60, [(2, 48 * 60)]), now=f"2026-12-{today:02} 08:00", needed=1
    )
    assert found.cost(date(2026, 12, today)) == f"Late: it was due Tue Dec 1. {says}"


@given(plan=held_plans(), late=st.integers(0, 12))
@settings(max_examples=40, deadline=None)
def test_what_is_said_of_the_cost_is_what_the_plan_gives_run_anew(plan: Plan, late: int) -> None:
    """`keeps` is the last day whose finish is today's, by running everything again; `lost` by leaving the hold away."""
    now = plan.calendar.day_start(plan.calendar.add_days(TODAY, late)) + 9 * 60
    booked = as_booked(schedule(plan, now))
    for decision, curve in late_answers(booked).items():
        found = lateness_of(curve, booked, date(2026, 11, 30)).costs
        day_of = plan.calendar.day_of
        free = tuple(replace(one, open=one.open and one.id != decision, answered=None) for one in booked.plan.decisions)
        without = schedule(replace(booked.plan, decisions=free), now).finish
        assert found.lost == (day_of(booked.finish - 1) - day_of(without - 1)).days >= 0
        kept = [on for on, _ in curve.pairs
                if day_of(moved_by_answer(booked, decision, on).finish - 1) == day_of(booked.finish - 1)]
        assert found.keeps == (None if len(kept) == len(curve.days) else kept[-1])
