"""Booked visits that can't be kept."""

from dataclasses import replace
from datetime import date

import pytest

from portal.pages.unkept_visits import reason_words
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.unkept_visits import Conflict, conflicts
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Decision, Delivery, Phase, Visit
from tests.planning.houses import CREW_WEEK, DAY, at, phase, plan_of, says

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
START = "2026-12-01 08:00"


def visit(number: int, starts: str, ends: str, of: int | None = None, crew: str = "stone", project: int = 0) -> Visit:
    return Visit(number, crew, at(CREW, starts), at(CREW, ends), phase=of, project=project)


def found(
    *phases: Phase, visits: list[Visit], now: str = START, elsewhere: list[Visit] | None = None, **more: object
) -> list[Conflict]:
    plan = plan_of(CREW, START, phases, visits=tuple(visits), **more)
    return conflicts(schedule(plan, at(CREW, now)), elsewhere or [])


def first(conflict: Conflict) -> str:
    assert conflict.first_that_works is not None
    return says(CREW, conflict.first_that_works)


def test_a_visit_that_can_be_kept_is_no_conflict() -> None:
    assert found(phase(1, DAY), phase(2, 60, [1]), visits=[visit(1, "2026-12-02 08:00", "2026-12-02 12:00", 2)]) == []


def test_a_crew_before_the_cure_ends() -> None:
    booked = visit(1, "2026-12-02 08:00", "2026-12-02 10:00", 2)
    (one,) = found(phase(1, 240), phase(2, 60, [(1, 24 * 60)]), visits=[booked])
    assert (one.kind, first(one)) == ("cure", "2026-12-02 12:00")
    assert reason_words(one.reason) == "The wait after “phase 1” is not over before Wed Dec 2, 12:00 pm."


def test_a_crew_twenty_minutes_before_the_seam_has_set() -> None:
    """Common practice: a stone seam's two-part adhesive is set in 20 to 25 minutes."""
    booked = visit(1, "2026-12-01 09:00", "2026-12-01 10:00", 2)
    (one,) = found(phase(1, 60), phase(2, 60, [(1, 25)]), visits=[booked])
    assert (one.kind, first(one)) == ("cure", "2026-12-01 09:25")


def test_a_crew_before_the_delivery_is_here() -> None:
    delivery = Delivery(1, (1,), *[date(2026, 12, 3)] * 3, item="The faucet")
    (one,) = found(phase(1, 60), visits=[visit(1, "2026-12-03 08:00", "2026-12-03 10:00", 1)], deliveries=(delivery,))
    assert (one.kind, first(one)) == ("delivery", "2026-12-04 08:00")
    assert reason_words(one.reason) == "The faucet is not expected before Thu Dec 3 is over."


def test_a_crew_before_the_answer_can_help() -> None:
    booked = [visit(1, "2026-12-02 08:00", "2026-12-02 10:00", 1)]
    (one,) = found(phase(1, 60, held_by=(7,)), visits=booked, decisions=(Decision(7, 3, 2),))
    assert (one.kind, first(one)) == ("held", "2026-12-03 08:00")
    assert "decision 3" in reason_words(one.reason) and "Thu Dec 3" in reason_words(one.reason)


def test_a_held_phase_that_can_still_be_answered_in_time_is_no_conflict() -> None:
    booked = [visit(1, "2026-12-03 08:00", "2026-12-03 10:00", 1)]
    assert found(phase(1, 60, held_by=(7,)), visits=booked, decisions=(Decision(7, 3, 2),)) == []


def test_a_phase_that_cannot_start_yet() -> None:
    booked = visit(1, "2026-12-02 08:00", "2026-12-02 10:00", 2)
    (one,) = found(phase(1, 2 * DAY), phase(2, 60, [1]), visits=[booked])
    assert (one.kind, first(one)) == ("too_early", "2026-12-03 08:00")
    assert reason_words(one.reason) == "“phase 1” is not finished before Wed Dec 2, 4:30 pm."


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"not_before": at(CREW, "2026-12-07 00:00")}, "“phase 1” is not to start before Mon Dec 7."),
        ({"resumes": "2026-12-07 09:00"}, "The job rests until Mon Dec 7, 9:00 am."),
    ],
)
def test_a_date_that_was_set_is_named(more: dict[str, object], words: str) -> None:
    resumes = more.pop("resumes", None)
    (one,) = found(
        phase(1, 60, **more), visits=[visit(1, "2026-12-02 08:00", "2026-12-02 10:00", 1)],
        resumes_at=None if resumes is None else at(CREW, str(resumes)),
    )
    assert (one.kind, reason_words(one.reason)) == ("too_early", words)


