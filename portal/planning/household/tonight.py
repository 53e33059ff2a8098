"""What works in the house from the end of the work day to the next morning, room by room, until when, and why.

A phase that takes a service until it is done takes it day and night, from its start to the finish that gives it back,
and for the wait after that by the clock; a wait that nobody has entered has no end. A phase that takes it during work
only gives it back each evening.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import NamedTuple

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.services import BURDENS, UNTIL_WORK_ENDS, RoomServices, Service, Take

NEVER = 2**62
"""Later than any instant: nobody knows when it ends."""

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class PhaseTimes:
    """A phase as it is scheduled or as it went. `start`, `finish`: instants; `finish` None: nobody knows when."""

    phase: int
    name: str
    start: int
    finish: int | None
    room: int | None = None
    takes: tuple[Take, ...] = ()


class Because(NamedTuple):
    """What an outage ends with: the phase `name`, and `gate`, the key of the cure time after it, empty without one."""

    name: str
    gate: str = ""


@dataclass(frozen=True, slots=True)
class Closure:
    """`service` is out in `room` (None: the whole house) from `start` to `end`, because of a phase. `back`: the name of
    the phase whose finish gives it back, where that is another one."""

    take: Take
    room: int | None
    start: int
    end: int
    phase: int
    name: str
    back: str = ""

    @property
    def why(self) -> Because:
        """The phase that it ends with, and the wait after it: of what was taken out long ago, what gives it back."""
        return Because(self.back or self.name, self.take.gate)


@dataclass(frozen=True, slots=True)
class Outage:
    """A stretch without a break in which one service of one room is out."""

    start: int
    end: int
    closures: tuple[Closure, ...]


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


@dataclass(frozen=True, slots=True)
class WorkDay:
    """The hours of work of a day (None: no work), what is out in them by room and service, and by start."""

    window: Span | None
    outages: dict[tuple[int, Service], tuple[Outage, ...]]
    closures: tuple[Closure, ...]


@dataclass(frozen=True)
class HouseServices:
    """Rooms with their services, and the phases that take from them, on one calendar."""

    rooms: tuple[RoomServices, ...]
    phases: tuple[PhaseTimes, ...]
    calendar: WorkCalendar

    @cached_property
    def lasting(self) -> tuple[Closure, ...]:
        """What is out day and night, by start."""
        return tuple(sorted(self._closures(lasting=True), key=lambda closure: closure.start))

    @cached_property
    def working(self) -> tuple[Closure, ...]:
        """What is out during work only; `start` and `end` are those of the phase."""
        return tuple(sorted(self._closures(lasting=False), key=lambda closure: closure.start))

    @cached_property
    def outages(self) -> dict[tuple[int, Service], tuple[Outage, ...]]:
        """By room and service, what is out day and night."""
        return self._outages(self.lasting)

    def morning(self, day: date) -> int:
        """Give the instant at which work begins on a day; on a day without work, the hour at which it begins on the
        next day with some."""
        periods = self.calendar.periods_on(day)
        if periods:
            return periods[0][0]
        first = self.calendar.periods_on(self.calendar.add_days(day, 0))[0][0]
        return self.calendar.instant(datetime.combine(day, self.calendar.moment(first).time()))

    def night(self, day: date) -> Span:
        """Give the stretch from the end of work to the next morning; on a day without work, from its morning on."""
        periods = self.calendar.periods_on(day)
        begins = periods[-1][1] if periods else self.morning(day)
        return begins, max(begins, self.morning(day + timedelta(days=1)))

    def work_day(self, day: date) -> "WorkDay":
        """Find what is out in the hours of work of a day: what is out day and night, and what is out during work."""
        periods = self.calendar.periods_on(day)
        if not periods:
            return WorkDay(None, {}, ())
        begins, ends = periods[0][0], periods[-1][1]
        closures = sorted((*self.lasting, *_clipped(self.working, begins, ends)), key=lambda one: one.start)
        return WorkDay((begins, ends), self._outages(closures), tuple(closures))

    def _outages(self, closures: Sequence[Closure]) -> dict[tuple[int, Service], tuple[Outage, ...]]:
        return {
            (room.room, service): outages_of(room.room, service, closures)
            for room in self.rooms for service in services_of(room)
        }

    def _closures(self, lasting: bool) -> Iterable[Closure]:
        finishes = {phase.phase: phase.finish for phase in self.phases}
        names = {phase.phase: phase.name for phase in self.phases}
        for phase in self.phases:
            for take in phase.takes:
                if lasting == (take.until != UNTIL_WORK_ENDS):
                    finish = finishes.get(take.back_with) if take.back_with is not None else phase.finish
                    end = NEVER if finish is None or take.unknown else finish + take.wait
                    other = take.back_with is not None and take.back_with != phase.phase
                    back = names.get(take.back_with or 0, "") if other else ""
                    yield Closure(take, take.place(phase.room), phase.start, end, phase.phase, phase.name, back)


def tonight(house: HouseServices, day: date) -> HouseState:
    """Tell the state of each room by service from the end of work on `day` to the next morning."""
    window = house.night(day)
    return _state(house, day, window, house.outages, house.lasting)


def in_work_hours(house: HouseServices, day: date) -> HouseState | None:
    """Tell the same for the hours of work on `day`; None on a day without work."""
    hours = house.work_day(day)
    return None if hours.window is None else _state(house, day, hours.window, hours.outages, hours.closures)


def services_of(room: RoomServices) -> tuple[Service, ...]:
    """Give what the room says it has; its floor is one of them, because without it there is no room."""
    if any(service.service == "floor" for service in room.services):
        return room.services
    return (*room.services, Service("floor"))


def outages_of(room: int, service: Service, closures: Iterable[Closure]) -> tuple[Outage, ...]:
    """Find the stretches in which the service is out. `closures` by start."""
    found: list[Outage] = []
    for one in closures:
        if one.end <= one.start or one.room not in (None, room) or not _hits(one.take, service):
            continue
        if found and one.start <= found[-1].end:
            last = found.pop()
            found.append(Outage(last.start, max(last.end, one.end), (*last.closures, one)))
        else:
            found.append(Outage(one.start, one.end, (one,)))
    return tuple(found)


def in_window(outages: Sequence[Outage], window: Span) -> Outage | None:
    """Find what is out in the window: of several outages, from the first to the last. An empty window is its moment."""
    begins, ends = window[0], max(window[1], window[0] + 1)
    at = max(0, bisect_right(outages, begins, key=lambda outage: outage.start) - 1)
    inside = [outage for outage in outages[at:] if outage.start < ends and outage.end > begins]
    if not inside:
        return None
    closures = tuple(one for outage in inside for one in outage.closures if one.start < ends and one.end > begins)
    return Outage(max(begins, inside[0].start), inside[-1].end, closures)


def _clipped(closures: Iterable[Closure], begins: int, ends: int) -> Iterable[Closure]:
    for one in closures:
        if one.start < ends and one.end > begins:
            yield replace(one, start=max(one.start, begins), end=min(one.end, ends))


def _hits(take: Take, service: Service) -> bool:
    if take.service == service.service:
        return take.name in ("", service.name)
    return take.service in service.relies_on


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
            tuple(_service_state(service, out[room.room, service], working) for service in services_of(room)),
            _burdens(room, closures, window),
        )
        for room in house.rooms
    )
    return HouseState(day, *window, rooms)


def _service_state(
    service: Service, outage: Outage | None, working: Sequence[tuple[RoomServices, Service]]
) -> ServiceState:
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
    if service.service in ("floor", "power", "heat", "drain"):  # of no use from another room
        return None
    return next(((other.name, room.name) for room, other in working if other.service == service.service), None)


def _burdens(room: RoomServices, closures: Sequence[Closure], window: Span) -> tuple[ServiceState, ...]:
    states = []
    for burden in BURDENS:
        service = Service(burden)
        outage = in_window(outages_of(room.room, service, closures), window)
        if outage is not None:
            states.append(_service_state(service, outage, ()))
    return tuple(states)
