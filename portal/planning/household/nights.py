"""Nights that the household can't do without something: found over the whole plan, told in time.

A night counts as soon as there is a moment of it in which no toilet, no water, no way to cook or no way in is left.
Ways in are also looked at by day, because they are ways out.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.services import UNTIL_WORK_ENDS, RoomServices, Service
from portal.planning.household.tonight import NEVER, Because, HouseServices, Outage, Span, services_of

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
    those that take the service. `by_day`: during the hours of work only. `tell_by`: the last day on which telling the
    household is early enough.
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

    def told_late(self, today: date) -> bool:
        """Tell whether it is too late to tell the household TELL_DAYS_AHEAD working days ahead."""
        return today > self.tell_by


def shortfalls(house: HouseServices, since: date) -> tuple[Shortfall, ...]:
    """Find every shortfall from the night of `since` on, by day. For the manager, as soon as it is planned."""
    found = [*_by_night(house, since), *_ways_by_day(house, since)]
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


def _ways_by_day(house: HouseServices, since: date) -> Iterator[Shortfall]:
    """Days on which work closes the last way that would be open; what is closed day and night is found by night."""
    closing = [one for one in house.working if one.take.service in ("way_through", "floor")]
    days = {day for one in closing for day in _days(house, Outage(one.start, one.end, ()), since, _last_day(house))}
    for day in sorted(days):
        hours = house.work_day(day)
        if hours.window is None:
            continue
        ways = _members(house, SHORTFALL_KINDS["no_way_in"])
        members = [hours.outages[room.room, service] for room, service in ways]
        if not members or not all(members):
            continue
        for outage in _all_out(members):
            if _overlaps(outage, hours.window) and any(one.take.until == UNTIL_WORK_ENDS for one in outage.closures):
                yield _shortfall(house.calendar, "no_way_in", [day], outage, by_day=True)


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
    moments = [one.end for one in (*house.lasting, *house.working) if one.end < NEVER]
    moments += [one.start for one in (*house.lasting, *house.working)]
    return house.calendar.day_of(max(moments, default=0))


def _overlaps(outage: Outage, window: Span) -> bool:
    return outage.start < max(window[1], window[0] + 1) and outage.end > window[0]


def _shortfall(
    calendar: WorkCalendar, kind: str, days: Sequence[date], outage: Outage, by_day: bool = False
) -> Shortfall:
    touching = [one for one in outage.closures if one.start < outage.end and one.end > outage.start]
    return Shortfall(
        kind, days[0], days[-1], outage.start, None if outage.end == NEVER else outage.end,
        why=tuple(dict.fromkeys(one.why for one in touching)),
        phases=tuple(dict.fromkeys(one.phase for one in touching)),
        tell_by=calendar.add_days(days[0], -TELL_DAYS_AHEAD, roll="backward"),
        by_day=by_day,
    )
