"""The house as it is drawn: what works from now on to the end of tomorrow's work, thing by thing, and what does not.

Before the day's work has ended it speaks of what is left of that, too; on a free day from the morning; else from this
evening on.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.planning.household.day_takes import DayTakes, day_takes, next_takes
from portal.planning.household.house_services import HouseServices, WorkDay, services_of
from portal.planning.household.outages import Outage, Span
from portal.planning.household.services import UNTIL_DONE, RoomServices, Service
from portal.planning.household.tonight import ServiceState, service_state

WORKS = "works"
OUT = "out"
UNKNOWN = "unknown"
LATER = "later"
"""How a thing stands: it works all the while; it is out as the stretch begins, until a moment or nobody knows until
when; or it works, and is out from one moment to another."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A service of a room. `state`: WORKS, OUT (`told.until` has the instant), UNKNOWN (out, and nobody knows until
    when) or LATER (out from `told.since` to `told.until`, None where nobody knows, on the `day`). `told` has the
    reason and what to do instead. `again`: it is out a second time on tomorrow's work, after that."""

    service: str
    name: str
    state: str
    told: ServiceState
    day: date | None = None
    again: ServiceState | None = None


@dataclass(frozen=True, slots=True)
class RoomAhead:
    """A room by its id and name, and its `things` as the room lists them, without its `floor`.

    `off`: nothing in it works as the stretch begins. `burdens`: noise and dust, by the day's or tomorrow's work.
    """

    room: int
    name: str
    things: tuple[Thing, ...]
    floor: Thing
    off: bool


@dataclass(frozen=True, slots=True)
class HouseAhead:
    """All rooms from `begins` to `ends` (instants), as seen on `today`.

    `at_work`: the day's work has not ended, and is told of; `free`: there is no work today, so that it speaks from the
    morning; else it speaks from the end of work. `takes`: what `today` (only while `at_work`) and `tomorrow` take and
    ask; `after`: the next day after tomorrow that does, where tomorrow takes nothing.
    """

    today: date
    tomorrow: date
    begins: int
    ends: int
    at_work: bool
    free: bool
    rooms: tuple[RoomAhead, ...]
    takes: tuple[DayTakes, ...]
    after: DayTakes | None = None


def house_ahead(house: HouseServices, now: int) -> HouseAhead:
    """Tell the state of each thing from `now` (an instant) to the end of tomorrow's work."""
    today = house.calendar.day_of(now)
    tomorrow = today + timedelta(days=1)
    periods = house.calendar.periods_on(today)
    at_work = bool(periods) and now < periods[-1][1]
    begins = max(now, house.morning(today)) if at_work else house.night(today)[0]
    days = [today, tomorrow] if at_work else [tomorrow]
    ends = max((window[1] for day in days if (window := house.work_day(day).window)), default=house.night(today)[1])
    takes = tuple(day_takes(house, day) for day in days)
    rooms = tuple(_room(house, room, days, (begins, ends)) for room in house.rooms)
    after = None if takes[-1].anything else next_takes(house, tomorrow)
    return HouseAhead(today, tomorrow, begins, ends, at_work, not periods, rooms, takes, after)


def _room(house: HouseServices, room: RoomServices, days: Sequence[date], stretch: Span) -> RoomAhead:
    things = [_thing(house, room, service, days, stretch) for service in services_of(room)]
    floor = next(one for one in things if one.service == "floor")
    rest = tuple(one for one in things if one.service != "floor")
    off = bool(rest) and all(one.state in (OUT, UNKNOWN) for one in rest)
    return RoomAhead(room.room, room.name, rest, floor, off)


def _thing(
    house: HouseServices, room: RoomServices, service: Service, days: Sequence[date], stretch: Span
) -> Thing:
    found = _outages(house, (room.room, service), days, stretch)
    if not found:
        return Thing(service.service, service.name, WORKS, ServiceState(service.service, service.name, usable=True))
    first = found[0]
    told = _state(house, service, first)
    again = _state(house, service, found[1]) if len(found) > 1 else None
    if first.start > stretch[0] or not _lasts(first):
        return Thing(service.service, service.name, LATER, told, house.calendar.day_of(first.start), again)
    return Thing(service.service, service.name, UNKNOWN if told.until is None else OUT, told, None, again)


def _outages(
    house: HouseServices, key: tuple[int, Service], days: Sequence[date], stretch: Span
) -> list[Outage]:
    """By night and by day, in the order of time; those that touch are one."""
    every = [*house.outages[key], *(one for day in days for one in house.work_day(day).outages.get(key, ()))]
    found: list[Outage] = []
    for one in sorted(every, key=lambda one: (one.start, one.end)):
        if one.start >= stretch[1] or one.end <= stretch[0]:
            continue
        if found and one.start <= found[-1].end:
            last = found.pop()
            closures = tuple(dict.fromkeys((*last.closures, *one.closures)))
            one = Outage(last.start, max(last.end, one.end), closures)
        found.append(one)
    return found


def _lasts(out: Outage) -> bool:
    return any(one.take.until == UNTIL_DONE for one in out.closures)


def _state(house: HouseServices, service: Service, out: Outage) -> ServiceState:
    """With another of the kind, if one works all the while."""
    span = (out.start, out.end)
    day = house.work_day(house.calendar.day_of(out.start))
    working = [
        (room, one) for room in house.rooms for one in services_of(room)
        if one.service == service.service and _works(house, day, (room.room, one), span)
    ]
    return service_state(service, out, working)


def _works(house: HouseServices, day: WorkDay, key: tuple[int, Service], span: Span) -> bool:
    outages = (*house.outages[key], *day.outages.get(key, ()))
    return not any(out.start < span[1] and out.end > span[0] for out in outages)
