"""Calendars that the planning tests share."""

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from tests.planning.houses import ALWAYS, CREW_WEEK


@pytest.fixture(scope="session")
def crew() -> WorkCalendar:
    """Monday to Friday, 8:00 to 16:30, Minnesota's holidays off."""
    return WorkCalendar.of(CREW_WEEK, "America/Chicago")


@pytest.fixture(scope="session")
def always() -> WorkCalendar:
    """Day and night: work time is clock time, as in the textbooks."""
    return WorkCalendar.of(ALWAYS, "UTC")