def test_a_day_off_and_the_first_working_day_after_it() -> None:
    (one,) = found(visits=[visit(1, "2026-12-05 08:00", "2026-12-05 10:00")])
    assert (one.kind, first(one)) == ("day_off", "2026-12-07 08:00")
    assert reason_words(one.reason) == "Sat Dec 5 is a day off."


@pytest.mark.parametrize(
    ("starts", "ends", "works"),
    [("07:00", "09:00", "2026-12-02 08:00"), ("15:30", "17:00", "2026-12-03 08:00")],
)
def test_out_of_hours_moves_to_when_the_whole_visit_fits(starts: str, ends: str, works: str) -> None:
    (one,) = found(visits=[visit(1, f"2026-12-02 {starts}", f"2026-12-02 {ends}")])
    assert (one.kind, first(one)) == ("out_of_hours", works)


def test_the_same_crew_twice_at_once_in_two_projects() -> None:
    mine = visit(1, "2026-12-02 08:00", "2026-12-02 10:00", crew="Stone ")
    theirs = visit(2, "2026-12-02 09:00", "2026-12-02 11:30", project=5)
    (one,) = found(visits=[mine], elsewhere=[theirs])
    assert (one.kind, one.other, first(one)) == ("crew_twice", 2, "2026-12-02 11:30")
    assert "at another house Wed Dec 2, 9:00 am" in reason_words(one.reason)


def test_in_one_project_only_the_later_visit_is_told() -> None:
    early, late = (visit(n, f"2026-12-02 0{n + 7}:00", "2026-12-02 12:00") for n in (1, 2))
    assert [(one.visit, one.other) for one in found(visits=[early, late])] == [(2, 1)]


def test_crews_of_other_names_and_visits_that_touch_do_not_clash() -> None:
    visits = [
        visit(1, "2026-12-02 08:00", "2026-12-02 10:00"), visit(2, "2026-12-02 10:00", "2026-12-02 11:00"),
        visit(3, "2026-12-02 08:00", "2026-12-02 10:00", crew="tile"),
        visit(4, "2026-12-02 08:00", "2026-12-02 10:00", crew=""),
        visit(5, "2026-12-02 08:00", "2026-12-02 10:00", crew=""),
    ]
    assert found(visits=visits) == []


def test_the_first_time_that_works_suits_every_conflict_of_the_visit() -> None:
    """The cure ends Wednesday noon, the crew is elsewhere until the day's end, and Saturday is off anyway."""
    mine = visit(1, "2026-12-02 06:00", "2026-12-02 08:30", 2)
    theirs = visit(2, "2026-12-02 08:00", "2026-12-02 15:00", project=5)
    found_all = found(phase(1, 240), phase(2, 60, [(1, 24 * 60)]), visits=[mine], elsewhere=[theirs])
    assert {one.kind for one in found_all} == {"cure", "out_of_hours", "crew_twice"}
    assert {first(one) for one in found_all} == {"2026-12-03 08:00"}


def test_a_crew_that_has_come_is_not_told_that_it_is_too_early() -> None:
    booked = visit(1, "2026-12-02 08:00", "2026-12-02 12:00", 1)
    assert found(phase(1, 60), visits=[booked], now="2026-12-02 09:00") == []
    begun = phase(1, 60, state="under_way", started=at(CREW, "2026-12-02 08:10"))
    assert found(begun, visits=[booked], now="2026-12-02 09:00") == []


def test_visits_that_are_over_are_left_alone() -> None:
    assert found(visits=[visit(1, "2026-12-05 08:00", "2026-12-05 10:00")], now="2026-12-05 10:00") == []


def test_a_visit_longer_than_any_day_starts_when_its_crew_is_free() -> None:
    mine = visit(1, "2026-12-02 08:00", "2026-12-03 16:30")
    theirs = visit(2, "2026-12-01 08:00", "2026-12-02 12:00", project=5)
    (one,) = found(visits=[mine], elsewhere=[theirs])
    assert (one.kind, first(one)) == ("crew_twice", "2026-12-02 12:00")


def test_a_visit_outside_the_hours_of_its_crew_or_on_its_day_off_can_not_be_kept() -> None:
    hours = WorkCalendar.of({"week": {"wed": [["08:00", "12:00"]], "thu": [["08:00", "12:00"]]}}, "America/Chicago")
    late = replace(visit(1, "2026-12-02 11:00", "2026-12-02 13:00"), hours=hours)
    off = replace(visit(2, "2026-12-04 08:00", "2026-12-04 10:00"), hours=hours)
    kept = replace(visit(3, "2026-12-03 10:00", "2026-12-03 12:00"), hours=hours)
    one, other = found(visits=[late, off, kept])
    assert (one.visit, one.kind, first(one)) == (1, "crew_hours", "2026-12-03 08:00")
    assert (other.visit, other.kind, first(other)) == (2, "crew_off", "2026-12-09 08:00")
