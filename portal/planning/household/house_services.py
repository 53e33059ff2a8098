"""A house with what works in it, and the phases that take from that: what is out day and night, and while crews work.

A phase that takes a service until it is done takes it day and night, from its start to the finish that gives it back,
and for the wait after that by the clock; a wait that nobody has entered has no end. A phase that takes it during work
only gives it back at the end of each visit that is booked; on days after the last booked visit, when the crew's day
ends: the minute at which work is foreseen to end is no promise.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.outages import NEVER, Closure, Outage, Span, outages_of
from portal.planning.household.services import ASKS, UNTIL_WORK_ENDS, RoomServices, Service, Take


@dataclass(frozen=True, slots=True)
class PhaseTimes:
    """A phase as it is scheduled or as it went. `start`, `finish`: instants; `finish` None: nobody knows when.
    `done`: it has finished, and `finish` is no forecast. `visits`: those that are booked for it and can be kept, by
    start; `rests`: from when to when nobody works at it."""

    phase: int
    name: str
    start: int
    finish: int | None
    room: int | None = None
    takes: tuple[Take, ...] = ()
    visits: tuple[Span, ...] = ()
    rests: Span | None = None
    done: bool = False


@dataclass(frozen=True, slots=True)
class AtWork:
    """A phase that is worked at on a day, from when to when; `booked`: by its visits, else by the crew's hours."""

    phase: PhaseTimes
    hours: tuple[Span, ...]
    booked: bool


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
        return tuple(sorted(self._lasting(), key=lambda closure: closure.start))

    @cached_property
    def at_work(self) -> dict[date, tuple[AtWork, ...]]:
        """By day, the phases that take or ask something and are worked at, in the order of the plan."""
        days: dict[date, list[AtWork]] = defaultdict(list)
        for phase in self.phases:
            for day in self._days_of(phase) if phase.takes else ():
                if work := self._work_on(phase, day):
                    days[day].append(work)
        return {day: tuple(found) for day, found in days.items()}

    def working(self, day: date) -> tuple[Closure, ...]:
        """Find what is out while crews work on a day, by start."""
        found = [
            Closure(take, take.place(one.phase.room), *hours, one.phase.phase, one.phase.name)
            for one in self.at_work.get(day, ()) for take in one.phase.takes
            if take.until == UNTIL_WORK_ENDS and take.service not in ASKS for hours in one.hours
        ]
        return tuple(sorted(found, key=lambda closure: closure.start))

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

    def work_day(self, day: date) -> WorkDay:
        """Find what is out in the hours of work of a day: what is out day and night, and what is out during work."""
        if day not in self._work_days:
            self._work_days[day] = self._found_on(day)
        return self._work_days[day]

    @cached_property
    def _work_days(self) -> dict[date, WorkDay]:
        return {}

    def _found_on(self, day: date) -> WorkDay:
        periods = self.calendar.periods_on(day)
        if not periods:
            return WorkDay(None, {}, ())
        begins, ends = periods[0][0], periods[-1][1]
        closures = sorted((*self.lasting, *self.working(day)), key=lambda one: one.start)
        return WorkDay((begins, ends), self._outages(closures), tuple(closures))

    def _outages(self, closures: Sequence[Closure]) -> dict[tuple[int, Service], tuple[Outage, ...]]:
        return {
            (room.room, service): outages_of(room.room, service, closures)
            for room in self.rooms for service in services_of(room)
        }

    def _lasting(self) -> Iterable[Closure]:
        finishes = {phase.phase: phase.finish for phase in self.phases}
        names = {phase.phase: phase.name for phase in self.phases}
        for phase in self.phases:
            for take in phase.takes:
                if take.until != UNTIL_WORK_ENDS:
                    finish = finishes.get(take.back_with) if take.back_with is not None else phase.finish
                    end = NEVER if finish is None or take.unknown else finish + take.wait
                    other = take.back_with is not None and take.back_with != phase.phase
                    back = names.get(take.back_with or 0, "") if other else ""
                    yield Closure(take, take.place(phase.room), phase.start, end, phase.phase, phase.name, back)

    def _days_of(self, phase: PhaseTimes) -> list[date]:
        spans = [*phase.visits, (phase.start, phase.start if phase.finish is None else phase.finish)]
        return sorted({day for span in spans for day in self._days(span)})

    def _days(self, span: Span) -> Iterator[date]:
        day, last = self.calendar.day_of(span[0]), self.calendar.day_of(max(span[0], span[1] - 1))
        while day <= last:
            yield day
            day += timedelta(days=1)

    def _work_on(self, phase: PhaseTimes, day: date) -> AtWork | None:
        """Its visits of the day; while a later one is booked, the days between are free of it."""
        begins, ends = self.calendar.day_start(day), self.calendar.day_end(day)
        periods = self.calendar.periods_on(day)
        crew = (periods[0][0], periods[-1][1]) if periods else None
        over = phase.finish if phase.done and phase.finish is not None else ends
        visits = [one for one in phase.visits if one[0] < ends and one[1] > begins]
        if visits:
            spans = (_on_day(visit, (begins, ends), crew) for visit in visits)
            hours = tuple((since, min(until, over)) for since, until in spans if since < min(until, over))
            return AtWork(phase, hours, booked=True) if hours else None
        if crew is None or any(one[0] >= ends for one in phase.visits):
            return None
        rests = phase.rests is not None and phase.rests[0] <= crew[0] and phase.rests[1] >= crew[1]
        worked = phase.start < crew[1] and (phase.finish is None or phase.finish > crew[0])
        return AtWork(phase, ((crew[0], min(crew[1], over)),), booked=False) if worked and not rests else None


def _on_day(visit: Span, day: Span, crew: Span | None) -> Span:
    """The part of a visit that falls on the day: of one that goes over several days, within the hours of the crew."""
    if day[0] <= visit[0] and visit[1] <= day[1]:
        return visit
    if crew is None:
        return day[0], day[0]
    return max(visit[0], crew[0]), min(visit[1], crew[1])


def services_of(room: RoomServices) -> tuple[Service, ...]:
    """Give what the room says it has; its floor is one of them, because without it there is no room."""
    if any(service.service == "floor" for service in room.services):
        return room.services
    return (*room.services, Service("floor"))
