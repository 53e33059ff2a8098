"""The schedule of a real house: crew hours, cures, deliveries, holds."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.network import LoopError, UnknownPredecessor, check_loops
from portal.planning.schedule.plan import Decision, Delivery, Phase, Plan, PlanError, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, needed_by, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def found(*phases: Phase, now: str = START, **more: object) -> Schedule:
    return schedule(plan_of(CREW, START, phases, **more), at(CREW, now))


def starts(of: Schedule, number: int) -> str:
    return says(CREW, of.of(number).early_start)


def test_a_cure_runs_through_the_night_and_work_goes_on_when_it_is_over() -> None:
    of = found(phase(1, 240), phase(2, 60, [(1, 24 * 60)]))
    assert starts(of, 2) == "2026-12-02 12:00"


def test_a_cure_that_ends_on_the_weekend_lets_work_go_on_on_monday() -> None:
    of = found(phase(1, 4 * DAY), phase(2, 60, [(1, 24 * 60)]))
    assert says(CREW, of.of(1).early_finish) == "2026-12-04 16:30"
    assert starts(of, 2) == "2026-12-07 08:00"


@pytest.mark.parametrize("wait", [20, 25])
def test_a_seam_that_sets_within_the_visit_is_exact_to_the_minute(wait: int) -> None:
    """Common practice: a stone seam's two-part adhesive is set in 20 to 25 minutes."""
    of = found(phase(1, 95), phase(2, 60, [(1, wait)]))
    assert starts(of, 2) == f"2026-12-01 {9 + (35 + wait) // 60:02}:{(35 + wait) % 60:02}"


def test_a_phase_without_work_happens_by_the_clock() -> None:
    """The top may be used on Saturday, though no crew works then."""
    of = found(phase(1, 4 * DAY), phase(2, 0, [(1, 24 * 60)]))
    assert starts(of, 2) == "2026-12-05 16:30"
    assert says(CREW, of.finish) == "2026-12-05 16:30"
    assert of.of(1).critical and of.of(2).critical
    assert of.critical_paths == [(1, 2)]


def test_a_wait_after_a_phase_without_work_is_counted_from_its_moment() -> None:
    of = found(phase(1, 4 * DAY), phase(2, 0, [(1, 24 * 60)]), phase(3, 60, [(2, 40 * 60)]))
    assert starts(of, 3) == "2026-12-07 08:30"


def test_nothing_starts_before_its_date() -> None:
    of = found(phase(1, 60, not_before=at(CREW, "2026-12-03 00:00")), phase(2, 60, [1]))
    assert (starts(of, 1), starts(of, 2)) == ("2026-12-03 08:00", "2026-12-03 09:00")


def test_a_delivery_is_at_hand_when_its_day_has_ended() -> None:
    delivery = Delivery(1, (1,), date(2026, 12, 2), date(2026, 12, 3), date(2026, 12, 8))
    assert starts(found(phase(1, 60), deliveries=(delivery,)), 1) == "2026-12-04 08:00"


def test_a_delivery_that_has_arrived_is_at_hand_from_then_on() -> None:
    delivery = Delivery(1, (1,), *[date(2026, 12, 3)] * 3, arrived=at(CREW, "2026-12-01 10:20"))
    assert starts(found(phase(1, 60), deliveries=(delivery,)), 1) == "2026-12-01 10:20"


def test_an_overdue_delivery_is_expected_today() -> None:
    delivery = Delivery(1, (1,), *[date(2026, 12, 1)] * 3)
    of = found(phase(1, 60), deliveries=(delivery,), now="2026-12-03 09:00")
    assert starts(of, 1) == "2026-12-04 08:00"


def test_a_delivery_before_the_work_begins_is_no_reason_to_wait() -> None:
    delivery = Delivery(1, (1,), *[date(2026, 11, 30)] * 3)
    assert starts(found(phase(1, 60), deliveries=(delivery,), now="2026-11-20 09:00"), 1) == START


def test_nothing_that_has_not_begun_lies_in_the_past() -> None:
    assert starts(found(phase(1, 60), now="2026-12-02 13:05"), 1) == "2026-12-02 13:05"
    assert starts(found(phase(1, 60), now="2026-12-02 20:00"), 1) == "2026-12-03 08:00"


def test_a_plan_without_phases_is_finished() -> None:
    of = found()
    assert (of.finish, of.phases, of.critical_paths) == (at(CREW, START), (), [])


def test_float_is_shared_along_a_chain_and_free_float_is_its_end() -> None:
    of = found(phase(1, 4 * DAY), phase(2, DAY), phase(3, DAY, [2]), phase(4, 60, [1, 3]))
    floats = [(of.of(n).total_float, of.of(n).free_float) for n in (1, 2, 3)]
    assert floats == [(0, 0), (2 * DAY, 0), (2 * DAY, 2 * DAY)]
    assert says(CREW, of.of(2).late_start) == "2026-12-03 08:00"


def test_many_ties_are_cut_off_and_it_is_said() -> None:
    phases = [phase(1, 60)]
    for layer in range(6):
        first = 2 + layer * 2
        follows = [1] if layer == 0 else [first - 2, first - 1]
        phases += [phase(first, 60, follows), phase(first + 1, 60, follows)]
    of = found(*phases)
    assert len(of.critical_paths) == 50
    assert not of.all_paths_shown


def test_a_loop_is_refused_with_the_names_in_it() -> None:
    with pytest.raises(LoopError) as refused:
        found(phase(1, 60), phase(2, 60, [1, 4]), phase(3, 60, [2]), phase(4, 60, [3]), phase(5, 60, [4]))
    assert refused.value.names[0] == refused.value.names[-1]
    assert set(refused.value.names) == {"phase 2", "phase 3", "phase 4"}
    with pytest.raises(LoopError, match="tile → tile"):
        check_loops({1: "tile"}, [(1, 1)])


def test_names_go_round_the_loop_in_the_order_of_the_work() -> None:
    with pytest.raises(LoopError) as refused:
        check_loops({1: "template", 2: "cut", 3: "set"}, [(2, 1), (3, 2), (1, 3)])
    around = refused.value.names
    work = {("template", "cut"), ("cut", "set"), ("set", "template")}
    assert set(zip(around, around[1:], strict=False)) == work


def test_an_unknown_predecessor_is_refused() -> None:
    with pytest.raises(UnknownPredecessor, match="phase 1 follows phase 9"):
        found(phase(1, 60, [9]))


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"low": 70}, "work"),
        ({"low": -5}, "work"),
        ({"state": "resting"}, "state"),
        ({"state": "done"}, "finished"),
        ({"state": "under_way"}, "started"),
        ({"state": "done", "started": 9, "finished": 8}, "finished"),
    ],
)
def test_a_phase_that_contradicts_itself_is_refused(wrong: dict[str, object], field: str) -> None:
    values = {"low": 60, "likely": 60, "high": 60, **wrong}
    with pytest.raises(PlanError) as refused:
        plan_of(CREW, START, [Phase(1, "set the top", **values)])  # type: ignore[arg-type]
    assert refused.value.field == field


def test_a_negative_wait_and_a_double_id_are_refused() -> None:
    with pytest.raises(PlanError, match="below 0"):
        plan_of(CREW, START, [phase(1, 60), phase(2, 60, [(1, -1)])])
    with pytest.raises(PlanError, match="same id"):
        plan_of(CREW, START, [phase(1, 60), phase(1, 60)])


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
