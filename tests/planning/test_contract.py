"""The days in which a contract can be cancelled. The rule's own examples are in tests/published."""

from datetime import date

import pytest

from portal.planning.contract import CancellationWindow, cancellation_window

# December 2026: Christmas is a Friday. November 2026: Veterans Day, the 11th, is a Wednesday.


@pytest.mark.parametrize(
    ("signed", "ends"),
    [
        (date(2026, 12, 1), date(2026, 12, 4)),  # Tue: Wed, Thu, Fri
        (date(2026, 12, 3), date(2026, 12, 7)),  # Thu: Fri, Sat, Mon; a Saturday is a business day
        (date(2026, 12, 4), date(2026, 12, 8)),  # Fri: Sat, Mon, Tue
        (date(2026, 12, 5), date(2026, 12, 9)),  # Sat: Mon, Tue, Wed
        (date(2026, 12, 6), date(2026, 12, 9)),  # Sun: Mon, Tue, Wed
        (date(2026, 12, 22), date(2026, 12, 26)),  # Tue: Wed, Thu, Sat; Fri is Christmas
        (date(2026, 11, 9), date(2026, 11, 13)),  # Mon: Tue, Thu, Fri; Wed is Veterans Day
    ],
)
def test_it_ends_with_the_third_business_day_after_signing(signed: date, ends: date) -> None:
    window = cancellation_window(signed)
    assert (window.signed, window.ends, window.by_statute) == (signed, ends, ends)


def test_of_a_holiday_observed_in_lieu_the_later_reading_is_shown() -> None:
    """Independence Day 2026 is a Saturday, observed on Fri Jul 3. Signed on Tue Jun 30: Wed, Thu, Fri by the statute's
    own days; with Friday left out as well, Saturday the holiday and Sunday none, it is Mon Jul 6."""
    window = cancellation_window(date(2026, 6, 30))
    assert (window.by_statute, window.ends) == (date(2026, 7, 3), date(2026, 7, 6))


def test_a_new_year_observed_in_the_year_before_counts_in_that_year() -> None:
    """New Year's Day 2028 is a Saturday, observed on Fri Dec 31, 2027. Signed on Tue Dec 28: Wed, Thu, Fri; or without
    Friday, with Saturday the holiday and Sunday none: Mon Jan 3."""
    window = cancellation_window(date(2027, 12, 28))
    assert (window.by_statute, window.ends) == (date(2027, 12, 31), date(2028, 1, 3))


def test_it_covers_the_day_of_signing_and_the_last_day() -> None:
    window = CancellationWindow(date(2026, 12, 1), date(2026, 12, 4), date(2026, 12, 3))
    covered = [day for day in range(1, 8) if window.covers(date(2026, 12, day))]
    assert covered == [1, 2, 3, 4]
    assert not window.covers(date(2026, 11, 30))
