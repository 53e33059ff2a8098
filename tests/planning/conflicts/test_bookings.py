"""When a crew can come."""

from dataclasses import replace

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.bookings import DAYS_SEARCHED, first_free_time, overlap, same_crew, within_hours
from portal.planning.schedule.plan import Visit
from tests.planning.homes import CREW
from tests.planning.houses import at, says

SPLIT = WorkCalendar.of({"week": {"wed": [["08:00", "12:00"], ["13:00", "16:00"]]}}, "America/Chicago")
WEDNESDAY = "2026-12-02"
MONTH = 30 * 24 * 60


def visit(starts: str, ends: str, crew: str = "stone", number: int = 1) -> Visit:
    return Visit(number, crew, at(CREW, f"{WEDNESDAY} {starts}"), at(CREW, f"{WEDNESDAY} {ends}"))


def first(
    wanted: Visit, *booked: Visit, earliest: str = f"{WEDNESDAY} 08:00", calendar: WorkCalendar = CREW
) -> str | None:
    found = first_free_time(calendar, wanted, at(CREW, earliest), booked)
    return None if found is None else says(CREW, found)


@pytest.mark.parametrize(
    ("starts", "ends", "within"),
    [
        ("08:00", "16:30", True), ("07:59", "12:00", False), ("08:00", "16:31", False), ("12:00", "13:00", True),
        ("16:30", "16:30", False),
    ],
)
def test_within_hours_from_the_first_minute_to_the_last(starts: str, ends: str, within: bool) -> None:
    one = visit(starts, ends)
    assert within_hours(CREW, one.starts, one.ends) is within


def test_an_end_in_the_break_is_not_within_hours() -> None:
    def within(starts: str, ends: str) -> bool:
        return within_hours(SPLIT, at(SPLIT, f"{WEDNESDAY} {starts}"), at(SPLIT, f"{WEDNESDAY} {ends}"))

    assert within("10:00", "12:00") and within("10:00", "14:00")
    assert not within("10:00", "12:30") and not within("12:00", "14:00")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("stone", "Stone ", True), ("STRASSE", "straße", True), ("stone", "tile", False), ("", "", False),
        ("  ", "  ", False),
    ],
)
def test_crews_are_the_same_by_name(one: str, other: str, same: bool) -> None:
    assert same_crew(visit("08:00", "09:00", one, 1), visit("12:00", "13:00", other, 2)) is same


def test_a_visit_is_not_booked_twice_with_itself() -> None:
    assert not same_crew(visit("08:00", "09:00", number=1), visit("08:00", "09:00", number=1))


@pytest.mark.parametrize(
    ("starts", "ends", "common"),
    [
        ("09:00", "10:00", True), ("08:00", "09:01", True), ("09:59", "11:00", True), ("09:20", "09:40", True),
        ("08:00", "09:00", False), ("10:00", "11:00", False),
    ],
)
def test_visits_overlap_by_at_least_a_minute(starts: str, ends: str, common: bool) -> None:
    fixed, other = visit("09:00", "10:00"), visit(starts, ends, number=2)
    assert overlap(fixed, other) is overlap(other, fixed) is common


def test_a_free_crew_comes_as_early_as_it_may() -> None:
    assert first(visit("08:00", "10:00")) == "2026-12-02 08:00"
    assert first(visit("08:00", "10:00"), earliest=f"{WEDNESDAY} 09:15") == "2026-12-02 09:15"
    assert first(visit("08:00", "10:00"), earliest=f"{WEDNESDAY} 14:30") == "2026-12-02 14:30", "until 4:30 pm"
    assert first(visit("08:00", "10:00"), earliest=f"{WEDNESDAY} 14:31") == "2026-12-03 08:00"
    assert first(visit("08:00", "10:00"), earliest="2026-12-05 09:00") == "2026-12-07 08:00", "after the weekend"


def test_a_visit_may_go_on_over_the_break_but_not_begin_in_it() -> None:
    """From 11:30 to 2 pm with an hour of lunch; what would begin at 12:15 begins at one."""
    assert first(visit("08:00", "10:30"), earliest=f"{WEDNESDAY} 11:30", calendar=SPLIT) == "2026-12-02 11:30"
    assert first(visit("08:00", "10:30"), earliest=f"{WEDNESDAY} 12:15", calendar=SPLIT) == "2026-12-02 13:00"
    assert first(visit("08:00", "11:01"), earliest=f"{WEDNESDAY} 12:15", calendar=SPLIT) == "2026-12-09 08:00"


def test_between_two_bookings_there_must_be_room_for_the_whole_visit() -> None:
    busy = (visit("08:00", "09:00", number=2), visit("11:00", "15:00", number=3))
    assert first(visit("08:00", "10:00"), *busy) == "2026-12-02 09:00"
    assert first(visit("08:00", "10:01"), *busy) == "2026-12-03 08:00"
    assert first(visit("08:00", "09:30"), *busy, earliest=f"{WEDNESDAY} 10:00") == "2026-12-02 15:00"


def test_bookings_are_looked_at_in_the_order_of_time() -> None:
    """Given the later one first; the visit fits behind both only."""
    busy = (visit("09:30", "12:00", number=3), visit("08:00", "10:00", number=2))
    assert first(visit("08:00", "09:00"), *busy) == "2026-12-02 12:00"


def test_other_crews_are_in_nobodys_way() -> None:
    assert first(visit("08:00", "10:00"), visit("08:00", "16:00", "tile", 2)) == "2026-12-02 08:00"


def test_a_visit_longer_than_a_day_begins_when_its_crew_is_free() -> None:
    long = Visit(1, "stone", at(CREW, f"{WEDNESDAY} 08:00"), at(CREW, "2026-12-04 12:00"))
    assert first(long) == "2026-12-02 08:00"
    assert first(long, earliest="2026-12-05 12:00") == "2026-12-07 08:00"
    assert first(long, visit("09:00", "10:00", number=2)) == "2026-12-02 10:00"


def test_a_crew_that_is_booked_out_has_no_free_time() -> None:
    start = at(CREW, f"{WEDNESDAY} 08:00")
    wanted = visit("08:00", "10:00")
    assert first(wanted, Visit(2, "stone", start, start + 13 * MONTH)) == "2027-12-27 08:00", "390 days on"
    assert DAYS_SEARCHED == 400
    assert first(wanted, Visit(2, "stone", start, start + 14 * MONTH)) is None


MORNINGS = WorkCalendar.of(
    {"week": {"wed": [["06:00", "10:00"]], "fri": [["09:00", "12:00"]]}, "days_off": ["2026-12-04"]}, CREW.timezone)


def test_a_crew_with_hours_of_its_own_comes_when_both_let_it() -> None:
    """The house lets people work from 8 on, the crew until 10 on Wednesdays; its next Friday is a day off."""
    def wanted(starts: str, ends: str) -> Visit:
        return replace(visit(starts, ends), hours=MORNINGS)

    assert first(wanted("08:00", "10:00")) == "2026-12-02 08:00"
    assert first(wanted("08:00", "10:00"), visit("08:00", "08:30", number=2)) == "2026-12-09 08:00"
    assert first(wanted("08:00", "10:30")) == "2026-12-11 09:00"
    assert first(wanted("08:00", "16:00")) == "2026-12-02 08:00", "longer than any day of both"


def test_a_crew_that_never_works_when_the_house_lets_it_has_no_first_time() -> None:
    nights = WorkCalendar.of({"week": {"wed": [["00:00", "06:00"]]}}, CREW.timezone)
    assert first(replace(visit("08:00", "09:00"), hours=nights)) is None
