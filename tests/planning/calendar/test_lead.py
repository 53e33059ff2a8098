"""From the day of the answer to the day on which held work may start, and back."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.lead import allowed_day, answer_by
from portal.planning.calendar.working_calendar import WorkCalendar

# December 2026: the 5th and 6th are a weekend, the 25th is a holiday (a Friday).
MONDAY, TUESDAY, THURSDAY, FRIDAY = (date(2026, 12, day) for day in (7, 8, 3, 4))
SATURDAY, SUNDAY = date(2026, 12, 5), date(2026, 12, 6)


@pytest.mark.parametrize(
    ("answered", "lead", "allowed"),
    [
        (THURSDAY, 0, THURSDAY),
        (THURSDAY, 1, FRIDAY),
        (FRIDAY, 1, MONDAY),
        (SATURDAY, 0, MONDAY),
        (SUNDAY, 1, TUESDAY),  # counts as answered on Monday
        (date(2026, 12, 24), 1, date(2026, 12, 28)),  # over Christmas and the weekend
        (date(2026, 12, 1), 5, TUESDAY),  # Wed, Thu, Fri, Mon, Tue
    ],
)
def test_the_work_may_start_after_so_many_working_days(
    crew: WorkCalendar, answered: date, lead: int, allowed: date
) -> None:
    assert allowed_day(crew, answered, lead) == allowed


@pytest.mark.parametrize(
    ("start", "lead", "latest"),
    [
        (FRIDAY, 1, THURSDAY),
        (MONDAY, 1, FRIDAY),
        (MONDAY, 0, MONDAY),
        (SUNDAY, 0, FRIDAY),  # by the clock, on a day off: an answer on Saturday would count as one on Monday
        (date(2026, 12, 28), 1, date(2026, 12, 24)),
        (TUESDAY, 5, date(2026, 12, 1)),
    ],
)
def test_the_last_day_for_the_answer(crew: WorkCalendar, start: date, lead: int, latest: date) -> None:
    assert answer_by(crew, start, lead) == latest


@settings(max_examples=40, deadline=None)
@given(start=st.dates(date(2026, 1, 5), date(2027, 12, 20)), lead=st.integers(0, 40))
def test_answering_by_then_is_early_enough_and_a_working_day_later_is_not(
    crew: WorkCalendar, start: date, lead: int
) -> None:
    latest = answer_by(crew, start, lead)
    assert allowed_day(crew, latest, lead) <= start
    assert allowed_day(crew, latest + timedelta(days=1), lead) > start


@settings(max_examples=40, deadline=None)
@given(answered=st.dates(date(2026, 1, 5), date(2027, 12, 20)), lead=st.integers(0, 40))
def test_the_count_is_that_of_numpy(crew: WorkCalendar, answered: date, lead: int) -> None:
    days = (date(2025, 12, 1) + timedelta(days=n) for n in range(900))
    off = [day for day in days if day.weekday() < 5 and not crew.is_working_day(day)]
    assert allowed_day(crew, answered, lead) == np.busday_offset(
        answered, lead, roll="forward", holidays=off
    ).astype(date)
