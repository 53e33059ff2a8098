"""Two weeks of what works at home, a word a day."""

from datetime import date

from portal.pages.paper.tonight_table import NIGHT, NO, NONE, WORK, YES, NightWeek, tonight_weeks
from portal.planning.household.house_services import HouseServices
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, KITCHEN, house, took

THURSDAY = date(2026, 12, 3)


def rows(week: NightWeek, room: str) -> dict[str, list[str]]:
    return {row.service: row.cells for one in week.rooms if one.room == room for row in one.rows}


def test_what_is_out_at_night_and_what_only_at_work_are_told_apart() -> None:
    """Work from Thursday to Friday noon; the sealant cures into the evening."""
    pipes = Take("toilet"), Take("noise")
    at_work = took(CREW, 1, "Rough plumbing", "2026-12-03 08:00", "2026-12-04 12:00", BATH, *pipes)
    cures = Take("sink", until=UNTIL_DONE, wait=60)
    seal = took(CREW, 2, "Seal", "2026-12-04 12:00", "2026-12-04 16:30", KITCHEN, cures)
    first, second = tonight_weeks(house(CREW, at_work, seal), THURSDAY)
    assert first.days[:2] == [("Thu", "3"), ("Fri", "4")] and first.caption == "Thu Dec 3 to Wed Dec 9"
    assert rows(first, "Hall bath") == {"toilet": [WORK, WORK, *[YES] * 5], "noise": [WORK, WORK, *[NONE] * 5]}
    assert rows(first, "Kitchen") == {"sink": [YES, NO, *[YES] * 5]}
    assert first.whole == "All week long everything works: Hall."
    assert second.rooms == [] and second.whole == "All week long everything works: Kitchen, Hall bath and Hall."


def test_dust_that_stays_over_night_is_said_to() -> None:
    dust = took(CREW, 1, "Cut", "2026-12-03 08:00", "2026-12-04 12:00", KITCHEN, Take("dust", until=UNTIL_DONE))
    assert rows(tonight_weeks(house(CREW, dust), THURSDAY)[0], "Kitchen")["dust"] == [NIGHT, WORK, *[NONE] * 5]


def test_a_house_without_rooms_has_no_table() -> None:
    assert tonight_weeks(HouseServices((), (), CREW), THURSDAY) == []
