"""The hours of a crew as a calendar of its own, beside that of the house: it comes when both let it."""

from collections.abc import Mapping, Sequence
from typing import Any

from portal.planning.calendar.week import DAYS

Week = Mapping[str, Sequence[Sequence[str]]]


def own_hours(week: Week | None, days_off: Sequence[str]) -> dict[str, Any]:
    """Give the calendar (as WorkCalendar.of reads it) of a crew's hours by weekday; None: at any hour, but for its days
    off."""
    always = {day: [["00:00", "24:00"]] for day in DAYS}
    return {"week": week or always, "holidays": None, "days_off": list(days_off)}


def both(house: Sequence[tuple[int, int]], crew: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Give the stretches (instants) that lie in a period of each of two lists, in order."""
    found = ((max(a, c), min(b, d)) for a, b in house for c, d in crew)
    return sorted((begins, ends) for begins, ends in found if begins < ends)
