"""The cancellation window after a contract was signed at the buyer's home.

16 CFR 429 (cooling-off rule): the buyer may cancel until midnight of the third business day after signing, and a
business day is any calendar day except Sunday or a federal holiday (429.0(f), 429.1). The rule doesn't say whether a
day in lieu counts as the holiday (Jul 3, 2026 for Saturday Jul 4); Regulation Z, its twin, says it doesn't (12 CFR
1026.2(a)(6), comment 2). We show the later of the two readings. Advice for planning, not law: the contract governs.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

BUSINESS_DAYS = 3

# Names by which `holidays` marks a day in lieu.
_IN_LIEU = "(observed)"


@dataclass(frozen=True, slots=True)
class CancellationWindow:
    """The days from signing a contract until it can no longer be cancelled. `ends`: the last day on which the buyer may
    still cancel, until its midnight. `by_statute`: the earlier reading, with only the holidays' own dates left out."""

    signed: date
    ends: date
    by_statute: date

    def covers(self, day: date) -> bool:
        """Tell whether the contract may still be cancelled on that day."""
        return self.signed <= day <= self.ends


def cancellation_window(signed: date) -> CancellationWindow:
    """Give the window of a contract signed on this day; whether the rule applies at all is for the firm to say."""
    by_statute = _third_business_day(signed, _statutory)
    without_in_lieu = _third_business_day(signed, _statutory_or_in_lieu)
    return CancellationWindow(signed, max(by_statute, without_in_lieu), by_statute)


def _third_business_day(signed: date, holidays: Callable[[int], frozenset[date]]) -> date:
    day, left = signed, BUSINESS_DAYS
    while left:
        day += timedelta(days=1)
        # A New Year's Day in lieu lies in the year before.
        if day.weekday() != 6 and day not in holidays(day.year):
            left -= 1
    return day


def _statutory(year: int) -> frozenset[date]:
    """The holidays of 5 U.S.C. 6103(a) on their own dates."""
    return frozenset(day for day, name in _federal(year) if _IN_LIEU not in name)


def _statutory_or_in_lieu(year: int) -> frozenset[date]:
    return frozenset(day for day, _ in _federal(year))


def _federal(year: int) -> list[tuple[date, str]]:
    # Imported here: a worker only needs it once a project has a contract date.
    import holidays

    return list(holidays.country_holidays("US", years=[year], language="en_US").items())
