"""Several plans to start from become one."""

from pathlib import Path

import pytest

from portal.content import cures
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.nights import shortfalls
from portal.planning.household.services import UNTIL_DONE, RoomServices, Service, Take
from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from portal.planning.starting_plans.files import read_plan
from portal.planning.starting_plans.plans import (
    WHOLE_HOUSE,
    PartLink,
    PlanPart,
    StartingPhase,
    StartingPlan,
    StartingPlanError,
    StartingRoom,
    StartingTake,
    combine,
    take_with_ids,
)
from tests.planning.homes import CREW
from tests.planning.houses import at
from tests.planning.starting_plans.scheduled import phases_of

PLANS = Path(__file__).parents[3] / "content" / "plans"


def plan(name: str) -> StartingPlan:
    return read_plan((PLANS / f"{name}.toml").read_text(encoding="utf-8"), f"{name}.toml", cures())


def test_plans_are_combined_room_by_room_and_linked() -> None:
    both = combine(
        [
            PlanPart("up", plan("bath"), {"bath": "Upstairs bath"}),
            PlanPart("down", plan("bath"), {"bath": "Hall bath"}),
        ],
        [PartLink("down.tear_out", "up.seal", 24 * 60)],
        title="Two baths, one after the other",
    )
    assert [room.name for room in both.rooms] == ["Upstairs bath", "Hall bath"]
    first = next(phase for phase in both.phases if phase.key == "down.tear_out")
    assert first.after == (("up.seal", 1440),)
    assert first.room == "down.bath"
    assert first.takes[0].back_with == "down.fixtures"
    assert {decision.key for decision in both.decisions} >= {"up.grout_color", "down.grout_color"}
    assert both.title == "Two baths, one after the other"


def test_rooms_of_the_same_name_are_one_room() -> None:
    one = combine([PlanPart("k", plan("kitchen")), PlanPart("t", plan("stone_top"))])
    assert [room.name for room in one.rooms] == ["Kitchen"]
    assert {phase.room for phase in one.phases} == {"k.kitchen", WHOLE_HOUSE}
    assert {service.service for service in one.rooms[0].services} == {"water", "drain", "sink", "cooktop", "power"}


def test_a_loop_between_parts_is_refused_by_name() -> None:
    with pytest.raises(StartingPlanError, match="a.grout → b.tear_out") as refused:
        combine(
            [PlanPart("a", plan("bath")), PlanPart("b", plan("laundry"))],
            [PartLink("b.tear_out", "a.grout"), PartLink("a.tear_out", "b.connect")],
        )
    assert refused.value.path[0] == "phases"


@pytest.mark.parametrize(
    ("parts", "links"),
    [(["a", "a"], []), (["a", "b"], [PartLink("a.tile", "b.tile")]), (["a", "house"], [])],
)
def test_wrong_combinations_are_refused(parts: list[str], links: list[PartLink]) -> None:
    with pytest.raises(StartingPlanError):
        combine([PlanPart(prefix, plan("laundry")) for prefix in parts], links)


def test_keys_become_the_ids_of_the_project() -> None:
    taken = StartingTake(Take("sink", until=UNTIL_DONE), room="kitchen", back_with="connect")
    assert take_with_ids(taken, {"kitchen": 7}, {"connect": 31}) == Take("sink", room=7, until=UNTIL_DONE, back_with=31)
    assert take_with_ids(StartingTake(Take("water"), WHOLE_HOUSE), {}, {}) == Take("water", house=True)
    assert take_with_ids(StartingTake(Take("dust")), {}, {}) == Take("dust")


def test_a_plan_built_from_a_project_is_checked_too() -> None:
    """Not only files: an earlier project becomes a plan, and must not contradict itself."""
    room = StartingRoom("bath", "Bath")
    with pytest.raises(StartingPlanError, match="lists no toilet"):
        StartingPlan("x", "", "our own work", (room,), (
            StartingPhase("a", "A", 1, 2, 3, "bath", takes=(StartingTake(Take("toilet")),)),
        ))
    with pytest.raises(StartingPlanError, match="below 0"):
        StartingPlan("x", "", "our own work", (), (
            StartingPhase("a", "A", 1, 2, 3), StartingPhase("b", "B", 1, 2, 3, after=(("a", -1),)),
        ))


def test_the_bath_plan_in_a_house_with_one_bath_warns_of_nights_without_a_toilet() -> None:
    """And with a second bath that stays, it doesn't."""
    bath = plan("bath")
    starts = at(CREW, "2026-11-30 08:00")
    done = schedule(Plan(phases_of(bath), CREW, starts), starts)
    rooms = {room.key: number for number, room in enumerate(bath.rooms, 1)}
    ids = {phase.key: number for number, phase in enumerate(bath.phases, 1)}
    times = tuple(
        PhaseTimes(
            ids[phase.key], phase.name, done.of(ids[phase.key]).early_start, done.of(ids[phase.key]).early_finish,
            rooms.get(phase.room), tuple(take_with_ids(one, rooms, ids) for one in phase.takes),
        )
        for phase in bath.phases
    )
    alone = HouseServices((RoomServices(1, "Bath", bath.rooms[0].services),), times, CREW)
    guest = RoomServices(2, "Guest bath", (Service("toilet"), Service("sink")))
    second = HouseServices((*alone.rooms, guest), times, CREW)
    found = shortfalls(alone, CREW.day_of(starts))
    assert "no_toilet" in {one.kind for one in found}
    assert all(one.by_day for one in shortfalls(second, CREW.day_of(starts))), "water is off by day"
