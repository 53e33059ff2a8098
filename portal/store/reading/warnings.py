"""All that a manager is warned of: as the project stands, and what a change has caused. Warnings never refuse."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from portal.planning.calendar.week import CalendarError
from portal.planning.conflicts.unkept_visits import Conflict
from portal.planning.conflicts.warnings import (
    BEGUN_AHEAD,
    PROMISE,
    PlanWarning,
    PromiseWarning,
    begun_ahead,
    contract_warnings,
    night_warnings,
)
from portal.planning.forecast.forecast import finish_day
from portal.planning.household.nights import kinds_without_service, shortfalls
from portal.planning.household.services import RoomServices
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.store.engine.database import write
from portal.store.facts import Snapshot
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.project_plan import household_of, schedule_of, services_of, window_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import OutOfReach

Result = TypeVar("Result")
Found = Conflict | PlanWarning
Key = tuple[object, ...]
_LONGEST = 25 * 366 * 24 * 60  # minutes; a calendar reaches 60 years from the first that it is asked about
_UNCOMPUTABLE = (CalendarError, OverflowError)


def warnings_in(snapshot: Snapshot, schedule: Schedule) -> list[PlanWarning]:
    """What the project as it stands warns of, apart from conflicts of visits. `schedule`: the pure one."""
    today = schedule.plan.calendar.day_of(schedule.now)
    window = window_of(snapshot.project, today)
    contract = list(contract_warnings(schedule, window)) if window else []
    nights = night_warnings(shortfalls(household_of(snapshot, as_booked(schedule)), today), today)
    return [*begun_ahead(schedule), *contract, *nights]


def blind_spots(snapshot: Snapshot) -> tuple[str, ...]:
    """Kinds of shortfall that nobody can be warned of, since no room is said to have what they are about."""
    rooms = [RoomServices(room.id, room.name, services_of(room)) for room in snapshot.rooms]
    return kinds_without_service(rooms) if rooms else ()


@dataclass(frozen=True, slots=True)
class Dates:
    """The day on which all is done, the day that was promised, and by when each open question must be answered."""

    finish: date | None = None
    promised: date | None = None
    needed_by: Mapping[int, date] | None = None


@dataclass(frozen=True, slots=True)
class Moved:
    """What a change does to the dates. `found`: what it has caused, as `caused` finds it."""

    before: Dates
    after: Dates
    found: list[Found]

    @property
    def answers(self) -> dict[int, tuple[date, date]]:
        """The open questions whose answer is needed on another day: before, and after."""
        then, now = self.before.needed_by or {}, self.after.needed_by or {}
        return {one: (then[one], now[one]) for one in now if one in then and then[one] != now[one]}

    @property
    def breaks_promise(self) -> bool:
        """Whether all is done later than promised, and was not, or not later than that other promise."""
        late = _is_late(self.after)
        return late and (not _is_late(self.before) or self.before.promised != self.after.promised)


def caused(project_id: int, now: int, change: Callable[[], Result]) -> tuple[Result, list[Found]]:
    """Do a change; with its result comes what was not there before, or is worse than before. `now` in seconds.

    Raises OutOfReach for a change after which no date can be computed any more; then it is not made.
    """
    result, moved = moved_by(project_id, now, change)
    return result, moved.found


def moved_by(project_id: int, now: int, change: Callable[[], Result]) -> tuple[Result, Moved]:
    """As `caused`, with the dates before and after."""
    result, moved = all_moved_by([project_id], now, change)
    return result, moved[project_id]


def all_moved_by(
    project_ids: Iterable[int], now: int, change: Callable[[], Result]
) -> tuple[Result, dict[int, Moved]]:
    """The same of a change that is about several houses, by their ids."""
    with write():
        before = {one: _known(one, now) for one in project_ids}
        result = change()
        return result, {one: _moved(one, now, known) for one, known in before.items()}


def _moved(project_id: int, now: int, before: tuple[list[Found], Dates] | None) -> Moved:
    try:
        after = _everything(project_id, now)
    except _UNCOMPUTABLE as error:
        if before is None:  # the plan was out of reach already: this may be a step back
            return Moved(Dates(), Dates(), [])
        raise OutOfReach() from error
    known = {_key(one): one for one in before[0]} if before else {}
    dates = before[1] if before else Dates()
    moved = Moved(dates, after[1], [one for one in after[0] if _is_news(one, known)])
    finish, promised = moved.after.finish, moved.after.promised
    if moved.breaks_promise and finish and promised:
        moved.found.append(PromiseWarning(kind=PROMISE, on=promised, finish=finish))
    return moved


def _is_late(dates: Dates) -> bool:
    return dates.finish is not None and dates.promised is not None and dates.finish > dates.promised


def _is_news(one: Found, before: Mapping[Key, Found]) -> bool:
    """A conflict is news, too, when what works comes later than it did before, or not at all."""
    known = before.get(_key(one))
    if not isinstance(one, Conflict) or not isinstance(known, Conflict):
        return known is None
    works, worked = one.first_that_works, known.first_that_works
    return worked is not None and (works is None or works > worked)


def _known(project_id: int, now: int) -> tuple[list[Found], Dates] | None:
    try:
        return _everything(project_id, now)
    except _UNCOMPUTABLE:
        return None


def _everything(project_id: int, now: int) -> tuple[list[Found], Dates]:
    snapshot = read_snapshot(project_id)
    schedule = schedule_of(snapshot, now)
    if schedule.finish - schedule.now > _LONGEST:
        raise OverflowError("a plan of more than 25 years")
    found: list[Found] = [*conflicts_in(schedule, project_id), *warnings_in(snapshot, schedule)]
    return found, _dates(snapshot, schedule)


def _dates(snapshot: Snapshot, schedule: Schedule) -> Dates:
    booked = as_booked(schedule)
    finish = finish_day(booked.plan, booked.finish) if snapshot.phases else None
    needed_by = {one.decision: one.needed_by for one in schedule.decisions if one.needed_by is not None}
    return Dates(finish, snapshot.project.promised_on, needed_by)


def _key(one: Found) -> Key:
    """What makes it the same one as before, though its words or dates may have changed."""
    if isinstance(one, Conflict):
        return one.kind, one.visit, one.other
    if one.kind == BEGUN_AHEAD:
        return one.kind, one.phases
    return one.kind, one.decision, one.delivery, (one.on if one.phases and one.delivery is None else None)
