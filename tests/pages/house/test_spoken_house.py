"""What the office reads out of the drawn house: the fixtures, the floors, and what to use instead."""

from portal.pages.days.house_line import house_title, instead_sentences
from portal.pages.house.drawn_house import drawn_house
from portal.pages.house.spoken_house import spoken_house
from portal.planning.household.house_ahead import house_ahead
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, KITCHEN, house, room, took
from tests.planning.houses import at

LAUNDRY = room(5, "Laundry room", {"service": "sink", "name": "tub sink"}, "water", "drain")


def said(there: HouseServices) -> list[str]:
    ahead = house_ahead(there, at(CREW, "2026-12-07 18:55"))
    drawn = drawn_house(ahead, CREW, {}, house_title(ahead), instead_sentences(ahead, CREW))
    return [one.words for one in spoken_house(drawn, ahead, CREW)]


def out(number: int, where: int, until: str, *takes: Take) -> PhaseTimes:
    return took(CREW, number, f"Work {number}", "2026-12-07 08:00", until, where, *takes)


def test_all_that_works_is_one_sentence() -> None:
    assert said(house(CREW)) == ["Tonight and Tuesday, from 4:30 pm: all works."]


def test_a_closed_floor_takes_the_fixtures_on_it_and_what_works_elsewhere_is_named() -> None:
    floor = out(1, BATH, "2026-12-09 12:00", Take("floor", until=UNTIL_DONE))
    sink = out(2, KITCHEN, "2026-12-15 16:30", Take("sink", until=UNTIL_DONE))
    lines = said(house(CREW, floor, sink, also=(LAUNDRY,)))
    assert lines[0] == "Tonight and Tuesday, from 4:30 pm, these work: tub sink in the Laundry room."
    assert "Kitchen: no sink until the evening of Tue Dec 15." in lines
    (bath,) = (one for one in lines if one.startswith("Hall bath: "))
    assert bath.startswith("Hall bath: no toilet, sink or bath until noon on Wed Dec 9, ")
    assert bath.endswith("keep off this floor until noon on Wed Dec 9.")
    assert any(line.startswith("Use the tub sink in the Laundry room.") for line in lines)
    assert not any("water works" in one for one in lines)


def test_of_a_house_without_rooms_nothing_is_said() -> None:
    assert said(HouseServices((), (), CREW)) == []
