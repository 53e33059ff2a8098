"""Hours of a visit, and the room of a phase."""

import pytest

from portal.pages.where_and_when import hours_words
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
