"""When the work is likely, and when it is safely finished."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.forecast.distributions import TRIANGULAR
from portal.planning.forecast.forecast import forecast
from portal.planning.forecast.simulation import simulate
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import (
    DONE,
    INSPECTION,
    STOPPED,
    UNDER_WAY,
    Decision,
    Delivery,
    Phase,
    Plan,
    Predecessor,
)
from tests.planning.homes import CREW
from tests.planning.houses import ALWAYS, DAY, at, phase, plan_of, says

DAY_AND_NIGHT = WorkCalendar.of(ALWAYS, "UTC")
MONDAY = "2026-11-30 08:00"
NOW = at(CREW, MONDAY)


def rough(number: int, low: int, likely: int, high: int, after: tuple[Predecessor, ...] = (), **more: object) -> Phase:
    return Phase(number, f"phase {number}", low, likely, high, after=after, **more)  # type: ignore[arg-type]


def delivery(low: str, likely: str, high: str, *phases: int) -> Delivery:
    return Delivery(1, phases, *(date.fromisoformat(day) for day in (low, likely, high)))


def test_the_same_state_gives_the_same_forecast_and_other_work_does_not_disturb_it() -> None:
    kitchen = [rough(1, 300, 480, 960), rough(2, 300, 480, 960, (Predecessor(1, 1440),))]
    plan = plan_of(CREW, MONDAY, kitchen)
    first = forecast(plan, NOW)
    assert first == forecast(plan_of(CREW, MONDAY, kitchen), NOW)
    more = forecast(plan_of(CREW, MONDAY, [*kitchen, rough(3, 30, 60, 90)]), NOW)
    assert (more.likely_by, more.safely_by) == (first.likely_by, first.safely_by)


def test_a_wait_by_the_clock_runs_through_the_weekend() -> None:
    """Done on Friday between 12:30 and 16:30; the cure of 64 h ends on Monday between 4:30 and 8:30."""
    plan = plan_of(CREW, "2026-12-04 08:00", [
        rough(1, 270, 400, 510), phase(2, 60, [(1, 64 * 60)]),
    ])
    found = forecast(plan, plan.starts)
    assert says(CREW, found.likely_by) == "2026-12-07 09:00"
    finishes = simulate(plan, plan.starts).finishes
    assert says(CREW, int(finishes.min())) == "2026-12-07 09:00"
    assert at(CREW, "2026-12-07 09:00") < finishes.max() <= at(CREW, "2026-12-07 09:30")


def test_the_chance_of_a_promise_is_between_never_and_always() -> None:
    plan = plan_of(CREW, MONDAY, [rough(1, 2 * DAY, 3 * DAY, 6 * DAY)])
    chances = [forecast(plan, NOW, date(2026, 12, day)).chance for day in (1, 2, 3, 4, 7, 8)]
    assert chances[0] == 0.0
    assert chances[-1] == 1.0
    assert chances == sorted(chances)
    assert forecast(plan, NOW).chance is None


def test_a_work_day_that_ends_at_midnight_is_finished_on_its_own_date() -> None:
    plan = plan_of(DAY_AND_NIGHT, "2026-12-01 00:00", [phase(1, 24 * 60)])
    found = forecast(plan, plan.starts)
    assert found.safely_on == date(2026, 12, 1)


def test_an_open_decision_is_on_the_critical_path_where_it_holds_what_drives() -> None:
    short, long = rough(1, 60, 120, 240, held_by=(1,)), rough(2, 600, 2_000, 3_000, held_by=(2,))
    decisions = (Decision(1, 1), Decision(2, 2), Decision(3, 3, open=False))
    plan = plan_of(CREW, MONDAY, [short, long], decisions=decisions)
    found = forecast(plan, NOW)
    assert set(found.decisions) == {1, 2}
    assert found.decisions[2] > 0.99
    assert found.decisions[1] < 0.01
    assert found.phases[1].critical > 0.99
    released = forecast(replace(plan, phases=(short, replace(long, released=(2,)))), NOW)
    assert released.decisions[2] == 0.0


def test_a_decision_with_days_to_spare_is_not_critical_yet() -> None:
    """The held work follows a week of other work: an answer tomorrow moves nothing."""
    plan = plan_of(CREW, MONDAY, [
        rough(1, 4 * DAY, 5 * DAY, 7 * DAY), rough(2, 60, 120, 240, (Predecessor(1),), held_by=(1,)),
    ], decisions=(Decision(1, 1),))
    assert forecast(plan, NOW).decisions == {1: 0.0}


def test_a_late_delivery_moves_the_finish_and_is_named() -> None:
    setting = rough(1, 120, 240, 480)
    plan = plan_of(CREW, MONDAY, [setting], deliveries=(delivery("2026-12-01", "2026-12-03", "2026-12-11", 1),))
    found = forecast(plan, NOW)
    assert found.deliveries == {1: 1.0}
    assert at(CREW, "2026-12-03 00:00") < found.likely_by < found.safely_by < at(CREW, "2026-12-15 00:00")
    arrived = replace(plan, deliveries=(replace(plan.deliveries[0], arrived=NOW - 60),))
    assert forecast(arrived, NOW).safely_on == date(2026, 11, 30)


def test_an_overdue_delivery_is_at_hand_tonight_at_the_earliest() -> None:
    plan = plan_of(CREW, MONDAY, [phase(1, 60)], deliveries=(delivery("2026-11-16", "2026-11-17", "2026-11-18", 1),))
    assert says(CREW, forecast(plan, NOW).likely_by) == "2026-12-01 09:00"


def test_work_under_way_is_forecast_from_what_is_left() -> None:
    """After 8 of 4 to 20 hours, what took less is out of the question, and there is always something left to do."""
    under_way = rough(1, 240, 480, 1200, state=UNDER_WAY, started=NOW)
    plan = plan_of(CREW, MONDAY, [under_way])
    later = CREW.add(NOW, 480)
    finishes = simulate(plan, later).finishes_at(0)
    assert finishes.min() > later
    assert finishes.max() <= CREW.add(NOW, 1200)
    told = replace(plan, phases=(replace(under_way, remaining=120),))
    left = np.array([CREW.count(later, int(moment)) for moment in np.unique(simulate(told, later).finishes_at(0))])
    assert left.min() >= 120 * 240 / 560 - 1
    assert left.max() <= 120 * 1200 / 560 + 1


def test_work_that_takes_longer_than_it_can_is_about_to_end() -> None:
    plan = plan_of(CREW, MONDAY, [rough(1, 60, 120, 240, state=UNDER_WAY, started=NOW)])
    later = CREW.add(NOW, 300)
    assert set(simulate(plan, later).finishes_at(0).tolist()) == {later + 1}


def test_a_finished_project_is_finished_when_it_was() -> None:
    done = rough(1, 60, 120, 240, state=DONE, started=NOW, finished=at(CREW, "2026-12-05 11:00"))
    found = forecast(plan_of(CREW, MONDAY, [done]), at(CREW, "2026-12-10 08:00"))
    assert says(CREW, found.likely_by) == says(CREW, found.safely_by) == "2026-12-05 11:00"
    assert found.phases == ()


def test_a_plan_without_phases_has_a_forecast_too() -> None:
    found = forecast(plan_of(CREW, MONDAY, []), NOW)
    assert found.likely_by == found.safely_by == NOW


def test_wrong_counts_and_shapes_are_refused() -> None:
    plan = plan_of(CREW, MONDAY, [rough(1, 60, 120, 240)])
    with pytest.raises(ValueError, match="count"):
        simulate(plan, NOW, 0)
    with pytest.raises(ValueError, match="shape"):
        simulate(plan, NOW, 10, "square")


@st.composite
def plans(draw: st.DrawFn, sure: bool) -> Plan:
    """`sure`: every time and date is known, so that there is only one future."""
    phases, count = [], draw(st.integers(1, 6))
    for number in range(1, count + 1):
        follows = draw(st.sets(st.integers(1, number - 1), max_size=3)) if number > 1 else set()
        links = tuple(Predecessor(other, draw(st.sampled_from([0, 0, 25, 960, 4320]))) for other in sorted(follows))
        low, likely, high = sorted(draw(st.tuples(*[st.integers(0, 900)] * 3)))
        times = (likely,) * 3 if sure else (low, likely, high)
        phases.append(rough(number, *times, links, held_by=draw(st.sampled_from([(), (1,), (2,)])), **draw(STATES)))
    days = sorted(draw(st.tuples(*[st.integers(-3, 12)] * 3)))
    dates = [date.fromordinal(date(2026, 12, 2).toordinal() + day) for day in ([days[1]] * 3 if sure else days)]
    coming = Delivery(1, (draw(st.integers(1, count)),), *dates)
    decisions = (Decision(1, 1, draw(st.integers(0, 4))), Decision(2, 2, open=False))
    starts = at(CREW, "2026-11-25 13:00")
    return Plan(tuple(phases), CREW, starts, decisions=decisions, deliveries=(coming,),
                resumes_at=draw(st.sampled_from([None, at(CREW, "2026-12-07 09:00")])))


STARTED, LATER = at(CREW, "2026-11-27 10:00"), at(CREW, "2026-12-02 11:20")
STATES = st.sampled_from([
    {}, {}, {}, {"not_before": at(CREW, "2026-12-05 12:00")},
    {"state": UNDER_WAY, "started": STARTED}, {"state": UNDER_WAY, "started": STARTED, "remaining": 300},
    {"state": DONE, "started": STARTED, "finished": at(CREW, "2026-11-28 20:00")},
    {"state": STOPPED, "started": STARTED, "stopped_at": STARTED + 90, "resumes_at": at(CREW, "2026-12-09 08:00")},
    {"state": INSPECTION, "started": STARTED, "inspection_at": at(CREW, "2026-12-03 10:00")},
])


@settings(max_examples=60, deadline=None)
@given(plans(sure=True))
def test_with_every_time_known_the_forecast_is_the_schedule(plan: Plan) -> None:
    """To the minute, phase by phase: two ways to the same dates."""
    planned, found = schedule(plan, LATER), simulate(plan, LATER, 3)
    assert set(found.finishes.tolist()) == {planned.finish}
    for one in plan.phases:
        assert set(found.finishes_at(plan.network.position[one.id]).tolist()) == {planned.of(one.id).early_finish}
    critical = {one.phase for one in forecast(plan, LATER, futures=3).phases if one.critical == 1.0}
    assert {one.phase for one in planned.phases if one.critical} <= critical | {
        one.id for one in plan.phases if one.state == DONE
    }


@settings(max_examples=40, deadline=None)
@given(plans(sure=False), st.sampled_from(["beta_pert", TRIANGULAR]))
def test_likely_is_never_after_safely(plan: Plan, shape: str) -> None:
    """P50 <= P80, nothing that is open ends before now, and something always drives the finish."""
    found = forecast(plan, LATER, futures=200, shape=shape)
    assert found.likely_by <= found.safely_by
    assert found.likely_on <= found.safely_on
    assert all(LATER <= one.likely_by <= one.safely_by for one in found.phases)
    assert all(0 <= one.critical <= 1 for one in found.phases)
    open_ones = [one for one in plan.phases if one.state != DONE]
    assert not open_ones or sum(one.critical for one in found.phases) >= 1 - 1e-9
