"""What phases take from the household: it must be there to take, and stay there while they count on it."""

from collections.abc import Iterator
from contextlib import contextmanager

from portal.content import cures
from portal.planning.household.services import HouseholdError, RoomServices, check_takes, read_services, read_takes
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows
from portal.store.tables import Phase


def refuse_missing(project_id: int, phase: Phase) -> None:
    """A phase can only take what the rooms say they have, and be given back by a phase that is on the plan."""
    fault = _fault(phase, _rooms(project_id), set(plan_rows.network(project_id)[0]))
    if fault:
        raise FieldRefused("takes", fault)


@contextmanager
def keeping_takes(project_id: int, field: str) -> Iterator[None]:
    """For a change of what may be taken: refused when a phase would no longer find what it counts on."""
    before = _lost(project_id)
    yield
    lost = [name for phase, name in _lost(project_id).items() if phase not in before]
    if lost:
        message = f"“{lost[0]}” counts on this for what it takes from the household. Change that first."
        raise FieldRefused(field, message)


def _lost(project_id: int) -> dict[int, str]:
    """Names of the phases that don't find what they take, by id."""
    rooms, phases = _rooms(project_id), set(plan_rows.network(project_id)[0])
    return {phase.id: phase.name for phase in plan_rows.phases(project_id) if _fault(phase, rooms, phases)}


def _rooms(project_id: int) -> dict[int, RoomServices]:
    return {
        room.id: RoomServices(room.id, room.name, read_services(room.services)) for room in plan_rows.rooms(project_id)
    }


def _fault(phase: Phase, rooms: dict[int, RoomServices], phases: set[int]) -> str:
    try:
        check_takes(read_takes(phase.takes, cures()), phase.room_id, rooms, phases)
    except HouseholdError as error:
        return str(error)
    return ""
