"""The cancellation window against the rule's text and the worked examples of its twin, Regulation Z."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.contract import cancellation_window


@pytest.mark.parametrize(
    ("signed", "by_statute", "ends"),
    [
        # 16 CFR 429.0(f), 429.1: Thanksgiving and the Sunday are no business days, the Saturday is.
        ("2026-11-25", "2026-11-30", "2026-11-30"),
        ("2026-06-05", "2026-06-09", "2026-06-09"),
        # Friday Jul 3, 2026 is only the day in lieu of Saturday Jul 4.
        ("2026-07-01", "2026-07-06", "2026-07-07"),
        # 12 CFR 1026.2(a)(6): a closing on Friday Jul 2, 2021 ends Tuesday Jul 6; Monday Jul 5 is the day in lieu.
        ("2021-07-02", "2021-07-06", "2021-07-07"),
    ],
)
def test_windows_of_the_worked_examples(signed: str, by_statute: str, ends: str) -> None:
    window = cancellation_window(date.fromisoformat(signed))
    assert (window.by_statute.isoformat(), window.ends.isoformat()) == (by_statute, ends)


@pytest.mark.parametrize(
    ("signed", "third"),
    [("2026-06-30", "2026-07-03"), ("2022-06-16", "2022-06-20")],
)
def test_a_day_in_lieu_is_a_business_day_by_statute(signed: str, third: str) -> None:
    """12 CFR 1026.2(a)(6), comment 2: Jul 3, 2026 is a business day, and Jun 20, 2022 is."""
    assert cancellation_window(date.fromisoformat(signed)).by_statute.isoformat() == third


def test_new_year_in_lieu_lies_in_the_old_year() -> None:
    """Jan 1, 2028 is a Saturday: Friday Dec 31, 2027 is left out by the later reading."""
    window = cancellation_window(date(2027, 12, 28))
    assert (window.by_statute, window.ends) == (date(2027, 12, 31), date(2028, 1, 3))


def test_a_date_is_in_the_window_up_to_its_last_day() -> None:
    window = cancellation_window(date(2026, 6, 5))
    inside = [window.covers(date(2026, 6, 4) + timedelta(days=n)) for n in range(7)]
    assert inside == [False, True, True, True, True, True, False]


@given(signed=st.dates(date(2022, 1, 1), date(2035, 12, 31)))
@settings(max_examples=40, deadline=None)
def test_the_window_is_three_days_at_least_and_never_ends_on_a_sunday(signed: date) -> None:
    window = cancellation_window(signed)
    assert window.ends >= window.by_statute >= signed + timedelta(days=3)
    assert window.ends.weekday() != 6
    assert (window.ends - signed).days <= 8
