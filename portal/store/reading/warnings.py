"""All that a manager is warned of: as the project stands, and what a change has caused. Warnings never refuse."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from portal.planning.calendar.week import CalendarError
from portal.planning.conflicts.unkept_visits import Conflict
from portal.planning.conflicts.warnings import BEGUN_AHEAD, PlanWarning, begun_ahead, contract_warnings, night_warnings
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


def caused(project_id: int, now: int, change: Callable[[], Result]) -> tuple[Result, list[Found]]:
    """Do a change; with its result comes what was not there before, or is worse than before. `now` in seconds.

    Raises OutOfReach for a change after which no date can be computed any more; then it is not made.
    """
    with write():
        before = _known(project_id, now)
        result = change()
        try:
            after = _everything(project_id, now)
        except _UNCOMPUTABLE as error:
            if before is None:  # the plan was out of reach already: this may be a step back
                return result, []
            raise OutOfReach() from error
    return result, [one for one in after if _is_news(one, before or {})]


def _is_news(one: Found, before: Mapping[Key, Found]) -> bool:
    """A conflict is news, too, when what works comes later than it did before, or not at all."""
    known = before.get(_key(one))
    if not isinstance(one, Conflict) or not isinstance(known, Conflict):
        return known is None
    works, worked = one.first_that_works, known.first_that_works
    return worked is not None and (works is None or works > worked)


def _known(project_id: int, now: int) -> dict[Key, Found] | None:
    try:
        return {_key(one): one for one in _everything(project_id, now)}
    except _UNCOMPUTABLE:
        return None


def _everything(project_id: int, now: int) -> list[Found]:
    snapshot = read_snapshot(project_id)
    schedule = schedule_of(snapshot, now)
    if schedule.finish - schedule.now > _LONGEST:
        raise OverflowError("a plan of more than 25 years")
    return [*conflicts_in(schedule, project_id), *warnings_in(snapshot, schedule)]


def _key(one: Found) -> Key:
    """What makes it the same one as before, though its words or dates may have changed."""
    if isinstance(one, Conflict):
        return one.kind, one.visit, one.other
    if one.kind == BEGUN_AHEAD:
        return one.kind, one.phases
    return one.kind, one.decision, one.delivery, (one.on if one.phases and one.delivery is None else None)
