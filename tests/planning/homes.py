"""Small builders for what a household can use: rooms, and phases that take from them, in as few words as needed."""

from collections.abc import Iterable

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.services import RoomServices, Take, read_services
from portal.planning.household.tonight import HouseState, ServiceState
from tests.planning.houses import CREW_WEEK, at

CREW = WorkCalendar.of(CREW_WEEK, "America/Chicago")
"""Monday to Friday, 8:00 to 16:30, Minnesota's holidays off."""
KITCHEN, BATH, HALL, UPSTAIRS = 1, 2, 3, 4
WAYS = [{"service": "way_through", "name": "front door"}, {"service": "way_through", "name": "back door"}]


def room(number: int, name: str, *services: object) -> RoomServices:
    return RoomServices(number, name, read_services(list(services)))


def rooms() -> tuple[RoomServices, ...]:
    return (
        room(KITCHEN, "Kitchen", "water", "drain", "sink", "cooktop", "power"),
        room(BATH, "Hall bath", "water", "drain", "sink", "bath", "toilet", "power"),
        room(HALL, "Hall", *WAYS),
    )


def house(calendar: WorkCalendar, *phases: PhaseTimes, also: tuple[RoomServices, ...] = ()) -> HouseServices:
    return HouseServices((*rooms(), *also), phases, calendar)


def took(
    calendar: WorkCalendar, number: int, name: str, start: str, finish: str | None, in_room: int | None, *takes: Take,
    visits: Iterable[tuple[str, str]] = (), done: bool = False,
) -> PhaseTimes:
    ended = at(calendar, finish) if finish else None
    booked = tuple((at(calendar, starts), at(calendar, ends)) for starts, ends in visits)
    return PhaseTimes(number, name, at(calendar, start), ended, in_room, takes, booked, done=done)


def found(state: HouseState, number: int, service: str, name: str = "") -> ServiceState:
    services = next(one.services for one in state.rooms if one.room == number)
    return next(one for one in services if (one.service, one.name) == (service, name))
