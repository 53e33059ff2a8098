"""What phases take from the household stays there while they count on it."""

from collections.abc import Callable

import pytest

from portal.acts.firm.projects import change_room, remove_room
from portal.acts.plan.phases import change_phase, remove_phase
from portal.acts.plan.starting_plans import start_from_project
from portal.acts.refusals import FieldRefused
from portal.store.engine.database import write
from portal.store.tables import Phase, Room
from tests.house import NOW, House


def _take(house: House, key: str, *takes: dict[str, object]) -> Phase:
    phase = Phase.get_by_id(house.phases[key])
    return change_phase(house.manager, house.project, phase.id, phase.version, {"takes": list(takes)}, now=NOW)


def _room(house: House, key: str) -> Room:
    found: Room = Room.get_by_id(house.rooms[key])
    return found


def _remove_phase(house: House) -> None:
    phase = Phase.get_by_id(house.phases["shelves"])
    remove_phase(house.manager, house.project, phase.id, phase.version, now=NOW)


def _empty_room(house: House) -> None:
    room = _room(house, "bath")
    change_room(house.manager, house.project, room.id, room.version, {"services": []}, now=NOW)


@pytest.mark.parametrize(
    ("change", "field"), [(_remove_phase, "id"), (_empty_room, "services")], ids=["who gives back", "service"]
)
def test_what_a_phase_counts_on_is_not_removed(house: House, change: Callable[[House], None], field: str) -> None:
    taken = {"service": "toilet", "room": house.rooms["bath"], "until": "done", "back_with": house.phases["shelves"]}
    _take(house, "paint", taken)
    with pytest.raises(FieldRefused, match="“Paint the laundry room” counts on this") as refused:
        change(house)
    assert refused.value.field == field
    assert Phase.get_or_none(Phase.id == house.phases["shelves"]) and _room(house, "bath").services


def test_a_room_that_a_phase_elsewhere_takes_from_is_not_removed(house: House) -> None:
    with write():
        hall = Room.create(project=house.project, name="Hall", position=9, services=["toilet"])
    _take(house, "paint", {"service": "toilet", "room": hall.id})
    with pytest.raises(FieldRefused, match="“Paint the laundry room” counts on this"):
        remove_room(house.manager, house.project, hall.id, hall.version, now=NOW)
    _take(house, "paint")
    remove_room(house.manager, house.project, hall.id, hall.version, now=NOW)
    assert Room.get_or_none(Room.id == hall.id) is None


def test_a_phase_that_takes_what_is_gone_can_still_be_changed_otherwise(house: House) -> None:
    """From before removals were refused: its name can be changed, what it takes is then seen to."""
    with write():
        Phase.update(takes=[{"service": "toilet", "room": 999}]).where(Phase.id == house.phases["paint"]).execute()
    phase = Phase.get_by_id(house.phases["paint"])
    renamed = change_phase(house.manager, house.project, phase.id, phase.version, {"name": "Paint it white"}, now=NOW)
    assert renamed.name == "Paint it white"
    with pytest.raises(FieldRefused, match="room 999 is not in this project"):
        change_phase(house.manager, house.project, phase.id, renamed.version, {"takes": renamed.takes}, now=NOW)


def test_an_earlier_plan_that_takes_what_is_gone_is_refused_with_the_place(house: House) -> None:
    with write():
        broken = [{"service": "sink", "until": "done", "back_with": 999}]
        Phase.update(takes=broken).where(Phase.id == house.phases["paint"]).execute()
    with pytest.raises(FieldRefused, match="can’t be used.*p999") as refused:
        start_from_project(house.manager, house.other_project, house.project, now=NOW)
    assert refused.value.field == "project"
