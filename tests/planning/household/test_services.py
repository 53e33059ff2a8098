"""What rooms give and phases take, read strictly."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.household.cure_times import CURE_TIMES
from portal.planning.household.services import (
    BURDENS,
    LONGEST_WAIT,
    NEEDS,
    SERVICES,
    UNTIL_DONE,
    UNTIL_WORK_ENDS,
    HouseholdError,
    Take,
    check_takes,
    read_services,
    read_takes,
    service_json,
    take_json,
)
from tests.planning.homes import BATH, HALL, KITCHEN, rooms

BY_ID = {room.room: room for room in rooms()}


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        ("sink", "takes[0]"),
        ({}, "takes[0].service"),
        ({"service": "kettle"}, "takes[0].service"),
        ({"service": "sink", "until": "tomorrow"}, "takes[0].until"),
        ({"service": "sink", "untill": "done"}, "takes[0].untill"),
        ({"service": "sink", "room": "kitchen"}, "takes[0].room"),
        ({"service": "sink", "room": True}, "takes[0].room"),
        ({"service": "sink", "until": "done", "wait_hours": -1}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "wait_hours": LONGEST_WAIT + 1}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "wait_hours": float("nan")}, "takes[0].wait_hours"),
        ({"service": "sink", "until": "done", "gate": "glue"}, "takes[0].gate"),
        ({"service": "sink", "wait_hours": 24}, "takes[0].wait_hours"),
        ({"service": "sink", "back_with": 4}, "takes[0].back_with"),
        ({"service": "sink", "instead": "x" * 201}, "takes[0].instead"),
    ],
)
def test_a_wrong_take_is_refused_by_its_field(entry: object, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        read_takes([entry])
    assert refused.value.field == field
    assert refused.value.message


@pytest.mark.parametrize(
    ("services", "field"),
    [
        ("sink", "services"),
        (["noise"], "services[0].service"),
        ([{"service": "sink", "colour": "white"}], "services[0].colour"),
        ([{"service": "cooktop", "needs": ["gas"]}], "services[0].needs"),
        (["sink", "sink"], "services[1]"),
    ],
)
def test_wrong_services_are_refused_by_their_field(services: object, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        read_services(services)
    assert refused.value.field == field


def test_a_take_says_where() -> None:
    own, whole, other = read_takes(
        [{"service": "noise"}, {"service": "water", "room": None}, {"service": "toilet", "room": BATH}]
    )
    assert (own.place(KITCHEN), whole.place(KITCHEN), other.place(KITCHEN)) == (KITCHEN, None, BATH)
    assert own.place(None) is None, "a phase of the whole house takes from the whole house"


def test_a_gate_gives_the_wait_and_the_label_governs() -> None:
    gated, labelled = read_takes(
        [
            {"service": "sink", "until": "done", "gate": "silicone"},
            {"service": "sink", "until": "done", "gate": "silicone", "wait_hours": 0.5},
        ]
    )
    assert gated.wait == CURE_TIMES["silicone"].hours * 60
    assert labelled.wait == 30


def test_usual_needs_can_be_replaced() -> None:
    usual, gas = read_services(["cooktop", {"service": "cooktop", "name": "gas cooktop", "needs": ["floor"]}])
    assert usual.relies_on == NEEDS["cooktop"]
    assert gas.relies_on == {"floor"}


@pytest.mark.parametrize(
    ("take", "own_room", "field"),
    [
        (Take("toilet"), KITCHEN, "takes[0].service"),
        (Take("way_through", name="side door"), HALL, "takes[0].service"),
        (Take("sink", room=9), KITCHEN, "takes[0].room"),
        (Take("sink", until=UNTIL_DONE, back_with=9), KITCHEN, "takes[0].back_with"),
    ],
)
def test_what_is_not_there_can_not_be_taken(take: Take, own_room: int, field: str) -> None:
    with pytest.raises(HouseholdError) as refused:
        check_takes([take], own_room, BY_ID, {1, 2})
    assert refused.value.field == field


def test_what_is_there_can_be_taken() -> None:
    takes = [Take("toilet", house=True), Take("way_through", room=HALL, name="back door"), Take("noise"), Take("floor")]
    check_takes(takes, KITCHEN, BY_ID, {1})


def _entries() -> st.SearchStrategy[dict[str, Any]]:
    common = {"service": st.sampled_from((*SERVICES, *BURDENS))}
    where = {"room": st.none() | st.integers(1, 99), "name": st.sampled_from(["", "front door"])}
    lasting = {
        "back_with": st.none() | st.integers(1, 99),
        "gate": st.sampled_from(tuple(CURE_TIMES)), "wait_hours": st.sampled_from([0, 0.25, 24, 25 / 60]),
    }
    return st.one_of(
        st.fixed_dictionaries(common, optional=where),
        st.fixed_dictionaries({**common, "until": st.just(UNTIL_WORK_ENDS)}, optional=where),
        st.fixed_dictionaries(common | {"until": st.just(UNTIL_DONE)}, optional=where | lasting),
    )


@settings(max_examples=50)
@given(st.lists(_entries(), max_size=4))
def test_what_is_written_reads_back_the_same(entries: list[dict[str, Any]]) -> None:
    takes = read_takes(entries)
    assert read_takes([take_json(take) for take in takes]) == takes


def test_services_written_read_back_the_same() -> None:
    for room in rooms():
        assert read_services([service_json(service) for service in room.services]) == room.services
    odd = read_services([{"service": "cooktop", "name": "gas cooktop", "needs": []}, "floor"])
    assert read_services([service_json(service) for service in odd]) == odd
