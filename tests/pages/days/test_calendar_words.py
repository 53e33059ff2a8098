"""A working calendar in a few words."""

from typing import Any

import pytest

from portal.pages.days.calendar_words import calendar_words

DAY = [["08:00", "16:30"]]
WEEK = dict.fromkeys(("mon", "tue", "wed", "thu", "fri"), DAY)


@pytest.mark.parametrize(
    ("calendar", "words"),
    [
        ({"week": WEEK}, "Mon to Fri 8:00 to 4:30"),
        ({"week": WEEK, "holidays": {"country": "US", "subdivision": "MN", "except": ["Veterans Day"]}},
         "Mon to Fri 8:00 to 4:30, holidays of Minnesota but 1"),
        ({"week": {"mon": DAY, "tue": DAY, "thu": DAY}, "holidays": {"country": "US", "subdivision": None}},
         "Mon and Tue 8:00 to 4:30, Thu 8:00 to 4:30, holidays of US"),
        ({"week": {"sat": [["06:00", "12:00"], ["13:00", "24:00"]]}, "days_off": ["2026-11-27"],
          "half_days": {"2026-12-24": DAY, "2026-12-31": DAY}},
         "Sat 6:00 am to noon and 1:00 to midnight, 1 other day off, 2 days with other hours"),
    ],
)  # fmt: skip
def test_days_that_are_alike_stand_together(calendar: dict[str, Any], words: str) -> None:
    assert calendar_words(calendar) == words
