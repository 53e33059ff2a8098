"""What the futures of a plan draw."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from portal.planning.forecast.distributions import BETA_PERT, TRIANGULAR
from portal.planning.forecast.samples import draw_arrivals, draw_work, soonest_deliveries
from portal.planning.schedule.plan import DONE, INSPECTION, STOPPED, UNDER_WAY, Delivery, Phase, Plan
from tests.planning.homes import CREW
from tests.planning.houses import at, phase, plan_of, says

START = "2026-12-01 08:00"  # a Tuesday
EIGHT = at(CREW, START)
COUNT = 4_000
BEGUN = {"state": UNDER_WAY, "started": EIGHT}


def rough(number: int, low: int, likely: int, high: int, **more: object) -> Phase:
    return Phase(number, f"phase {number}", low, likely, high, **more)  # type: ignore[arg-type]


def plan(*phases: Phase, **more: object) -> Plan:
    return plan_of(CREW, START, phases, **more)


def work(*phases: Phase, now: int = EIGHT, shape: str = BETA_PERT) -> np.ndarray:
    return draw_work(plan(*phases), now, COUNT, shape)


def coming(low: str, likely: str, high: str, number: int = 1, **more: object) -> Delivery:
    dates = (date.fromisoformat(f"2026-12-{day}") for day in (low, likely, high))
    return Delivery(number, (1,), *dates, **more)  # type: ignore[arg-type]


def test_each_phase_has_a_row_in_the_order_of_the_network() -> None:
    second = replace(rough(1, 900, 950, 999), after=phase(1, 1, [2]).after)
    rows = draw_work(plan(second, rough(2, 100, 150, 199)), EIGHT, 50, BETA_PERT)
    assert rows.shape == (2, 50) and rows.dtype == np.int64
    assert (rows[0] < 200).all() and (rows[1] >= 900).all()


def test_minutes_are_rounded_not_cut_off() -> None:
    """Half of the draws between 10 and 11 are nearer to 11."""
    rows = work(rough(1, 10, 10, 11), rough(2, 10, 11, 11))
    assert set(np.unique(rows)) == {10, 11}
    assert 0.0 < (rows[0] == 11).mean() < 0.1, "beta(1, 5) lies above one half with probability 1/32"
    assert 0.9 < (rows[1] == 11).mean() < 1.0


def test_what_happens_by_the_clock_has_no_work() -> None:
    rows = work(phase(1, 0), phase(2, 60, state=DONE, finished=EIGHT), phase(3, 60, state=INSPECTION))
    assert not rows.any()


def test_a_phase_draws_for_itself() -> None:
    """Whatever is beside it, and by its id: two alike are not late on the same days."""
    alone = work(rough(1, 60, 90, 240))[0]
    beside = work(rough(1, 60, 90, 240), rough(2, 60, 90, 240))
    assert np.array_equal(alone, beside[0])
    assert abs(np.corrcoef(beside)[0, 1]) < 0.06
    assert not np.array_equal(alone, work(rough(1, 60, 90, 241))[0])
    assert not np.array_equal(alone, work(rough(1, 60, 90, 240), shape=TRIANGULAR)[0])


def test_what_was_told_to_remain_is_as_uncertain_as_the_plan_was() -> None:
    """100 minutes left of one of (60, 120, 300), expected 140: from 60/140 to 300/140 of that."""
    rows = work(rough(1, 60, 120, 300, remaining=100, **BEGUN))[0]
    assert 43 <= rows.min() < 50 and 180 < rows.max() <= 214
    assert rows.mean() == pytest.approx(100, abs=2)


@pytest.mark.parametrize(
    ("begun", "left"),
    [
        (rough(1, 60, 120, 300, remaining=0, **BEGUN), 1),  # someone must still say that it is done
        (rough(1, 0, 0, 0, remaining=30, **BEGUN), 30),  # nothing was planned: as told
        (rough(1, 90, 90, 90, **BEGUN), 60),  # no doubt, and half an hour is worked
        (rough(1, 20, 20, 20, **BEGUN), 1),  # long over
        (rough(1, 5, 10, 20, **BEGUN), 1),  # longer than it can take
    ],
)
def test_what_is_left_without_doubt(begun: Phase, left: int) -> None:
    assert set(work(begun, now=EIGHT + 30)[0]) == {left}


def test_what_is_left_counts_only_futures_that_last_longer_than_what_is_done() -> None:
    """After 200 of (60, 120, 300) minutes at most 100 are left, and the later they are the rarer."""
    rows = work(rough(1, 60, 120, 300, **BEGUN), now=EIGHT + 200)[0]
    assert rows.min() >= 1 and rows.max() <= 100
    assert (rows < 20).mean() > (rows > 40).mean() > 0
    at_the_low = work(rough(1, 60, 120, 300, **BEGUN), now=EIGHT + 60)[0]
    assert at_the_low.max() <= 240, "none is out of the question"
    assert at_the_low.mean() == pytest.approx(140 - 60, abs=3)


def test_a_stop_counts_as_no_work() -> None:
    stopped = rough(1, 60, 120, 300, state=STOPPED, started=EIGHT, stopped_at=EIGHT + 60)
    assert np.array_equal(work(stopped, now=EIGHT + 400), work(stopped, now=EIGHT + 60))


def test_a_delivery_comes_on_a_whole_day_and_is_at_hand_when_that_has_ended() -> None:
    drawn = draw_arrivals(plan(phase(1, 60), deliveries=(coming("02", "04", "09"),)), EIGHT, COUNT, BETA_PERT)
    days = {says(CREW, int(moment)) for moment in np.unique(drawn[1])}
    assert {f"2026-12-{day:02} 00:00" for day in range(3, 9)} <= days
    assert days <= {f"2026-12-{day:02} 00:00" for day in range(3, 11)}, "the ends of its days"
    middle = says(CREW, int(np.median(drawn[1])))
    assert middle in ("2026-12-05 00:00", "2026-12-06 00:00"), "mean (2 + 4 * 4 + 9) / 6 = 4.5"


def test_an_overdue_delivery_comes_today_at_the_earliest() -> None:
    late = coming("01", "02", "05")
    drawn = draw_arrivals(plan(phase(1, 60), deliveries=(late,)), at(CREW, "2026-12-04 09:00"), COUNT, BETA_PERT)
    assert {says(CREW, int(moment)) for moment in np.unique(drawn[1])} == {"2026-12-05 00:00", "2026-12-06 00:00"}
    over = draw_arrivals(plan(phase(1, 60), deliveries=(late,)), at(CREW, "2026-12-14 09:00"), 9, BETA_PERT)
    assert {says(CREW, int(moment)) for moment in over[1]} == {"2026-12-15 00:00"}


def test_what_has_arrived_or_is_waited_for_by_nobody_is_not_drawn() -> None:
    here = coming("02", "04", "09", arrived=EIGHT)
    nobody = Delivery(2, (), *[date(2026, 12, 4)] * 3)
    assert draw_arrivals(plan(phase(1, 60), deliveries=(here, nobody)), EIGHT, 9, BETA_PERT) == {}


def test_two_deliveries_of_the_same_dates_are_not_late_together() -> None:
    both = (coming("02", "04", "28", 1), coming("02", "04", "28", 2))
    drawn = draw_arrivals(plan(phase(1, 60), deliveries=both), EIGHT, COUNT, BETA_PERT)
    assert abs(np.corrcoef(drawn[1], drawn[2])[0, 1]) < 0.06


def test_the_soonest_plan_expects_each_delivery_on_its_first_day() -> None:
    doubtful, sure, here = coming("02", "04", "09"), coming("03", "03", "03", 2), coming("02", "04", "09", 3, arrived=5)
    soon = soonest_deliveries(plan(phase(1, 60), deliveries=(doubtful, sure, here))).deliveries
    assert [one.likely for one in soon[:2]] == [date(2026, 12, 2), date(2026, 12, 3)]
    assert [(one.low, one.high, one.item) for one in soon] == [
        (one.low, one.high, one.item) for one in (doubtful, sure, here)
    ]
    certain = plan(phase(1, 60), deliveries=(sure,))
    assert soonest_deliveries(certain) is certain
