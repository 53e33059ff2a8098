"""What the work of a day takes from the household and asks of it: from when to when, why, what to clear, who is home.

What is out since earlier days is not taken anew: `tonight` tells of it.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from portal.planning.household.house_services import AtWork, HouseServices, services_of
from portal.planning.household.outages import NEVER, Because, Closure, Outage, Span, hits
from portal.planning.household.services import AT_HOME, BURDENS, CLEAR, SERVICES, UNTIL_WORK_ENDS, Take
from portal.planning.household.tonight import NO_USE_ELSEWHERE

LOOKED_AHEAD = 14
"""Days looked through for the next one that takes something."""


@dataclass(frozen=True, slots=True)
class DayTake:
    """A service or burden that a day takes in a `room` (its id; None: the whole house). `name`: which one, "" all.

    `since`: an instant of the day; `until`: the instant at which it is back, None: nobody knows. `lasting`: it is out
    in the night, too. `why`, `phases`: names, and ids, of the work; `instead`: what the firm has written to do, "" the
    usual advice. `other`: name and room of another of the kind that works meanwhile, where that is of use. `booked`:
    whether a visit says so; else it is the plan's."""

    service: str
    room: int | None
    room_name: str
    name: str
    since: int
    until: int | None
    lasting: bool
    why: tuple[Because, ...]
    phases: tuple[int, ...]
    instead: str = ""
    other: tuple[str, str] | None = None
    booked: bool = True

    @property
    def burden(self) -> bool:
        """Whether it is something to bear, not to do without."""
        return self.service in BURDENS


@dataclass(frozen=True, slots=True)
class Clearing:
    """What must be cleared by the instant `by`, in the firm's own `words`; `room`: its id, None the whole house.
    `booked`: whether a visit says so; else it is the plan's."""

    words: str
    room: int | None
    room_name: str
    by: int
    phase: int
    booked: bool = True


@dataclass(frozen=True, slots=True)
class AtHome:
    """From when to when somebody must be at home; `words`: what for, in the firm's own, or "". `booked`: whether a
    visit says so; else it is the plan's."""

    words: str
    since: int
    until: int
    phase: int
    why: str
    booked: bool = True


@dataclass(frozen=True, slots=True)
class DayTakes:
    """What a `day` takes and asks, each by time."""

    day: date
    takes: tuple[DayTake, ...] = ()
    clear: tuple[Clearing, ...] = ()
    at_home: tuple[AtHome, ...] = ()

    @property
    def anything(self) -> bool:
        """Whether there is something to tell the household."""
        return bool(self.takes or self.clear or self.at_home)

    @property
    def services(self) -> tuple[DayTake, ...]:
        """What they do without: noise and dust left aside."""
        return tuple(one for one in self.takes if not one.burden)

    def after(self, now: int) -> "DayTakes":
        """What of it is still to come, or goes on, at the instant `now`."""
        return DayTakes(
            self.day, tuple(one for one in self.takes if one.until is None or one.until > now),
            tuple(one for one in self.clear if one.by > now), tuple(one for one in self.at_home if one.until > now),
        )

    def only(self, *, booked: bool) -> "DayTakes":
        """What visits say of it, or what only the plan does."""
        return DayTakes(
            self.day, tuple(one for one in self.takes if one.booked == booked),
            tuple(one for one in self.clear if one.booked == booked),
            tuple(one for one in self.at_home if one.booked == booked),
        )


def day_takes(house: HouseServices, day: date) -> DayTakes:
    """Tell what the work of a day takes from the household and asks of it. A day without work takes nothing."""
    works = house.at_work.get(day, ())
    if not works:
        return DayTakes(day)
    closures = [*house.working(day), *_beginning(house, works, day)]
    asks = [(one, take) for one in works for take in one.phase.takes]
    clear = (_clearing(house, one, take) for one, take in asks if take.service == CLEAR and _first(house, one, day))
    home = (
        AtHome(take.words, *hours, one.phase.phase, one.phase.name, one.booked)
        for one, take in asks if take.service == AT_HOME for hours in one.hours
    )
    return DayTakes(
        day, tuple(_takes(house, closures, frozenset(one.phase.phase for one in works if one.booked))),
        tuple(sorted(clear, key=lambda one: one.by)), tuple(sorted(home, key=lambda one: (one.since, one.until))),
    )


def next_takes(house: HouseServices, after: date, within: int = LOOKED_AHEAD) -> DayTakes | None:
    """Find the first day after `after` that takes or asks something; None: there is none within so many days."""
    days = (day_takes(house, after + timedelta(days=ahead)) for ahead in range(1, within + 1))
    return next((one for one in days if one.anything), None)


