"""The schedule of a real house: crew hours, cures, deliveries, holds."""

from datetime import date

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.network import LoopError, UnknownPredecessor
from portal.planning.schedule.plan import Delivery, Phase
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of, says

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


def test_a_loop_is_refused_with_the_names_in_it() -> None:
    with pytest.raises(LoopError) as refused:
        found(phase(1, 60), phase(2, 60, [1, 4]), phase(3, 60, [2]), phase(4, 60, [3]), phase(5, 60, [4]))
    assert refused.value.names[0] == refused.value.names[-1]
    assert set(refused.value.names) == {"phase 2", "phase 3", "phase 4"}


def test_an_unknown_predecessor_is_refused() -> None:
    with pytest.raises(UnknownPredecessor, match="phase 1 follows phase 9"):
        found(phase(1, 60, [9]))


def test_a_delay_within_the_free_float_disturbs_nobody_and_within_the_total_float_not_the_finish() -> None:
    """Phase 2 takes a day and is followed after a wait of 20 hours by phase 3; phase 1 takes four days beside them."""
    phases = [phase(1, 4 * DAY), phase(2, DAY), phase(3, DAY, [(2, 20 * 60)])]
    pure = found(*phases)
    free, total = pure.of(2).free_float, pure.of(2).total_float
    assert starts(pure, 3) == "2026-12-02 12:30", "16:30 and 20 hours"
    # The finish is Fri 16:30, so phase 3 may start on Fri at 8:00, and phase 2 end 20 hours before, on Thu at 12:00.
    assert (free, total) == (0, DAY + 240)
    assert says(CREW, pure.of(2).late_finish) == "2026-12-03 12:00"

    def later(minutes: int) -> Schedule:
        moved = phase(2, DAY, not_before=CREW.add(at(CREW, START), minutes) if minutes else None)
        return found(phases[0], moved, phases[2])

    assert later(total).finish == pure.finish
    assert later(total + 1).finish > pure.finish


def test_free_float_before_a_wait_is_what_the_night_takes_up() -> None:
    """Phase 1 ends at noon; 24 hours later is noon. It might end at 12:00 on the next day, not before: none to spare.
    With a wait of 12 hours the wait ends at midnight, and until 4:30 pm phase 1 might have been late."""
    assert found(phase(1, 240), phase(2, 60, [(1, 24 * 60)])).of(1).free_float == 0
    night = found(phase(1, 240), phase(2, 60, [(1, 12 * 60)]))
    assert starts(night, 2) == "2026-12-02 08:00"
    assert night.of(1).free_float == night.of(1).total_float == 270


def test_the_schedule_of_a_phase_is_found_by_its_id() -> None:
    of = found(phase(8, 60, [3]), phase(3, 30))
    assert [dates.phase for dates in of.phases] == [3, 8], "in the order of the network"
    assert of.of(8).early_start == of.of(3).early_finish == at(CREW, "2026-12-01 08:30")
    with pytest.raises(KeyError):
        of.of(4)


def test_a_phase_that_is_done_without_a_start_has_its_finish_for_one() -> None:
    done = found(phase(1, 60, state="done", finished=at(CREW, "2026-11-30 12:00"))).of(1)
    assert {done.early_start, done.late_start, done.early_finish, done.late_finish} == {at(CREW, "2026-11-30 12:00")}
