"""What works in the house from the end of the work day to the next morning, room by room, until when, and why."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from portal.planning.household.house_services import HouseServices, services_of
from portal.planning.household.outages import NEVER, Because, Closure, Outage, Span, in_window, outages_of
from portal.planning.household.services import BURDENS, RoomServices, Service

NO_USE_ELSEWHERE = ("floor", "power", "heat", "drain")
"""Of these, another one that works in another room is of no use."""


@dataclass(frozen=True, slots=True)
class ServiceState:
    """One service (or burden) of a room in a window.

    `usable`: all through the window (a burden: there is none). If not: out `since` (an instant, the start of the window
    at the earliest) `until` (None: nobody knows), `why` (the phases that it ends with), `back` (whether all of them
    give back what an earlier phase took), `phases` (ids of those that took it), `instead` (what the firm has written to
    do; empty where it has not), `other` (name and room of another of the kind that works; None where there is none, or
    it would be of no use).
    """

    service: str
    name: str
    usable: bool
    since: int | None = None
    until: int | None = None
    why: tuple[Because, ...] = ()
    phases: tuple[int, ...] = ()
    instead: str = ""
    back: bool = False
    other: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class RoomState:
    """`burdens`: noise and dust in the room, only when there is some."""

    room: int
    name: str
    services: tuple[ServiceState, ...]
    burdens: tuple[ServiceState, ...] = ()


@dataclass(frozen=True, slots=True)
class HouseState:
    """All rooms from `begins` to `ends` (instants) of a `day`."""

    day: date
    begins: int
    ends: int
    rooms: tuple[RoomState, ...]


def tonight(house: HouseServices, day: date) -> HouseState:
    """Tell the state of each room by service from the end of work on `day` to the next morning."""
    window = house.night(day)
    return _state(house, day, window, house.outages, house.lasting)


def in_work_hours(house: HouseServices, day: date) -> HouseState | None:
    """Tell the same for the hours of work on `day`; None on a day without work."""
    hours = house.work_day(day)
    return None if hours.window is None else _state(house, day, hours.window, hours.outages, hours.closures)


def _state(
    house: HouseServices, day: date, window: Span, outages: dict[tuple[int, Service], tuple[Outage, ...]],
    closures: Sequence[Closure],
) -> HouseState:
    out = {key: in_window(found, window) for key, found in outages.items()}
    working = [
        (room, service) for room in house.rooms for service in services_of(room) if out[room.room, service] is None
    ]
    rooms = tuple(
        RoomState(
            room.room, room.name,
            tuple(service_state(service, out[room.room, service], working) for service in services_of(room)),
            _burdens(room, closures, window),
        )
        for room in house.rooms
    )
    return HouseState(day, *window, rooms)


def service_state(
    service: Service, outage: Outage | None, working: Sequence[tuple[RoomServices, Service]]
) -> ServiceState:
    """Tell the state of a service by its outage, None where there is none. `working`: what works meanwhile."""
    if outage is None:
        return ServiceState(service.service, service.name, usable=True)
    own = next((one.take.instead for one in outage.closures if one.take.instead), "")
    return ServiceState(
        service.service, service.name, usable=False, since=outage.start,
        until=None if outage.end == NEVER else outage.end,
        why=tuple(dict.fromkeys(one.why for one in outage.closures)),
        phases=tuple(dict.fromkeys(one.phase for one in outage.closures)),
        instead=own,
        back={one.why for one in outage.closures} == {one.why for one in outage.closures if one.back},
        other=_other(service, working),
    )


def _other(service: Service, working: Sequence[tuple[RoomServices, Service]]) -> tuple[str, str] | None:
    if service.service in NO_USE_ELSEWHERE:
        return None
    return next(((other.name, room.name) for room, other in working if other.service == service.service), None)


def _burdens(room: RoomServices, closures: Sequence[Closure], window: Span) -> tuple[ServiceState, ...]:
    states = []
    for burden in BURDENS:
        service = Service(burden)
        outage = in_window(outages_of(room.room, service, closures), window)
        if outage is not None:
            states.append(service_state(service, outage, ()))
    return tuple(states)
