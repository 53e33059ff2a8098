"""Hours of a visit, and the room of a phase."""

from datetime import date

import pytest

from portal.pages.where_and_when import days_of, hours_words, short_hours
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store.facts import VisitFact
from tests.house import ZONE, at


@pytest.mark.parametrize(
    ("starts", "ends", "said"),
    [
        ("2026-12-03T08:00", "2026-12-03T16:30", "8:00 am to 4:30 pm"),
        ("2026-12-03T08:00", "2026-12-04T00:00", "8:00 am to Fri Dec 4, 12:00 am"),
    ],
)  # fmt: skip
def test_an_end_on_another_day_is_named(starts: str, ends: str, said: str) -> None:
    assert hours_words(VisitFact(1, None, "", "", at(starts), at(ends)), ZONE) == said


def test_hours_are_those_of_the_house_over_a_clock_change() -> None:
    """On Sun Nov 1, 2026 the clocks of America/Chicago go back at 2 am (zoneinfo)."""
    visit = VisitFact(1, None, "", "", at("2026-10-31T23:00"), at("2026-11-01T08:00"))
    assert hours_words(visit, ZONE) == "11:00 pm to Sun Nov 1, 8:00 am"


@pytest.mark.parametrize(
    ("starts", "ends", "said"),
    [
        ("2026-12-03T08:00", "2026-12-03T16:30", "8:00 to 4:30"),
        ("2026-12-03T08:30", "2026-12-03T12:00", "8:30 to noon"),
        ("2026-12-03T12:00", "2026-12-03T12:45", "noon to 12:45"),
        ("2026-12-03T06:45", "2026-12-03T07:00", "6:45 am to 7:00"),
        ("2026-12-03T18:59", "2026-12-03T19:00", "6:59 to 7:00 pm"),
        ("2026-12-03T00:00", "2026-12-03T23:30", "12:00 am to 11:30 pm"),
        ("2026-12-03T08:00", "2026-12-04T16:30", "8:00 am to Fri Dec 4, 4:30 pm"),
    ],
)  # fmt: skip
def test_short_hours_can_be_mistaken_for_no_others(starts: str, ends: str, said: str) -> None:
    assert short_hours(VisitFact(1, None, "", "", at(starts), at(ends)), ZONE) == said


@pytest.mark.parametrize(
    ("starts", "ends", "days"),
    [
        ("2026-12-03T08:00", "2026-12-03T16:30", [3]),
        ("2026-12-03T08:00", "2026-12-04T00:00", [3]),
        ("2026-12-03T08:00", "2026-12-08T10:00", [3, 4, 7, 8]),
        ("2026-12-04T08:00", "2026-12-06T10:00", [4, 6]),
    ],
)  # fmt: skip
def test_a_long_visit_stands_at_its_ends_and_the_working_days_between(starts: str, ends: str, days: list[int]) -> None:
    calendar = WorkCalendar.of({"week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "thu", "fri")}}, ZONE)
    found = days_of(VisitFact(1, None, "", "", at(starts), at(ends)), calendar)
    assert list(found) == [date(2026, 12, day) for day in days]
