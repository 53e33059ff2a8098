"""Nights and days that the household can't do without something: found over the whole plan, told in time.

A night counts as soon as there is a moment of it in which no toilet, no water, no way to cook or no way in is left; a
day, when the work of that day takes the last one that would be left.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_services import HouseServices, services_of
from portal.planning.household.outages import NEVER, Because, Closure, Outage, Span, hits
from portal.planning.household.services import UNTIL_WORK_ENDS, RoomServices, Service

TELL_DAYS_AHEAD = 3
"""Working days ahead of the first night by which the household is told."""

SHORTFALL_KINDS: dict[str, frozenset[str]] = {
    "no_toilet": frozenset({"toilet"}),
    "no_water": frozenset({"water", "sink", "bath"}),
    "no_way_to_cook": frozenset({"cooktop"}),
    "no_way_in": frozenset({"way_through"}),
}
"""By kind of shortfall: the services of which one must be left."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """`kind` of SHORTFALL_KINDS, from the night (or day) of `first` to that of `last`, without a break.

    `since`, `until`: instants (`until` None: nobody knows). `why`: the phases that it ends with, `phases`: the ids of
    those that take the service. `by_day`: during the hours of work only; `hours`: of one day, the moments at which it
    begins and ends there. `tell_by`: the last day on which telling the household is early enough.
    """

    kind: str
    first: date
    last: date
    since: int
    until: int | None
    why: tuple[Because, ...]
    phases: tuple[int, ...]
    tell_by: date
    by_day: bool = False
    hours: tuple[datetime, datetime] | None = None

    def told_late(self, today: date) -> bool:
        """Tell whether it is too late to tell the household TELL_DAYS_AHEAD working days ahead."""
        return today > self.tell_by


def shortfalls(house: HouseServices, since: date) -> tuple[Shortfall, ...]:
    """Find every shortfall from the night of `since` on, by day. For the manager, as soon as it is planned."""
    found = [*_by_night(house, since), *_by_day(house, since)]
    return tuple(sorted(found, key=lambda one: (one.first, one.since, one.kind)))


def to_tell(found: Iterable[Shortfall], today: date) -> tuple[Shortfall, ...]:
    """Give, of the shortfalls that were found, those that the household must have been told by the end of `today`, or
    is told late. What is over is left out."""
    return tuple(one for one in found if one.tell_by <= today <= one.last)


def kinds_without_service(rooms: Iterable[RoomServices]) -> tuple[str, ...]:
    """Give the keys of SHORTFALL_KINDS that can't be looked for, because no room says that it has such a service. For
    the manager."""
    services = {service.service for room in rooms for service in room.services}
    return tuple(kind for kind, of in SHORTFALL_KINDS.items() if not of & services)


def _by_night(house: HouseServices, since: date) -> Iterator[Shortfall]:
    last_day = _last_day(house)
    for kind, of in SHORTFALL_KINDS.items():
        members = [house.outages[room.room, service] for room, service in _members(house, of)]
        if not members or not all(members):
            continue
        for outage in _all_out(members):
            nights = [day for day in _days(house, outage, since, last_day) if _overlaps(outage, house.night(day))]
            if nights:
                yield _shortfall(house.calendar, kind, nights, outage)


def _by_day(house: HouseServices, since: date) -> Iterator[Shortfall]:
    """Days on which work takes the last that would be left; what is out day and night is found by night. Days of work
    that follow each other with the same reason are one."""
    for kind, of in SHORTFALL_KINDS.items():
        members = _members(house, of)
        days = sorted(day for day in house.at_work if day >= since and _takes_some(house, day, members))
        found: list[Shortfall] = []
        for day in days:
            for one in _on_day(house, kind, members, day):
                if found and _goes_on(house.calendar, found[-1], one):
                    one = replace(found.pop(), last=one.last, until=one.until, hours=None)
                found.append(one)
        yield from found


def _takes_some(house: HouseServices, day: date, members: Iterable[tuple[RoomServices, Service]]) -> bool:
    """Whether the work of the day takes any of them: most days need no closer look."""
    return any(
        one.room in (None, room.room) and hits(one.take, service)
        for one in house.working(day) for room, service in members
    )


def _on_day(
    house: HouseServices, kind: str, members: Iterable[tuple[RoomServices, Service]], day: date
) -> Iterator[Shortfall]:
    hours = house.work_day(day)
    out = [hours.outages.get((room.room, service), ()) for room, service in members]
    if hours.window is None or not all(out):
        return
    begins, ends = hours.window
    for outage in _all_out(out):
        if outage.start < ends and outage.end > begins and any(_while_at_work(one, begins) for one in outage.closures):
            clipped = Outage(max(outage.start, begins), min(outage.end, ends), outage.closures)
            yield _shortfall(house.calendar, kind, [day], clipped, by_day=True)


def _while_at_work(one: Closure, begins: int) -> bool:
    return one.take.until == UNTIL_WORK_ENDS and one.end > begins


def _goes_on(calendar: WorkCalendar, before: Shortfall, one: Shortfall) -> bool:
    """Whether it is the same on the next day of work."""
    return (before.why, before.phases) == (one.why, one.phases) and one.first == calendar.add_days(before.last, 1)


def _members(house: HouseServices, of: frozenset[str]) -> list[tuple[RoomServices, Service]]:
    return [(room, service) for room in house.rooms for service in services_of(room) if service.service in of]


def _all_out(members: Sequence[Sequence[Outage]]) -> list[Outage]:
    """Stretches in which every member is out."""
    common = list(members[0])
    for other in members[1:]:
        common = [
            Outage(max(one.start, two.start), min(one.end, two.end), (*one.closures, *two.closures))
            for one in common for two in other
            if one.start < two.end and two.start < one.end
        ]
    return common


def _days(house: HouseServices, outage: Outage, since: date, last: date) -> Iterator[date]:
    day = max(since, house.calendar.day_of(outage.start) - timedelta(days=1))
    last = min(last, house.calendar.day_of(outage.end)) if outage.end < NEVER else last
    while day <= last:
        yield day
        day += timedelta(days=1)


def _last_day(house: HouseServices) -> date:
    """The last day that the plan can say something about."""
    moments = [one.end for one in house.lasting if one.end < NEVER] + [one.start for one in house.lasting]
    return max(house.calendar.day_of(max(moments, default=0)), max(house.at_work, default=date.min))


def _overlaps(outage: Outage, window: Span) -> bool:
    return outage.start < max(window[1], window[0] + 1) and outage.end > window[0]


def _shortfall(
    calendar: WorkCalendar, kind: str, days: Sequence[date], outage: Outage, by_day: bool = False
) -> Shortfall:
    touching = [
        one for one in outage.closures if one.start < outage.end and one.end > outage.start
        and (not by_day or one.take.until == UNTIL_WORK_ENDS)
    ]
    return Shortfall(
        kind, days[0], days[-1], outage.start, None if outage.end == NEVER else outage.end,
        why=tuple(dict.fromkeys(one.why for one in touching)),
        phases=tuple(dict.fromkeys(one.phase for one in touching)),
        tell_by=calendar.add_days(days[0], -TELL_DAYS_AHEAD, roll="backward"),
        by_day=by_day,
        hours=(calendar.moment(outage.start), calendar.moment(outage.end)) if by_day else None,
    )
