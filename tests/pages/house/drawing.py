"""Drawn houses in as few words as a test needs, and what is seen and read of their markup."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from xml.etree.ElementTree import Element

from portal.pages.environment import environment
from portal.pages.house.drawn_house import DrawnHouse, drawn_house
from portal.planning.household.house_ahead import house_ahead
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.services import UNTIL_DONE, RoomServices, Take
from tests.pages.reading import parsed
from tests.planning.homes import CREW, took
from tests.planning.houses import at

SVG = "{http://www.w3.org/2000/svg}"
MONDAY, TUESDAY = date(2026, 12, 7), date(2026, 12, 8)
EVENING = f"{MONDAY} 18:55"


def drawn(
    rooms: Iterable[RoomServices], *phases: PhaseTimes, when: str = EVENING, asked: Mapping[int, int] | None = None
) -> DrawnHouse:
    house = HouseServices(tuple(rooms), phases, CREW)
    return drawn_house(house_ahead(house, at(CREW, when)), CREW, asked or {}, "Tonight and Tuesday", ["Call us."])


def out(number: int, room: int, *services: str, until: str = "2026-12-15 16:00") -> PhaseTimes:
    """Out since this morning, day and night."""
    takes = [Take(service, until=UNTIL_DONE) for service in services]
    return took(CREW, number, f"Work {number}", f"{MONDAY} 08:00", until, room, *takes)


def by_day(number: int, room: int, *services: str) -> PhaseTimes:
    """Out tomorrow from 8 to 3, while the crew is there."""
    visit = (f"{TUESDAY} 08:00", f"{TUESDAY} 15:00")
    return took(CREW, number, f"Work {number}", *visit, room, *map(Take, services), visits=[visit])


@dataclass(frozen=True)
class SeenRoom:
    """`classes` of the room; `things`: symbol, classes and words of each; `text`: all its words, as they are read."""

    name: str
    classes: str
    things: list[tuple[str, str, str]]
    text: str


@dataclass(frozen=True)
class SeenHouse:
    root: Element
    rooms: list[SeenRoom]

    @property
    def text(self) -> str:
        """As it is read, white space aside."""
        return _read(self.root.find("body"))


def seen(house: DrawnHouse) -> SeenHouse:
    """The section as the page has it, read by a strict parser."""
    markup = environment.get_template("sections/house.html").render(house=house)
    root = parsed(f"<!doctype html><title>.</title>{markup}").root
    rooms = [one for one in root.iter("div") if "room" in one.get("class", "").split()]
    return SeenHouse(root, [_room(one) for one in rooms])


def _room(room: Element) -> SeenRoom:
    things = []
    for item in room.iter("li"):
        [symbol] = [use.get("href", "") for use in item.iter(f"{SVG}use")]
        things.append((symbol.removeprefix("#s-"), item.get("class", ""), "".join(item.itertext()).strip()))
    return SeenRoom(_read(room.find("h3")), room.get("class", ""), things, _read(room))


def _read(element: Element | None) -> str:
    assert element is not None
    return " ".join("".join(element.itertext()).split())
