"""What has happened, and how the rest of the plan moves by it."""

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.planning.schedule.plan import Phase
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def when(text: str) -> int:
    return at(CREW, text)


def found(*phases: Phase, now: str, **more: object) -> Schedule:
    return schedule(plan_of(CREW, START, phases, **more), when(now))


def starts(of: Schedule, number: int) -> str:
    return says(CREW, of.of(number).early_start)


def test_a_phase_that_started_late_moves_the_rest() -> None:
    late = phase(1, DAY, state="under_way", started=when("2026-12-02 08:00"))
    of = found(late, phase(2, 60, [1]), now="2026-12-02 10:00")
    assert starts(of, 1) == "2026-12-02 08:00"
    assert says(CREW, of.of(1).early_finish) == "2026-12-02 16:30"
    assert starts(of, 2) == "2026-12-03 08:00"


def test_a_phase_that_finished_early_lets_the_next_start_earlier() -> None:
    early = phase(1, 3 * DAY, state="done", started=when(START), finished=when("2026-12-01 15:00"))
    of = found(early, phase(2, 60, [1]), now="2026-12-01 15:10")
    assert starts(of, 2) == "2026-12-01 15:10"
    assert (of.of(1).total_float, of.of(1).critical) == (0, False)
    assert says(CREW, of.of(1).late_finish) == "2026-12-01 15:00"
    assert of.critical_paths == [(2,)]


def test_a_cure_after_work_that_ended_in_the_evening_is_counted_from_then() -> None:
    done = phase(1, 60, state="done", started=when(START), finished=when("2026-12-01 19:20"))
    assert starts(found(done, phase(2, 60, [(1, 14 * 60)]), now="2026-12-02 08:00"), 2) == "2026-12-02 09:20"


def test_remaining_work_counts_from_now() -> None:
    part = phase(1, 4 * DAY, state="under_way", started=when(START), remaining=90)
    assert says(CREW, found(part, now="2026-12-02 15:30").finish) == "2026-12-03 08:30"


def test_without_a_remainder_the_work_that_was_done_is_taken_off() -> None:
    part = phase(1, 2 * DAY, state="under_way", started=when(START))
    assert says(CREW, found(part, now="2026-12-02 10:00").finish) == "2026-12-02 16:30"


def test_work_that_should_be_over_is_not_finished_in_the_past() -> None:
    long = phase(1, 60, state="under_way", started=when(START))
    assert says(CREW, found(long, now="2026-12-05 12:00").finish) == "2026-12-07 08:01"


def test_links_into_a_phase_that_was_started_no_longer_bind() -> None:
    before = phase(1, 2 * DAY, state="under_way", started=when(START))
    early = phase(2, DAY, [1], state="under_way", started=when(START))
    of = found(before, early, now=START)
    assert says(CREW, of.of(2).early_finish) == "2026-12-01 16:30"
    assert of.of(1).total_float == 0
    assert of.of(2).total_float == DAY


def test_an_inspection_ends_by_an_event_not_by_the_clock() -> None:
    rough = phase(1, DAY, state="inspection", started=when(START), inspection_at=when("2026-12-03 13:30"))
    assert starts(found(rough, phase(2, 60, [1]), now="2026-12-02 09:00"), 2) == "2026-12-03 13:30"
    assert starts(found(rough, phase(2, 60, [1]), now="2026-12-04 09:00"), 2) == "2026-12-04 09:00"


def test_an_inspection_nobody_has_booked_may_come_any_moment() -> None:
    rough = phase(1, DAY, state="inspection", started=when(START))
    of = found(rough, phase(2, 60, [1]), now="2026-12-02 09:00")
    assert starts(of, 2) == "2026-12-02 09:00"
    assert of.critical_paths == [(1, 2)]


def test_stopped_work_goes_on_when_it_is_said_to() -> None:
    stopped = phase(
        1, DAY, state="stopped", started=when(START), stopped_at=when("2026-12-01 10:00"),
        resumes_at=when("2026-12-07 08:00"),
    )
    of = found(stopped, phase(2, 60, [1]), now="2026-12-02 09:00")
    assert says(CREW, of.of(1).early_finish) == "2026-12-07 14:30"
    assert starts(of, 2) == "2026-12-07 14:30"


def test_when_nobody_knows_how_long_work_stops_it_could_go_on_now() -> None:
    stopped = phase(1, DAY, state="stopped", started=when(START), stopped_at=when("2026-12-01 10:00"))
    assert says(CREW, found(stopped, now="2026-12-02 09:00").finish) == "2026-12-02 15:30"


def test_a_job_that_rests_moves_everything_that_has_not_finished() -> None:
    under_way = phase(1, DAY, state="under_way", started=when(START), remaining=60)
    of = found(under_way, phase(2, 60), now="2026-12-02 09:00", resumes_at=when("2026-12-10 00:00"))
    assert says(CREW, of.of(1).early_finish) == "2026-12-10 09:00"
    assert starts(of, 2) == "2026-12-10 08:00"


def test_when_everything_is_done_nothing_is_critical() -> None:
    done = phase(1, 60, state="done", started=when(START), finished=when("2026-12-01 09:30"))
    of = found(done, now="2026-12-20 09:00")
    assert says(CREW, of.finish) == "2026-12-01 09:30"
    assert of.critical_paths == []


@pytest.mark.parametrize("state", ["under_way", "done"])
def test_what_happened_before_the_plan_began_is_kept(state: str) -> None:
    early = phase(
        1, DAY, state=state, started=when("2026-11-24 08:00"),
        finished=when("2026-11-24 12:00") if state == "done" else None,
    )
    assert starts(found(early, phase(2, 60, [1]), now=START), 1) == "2026-11-24 08:00"