def _first(house: HouseServices, work: AtWork, day: date) -> bool:
    """Whether the phase begins on the day: what is cleared once stays cleared."""
    return house.calendar.day_of(work.phase.start) == day


def _beginning(house: HouseServices, works: Iterable[AtWork], day: date) -> Iterator[Closure]:
    """What is taken day and night from this day on: since the hour at which its crew comes."""
    begins = {one.phase.phase: one.hours[0][0] for one in works if _first(house, one, day)}
    for one in house.lasting:
        if one.phase in begins and one.end > begins[one.phase]:
            yield replace(one, start=begins[one.phase])


def _clearing(house: HouseServices, work: AtWork, take: Take) -> Clearing:
    room = take.place(work.phase.room)
    return Clearing(take.words, room, _named(house, room), work.hours[0][0], work.phase.phase, work.booked)


def _takes(house: HouseServices, closures: Iterable[Closure], booked: frozenset[int]) -> list[DayTake]:
    """The same thing out for two reasons at once, or in the whole house besides, is told once."""
    alike: dict[tuple[str, int | None, str, bool], list[Closure]] = defaultdict(list)
    for one in closures:
        if not _already_out(house, one):
            alike[one.take.service, one.room, one.take.name, one.take.until != UNTIL_WORK_ENDS].append(one)
    joined = [one for group in alike.values() for one in _joined(house, group, booked)]
    told = [one for one in joined if not any(_covers(other, one) for other in joined)]
    order = (*SERVICES, *BURDENS)
    return sorted(told, key=lambda one: (one.burden, one.since, order.index(one.service), one.room_name, one.name))


def _already_out(house: HouseServices, one: Closure) -> bool:
    """Whether all that it takes has been out since before, and stays so as long."""
    hit = [
        (room.room, service) for room in house.rooms if one.room in (None, room.room)
        for service in services_of(room) if one.take.service == service.service and hits(one.take, service)
    ]
    return bool(hit) and all(
        any(out.start < one.start and out.end >= one.end for out in house.outages[key]) for key in hit
    )


def _joined(house: HouseServices, group: list[Closure], booked: frozenset[int]) -> Iterator[DayTake]:
    group.sort(key=lambda one: one.start)
    stretch: list[Closure] = []
    for one in group:
        if stretch and one.start > max(other.end for other in stretch):
            yield _told(house, stretch, booked)
            stretch = []
        stretch.append(one)
    yield _told(house, stretch, booked)


def _told(house: HouseServices, stretch: list[Closure], booked: frozenset[int]) -> DayTake:
    first, end = stretch[0], max(one.end for one in stretch)
    take = first.take
    return DayTake(
        take.service, first.room, _named(house, first.room), take.name or _only(house, first), first.start,
        None if end == NEVER else end, take.until != UNTIL_WORK_ENDS,
        why=tuple(dict.fromkeys(one.why for one in stretch)),
        phases=tuple(dict.fromkeys(one.phase for one in stretch)),
        instead=next((one.take.instead for one in stretch if one.take.instead), ""),
        other=_other(house, first, (first.start, end)),
        booked=all(one.phase in booked for one in stretch),
    )


def _covers(wide: DayTake, one: DayTake) -> bool:
    """Whether the same is out in the whole house as long, or all of the kind in the same room."""
    if wide is one or wide.service != one.service or wide.lasting != one.lasting or wide.room not in (None, one.room):
        return False
    wider = wide.room is None and one.room is not None or not wide.name and bool(one.name)
    return wider and wide.since <= one.since and (wide.until or NEVER) >= (one.until or NEVER)


def _other(house: HouseServices, one: Closure, span: Span) -> tuple[str, str] | None:
    """Another of the kind, in another room or of another name, that works all the while."""
    if one.room is None or one.take.service in (*NO_USE_ELSEWHERE, *BURDENS):
        return None
    by_day = house.work_day(house.calendar.day_of(one.start)).outages
    for room in house.rooms:
        for service in services_of(room):
            taken = room.room == one.room and hits(one.take, service)
            outages = (*house.outages[room.room, service], *by_day.get((room.room, service), ()))
            if service.service == one.take.service and not taken and not _any_in(outages, span):
                return service.name, room.name
    return None


def _any_in(outages: Iterable[Outage], span: Span) -> bool:
    return any(out.start < span[1] and out.end > span[0] for out in outages)


def _only(house: HouseServices, one: Closure) -> str:
    """The name of the one thing of this kind in the room; empty where there are several, or it has none."""
    names = [
        service.name for room in house.rooms if room.room == one.room for service in services_of(room)
        if service.service == one.take.service
    ]
    return names[0] if len(names) == 1 else ""


def _named(house: HouseServices, room: int | None) -> str:
    return next((one.name for one in house.rooms if one.room == room), "")
